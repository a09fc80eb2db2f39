interface ChoiceProps {
  readonly id: string;
  readonly label: string;
  /** Empty: not stated. */
  readonly value: string;
  readonly onValue: (value: string | undefined) => void;
  readonly choices: readonly (readonly [value: string, text: string])[];
}

export function Choice({ id, label, value, onValue, choices }: ChoiceProps) {
  return (
    <span className="small-field">
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        value={value}
        onChange={(event) => onValue(event.target.value === '' ? undefined : event.target.value)}
      >
        {choices.map(([choice, text]) => (
          <option key={choice} value={choice}>
            {text}
          </option>
        ))}
      </select>
    </span>
  );
}
