import { useId, useState } from 'react';
import { MATERIALS, unitsOf } from '../../../shared-math/calculator/index.ts';
import { ReductionError } from '../../../shared-math/errors.ts';
import { copyText } from '../../parts/download.ts';
import {
  type CalculatorCard as Card,
  type Field,
  positionUsed,
  resultText,
  typedNumber,
} from './calculations.ts';

/** One formula with its fields; what it gives follows every key. */
export function CalculatorCard({ card }: { readonly card: Card }) {
  const [texts, setTexts] = useState(() =>
    Object.fromEntries(card.fields.map(({ key, value }) => [key, value])),
  );
  const [units, setUnits] = useState(() =>
    Object.fromEntries(card.fields.map(({ key, unit }) => [key, unit])),
  );
  const [unit, setUnit] = useState(card.resultUnits[0] ?? '');
  const [note, setNote] = useState('');
  const outcome = outcomeOf(card, texts, units, unit);
  const id = useId();
  return (
    <section className="calculator-card panel" aria-label={card.title}>
      <header>
        <h2>{card.title}</h2>
        <p className="caption">{card.purpose}</p>
      </header>
      <div className="calculator-fields">
        {card.fields.map((field) => (
          <FieldRow
            key={field.key}
            field={field}
            text={texts[field.key] ?? ''}
            unit={units[field.key] ?? field.unit}
            onText={(text) => setTexts((now) => ({ ...now, [field.key]: text }))}
            onUnit={(next) => setUnits((now) => ({ ...now, [field.key]: next }))}
          />
        ))}
      </div>
      <div className="calculator-result" role="status">
        {'words' in outcome ? (
          <p className="calculator-fault">{outcome.words}</p>
        ) : (
          <>
            <p className="caption" id={id}>
              {card.resultName}
            </p>
            <p className="calculator-figure">
              <output aria-labelledby={id}>{resultText(outcome.value)}</output>
              <select
                value={unit}
                aria-label={`Unit of ${card.resultName.toLowerCase()}`}
                onChange={(event) => setUnit(event.target.value)}
              >
                {card.resultUnits.map((one) => (
                  <option key={one}>{one}</option>
                ))}
              </select>
              <button
                type="button"
                className="button quiet tool"
                aria-label={`Copy ${card.resultName.toLowerCase()} and its steps`}
                onClick={() =>
                  void copyText(
                    [outcome.formula, ...outcome.steps, ...positionLines(card, outcome)].join('\n'),
                  ).then((copied) => setNote(copied ? 'copied' : 'not allowed'))
                }
              >
                Copy
              </button>
              <span className="tool-note">{note}</span>
            </p>
            {card.displaces && (
              <p className="calculator-position">
                uses up <b>{resultText(positionUsed(outcome).value)}</b> {outcome.unit} of position where it
                lies across the stacking axis
              </p>
            )}
            <p className="formula">{outcome.formula}</p>
            <ol className="calculator-steps">
              {outcome.steps.map((step) => (
                <li key={step}>{step}</li>
              ))}
            </ol>
          </>
        )}
      </div>
    </section>
  );
}

function positionLines(card: Card, outcome: Parameters<typeof positionUsed>[0]): readonly string[] {
  return card.displaces ? positionUsed(outcome).steps : [];
}

function outcomeOf(
  card: Card,
  texts: Readonly<Record<string, string>>,
  units: Readonly<Record<string, string>>,
  unit: string,
) {
  const quantities: Record<string, { value: number; unit: string }> = {};
  for (const { key, name } of card.fields) {
    const value = typedNumber(texts[key] ?? '');
    if (value === null) return { words: `Give a number for ${name.toLowerCase()}.` };
    quantities[key] = { value, unit: units[key] ?? '' };
  }
  try {
    return card.calculate(quantities, unit);
  } catch (error) {
    if (error instanceof ReductionError) return { words: error.message };
    throw error;
  }
}

interface FieldRowProps {
  readonly field: Field;
  readonly text: string;
  readonly unit: string;
  readonly onText: (text: string) => void;
  readonly onUnit: (unit: string) => void;
}

function FieldRow({ field, text, unit, onText, onUnit }: FieldRowProps) {
  const id = useId();
  return (
    <div className="calculator-field">
      <label htmlFor={id}>
        <i>{field.symbol}</i> {field.name}
      </label>
      <input
        id={id}
        inputMode="decimal"
        value={text}
        aria-invalid={typedNumber(text) === null}
        onChange={(event) => onText(event.target.value)}
      />
      <select
        value={unit}
        aria-label={`Unit of ${field.name.toLowerCase()}`}
        onChange={(event) => onUnit(event.target.value)}
      >
        {unitsOf(field.dimension).map((one) => (
          <option key={one}>{one}</option>
        ))}
      </select>
      {field.dimension === 'expansion' && (
        <select
          className="materials"
          value=""
          aria-label="Take the expansion of a material"
          onChange={(event) => {
            const material = MATERIALS.find(({ name }) => name === event.target.value);
            if (material === undefined) return;
            onText(String(material.expansion));
            onUnit('10⁻⁶/K');
          }}
        >
          <option value="">take a typical material …</option>
          {MATERIALS.map(({ name, expansion, source }) => (
            <option key={name} value={name} title={source}>
              {name}: {expansion} · 10⁻⁶/K
            </option>
          ))}
        </select>
      )}
    </div>
  );
}
