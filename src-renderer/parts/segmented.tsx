import { useId } from 'react';

interface SegmentedProps<T extends string> {
  readonly title: string;
  readonly choices: readonly (readonly [value: T, text: string, spoken?: string])[];
  readonly value: T;
  readonly onChange: (value: T) => void;
}

/** Words that are seen are part of the name, so that they can be spoken to a computer (WCAG 2.5.3). */
function nameOf(text: string, spoken: string | undefined): string {
  if (spoken === undefined || spoken.toLowerCase().includes(text.toLowerCase())) return spoken ?? text;
  return /\p{L}{2}|\d/u.test(text) ? `${text}, ${spoken}` : spoken;
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
            aria-label={nameOf(text, spoken)}
          />
          {text}
        </label>
      ))}
    </fieldset>
  );
}
