import { useId, useState } from 'react';
import type { PointsPreview } from '../../../src-main/api.ts';

interface LabelPatternProps {
  readonly preview: PointsPreview;
  readonly onPattern: (pattern: string | undefined) => void;
}

/** How a label is taken apart: common patterns with what they make of a label of this file, or one's own. */
export function LabelPattern({ preview, onPattern }: LabelPatternProps) {
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const pattern = preview.taken.label ?? '';
  const isPacked = (preview.taken.columns?.['label'] ?? null) !== null;
  const groups = isPacked ? ['station', 'feature'] : ['station'];
  return (
    <fieldset className="label-pattern">
      <legend>
        {isPacked ? 'Labels hold station and feature' : 'Stations are written with a prefix'}{' '}
        <em>{preview.stated.includes('label') ? 'as stated' : 'detected'}</em>
      </legend>
      <div className="pattern-choices">
        {preview.patterns.map((choice) => (
          <label key={choice.pattern} className={choice.pattern === pattern ? 'chosen' : ''}>
            <input
              type="radio"
              name={id}
              checked={choice.pattern === pattern}
              onChange={() => onPattern(choice.pattern)}
            />
            <span>
              <b>{choice.example.label}</b> is station {choice.example.station}
              {isPacked && `, ${choice.example.feature}`}
            </span>
            <small>
              fits {choice.matched} of {choice.labels} {isPacked ? 'labels' : 'station cells'}
            </small>
          </label>
        ))}
      </div>
      <details>
        <summary>Another pattern</summary>
        <span className="own-pattern">
          <label htmlFor={`${id}-own`}>
            Regular expression with the {isPacked ? 'groups station and feature' : 'group station'}
          </label>
          <input
            id={`${id}-own`}
            type="text"
            spellCheck={false}
            value={typed ?? pattern}
            aria-invalid={typed !== null && !isPattern(typed, groups)}
            onChange={(event) => {
              setTyped(event.target.value);
              if (isPattern(event.target.value, groups)) onPattern(event.target.value);
            }}
          />
        </span>
      </details>
    </fieldset>
  );
}

function isPattern(text: string, needed: readonly string[]): boolean {
  try {
    const groups = new RegExp(`${text}|`).exec('')?.groups ?? {};
    return needed.every((group) => group in groups);
  } catch {
    return false;
  }
}
