import { useId } from 'react';

interface SegmentedProps<T extends string> {
  readonly title: string;
  readonly choices: readonly (readonly [value: T, text: string, spoken?: string])[];
  readonly value: T;
  readonly onChange: (value: T) => void;
}

/** A row of radio buttons drawn as one switch; arrow keys work because they are radio buttons. */
export function Segmented<T extends string>({ title, choices, value, onChange }: SegmentedProps<T>) {
  const name = useId();
  return (
    <fieldset className="segmented" aria-label={title}>
      {choices.map(([choice, text, spoken]) => (
        <label key={choice} title={spoken ?? text}>
          <input
            type="radio"
            name={name}
            value={choice}
            checked={choice === value}
            onChange={() => onChange(choice)}
            aria-label={spoken ?? text}
          />
          {text}
        </label>
      ))}
    </fieldset>
  );
}
