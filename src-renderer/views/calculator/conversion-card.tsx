import { useState } from 'react';
import { conversion, type Dimension, type Unit, unitsOf } from '../../../shared-math/calculator/index.ts';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import { resultText, typedNumber } from './calculations.ts';

const dimensions: readonly (readonly [Dimension, string, string, string])[] = [
  ['length', 'Length', 'in', 'mm'],
  ['force', 'Force', 'lbf', 'kN'],
  ['angle', 'Angle', '″', 'µrad'],
  ['stiffness', 'Stiffness', 'lbf/in', 'N/µm'],
  ['temperatureDifference', 'Difference of temperature', '°F', 'K'],
  ['expansion', 'Expansion', '10⁻⁶/°F', '10⁻⁶/K'],
];

/** A quantity in every unit of its kind. */
export function ConversionCard() {
  const [dimension, setDimension] = useState<Dimension>('length');
  const [text, setText] = useState('1');
  const [unit, setUnit] = useState('in');
  const value = typedNumber(text);
  const all =
    value === null
      ? []
      : unitsOf(dimension).map(
          (one) => [one, conversion(dimension, { value, unit: unit as Unit<Dimension> }, one).value] as const,
        );
  const converted = all.filter(([one]) => one !== unit);
  return (
    <section className="calculator-card panel" aria-label="Units">
      <header>
        <h2>Units</h2>
        <p className="caption">One quantity in every unit of its kind</p>
      </header>
      <div className="calculator-fields">
        <div className="calculator-field">
          <select
            value={dimension}
            aria-label="Kind of quantity"
            onChange={(event) => {
              const found = dimensions.find(([name]) => name === event.target.value);
              if (found === undefined) return;
              setDimension(found[0]);
              setUnit(found[2]);
            }}
          >
            {dimensions.map(([name, title]) => (
              <option key={name} value={name}>
                {title}
              </option>
            ))}
          </select>
          <input
            inputMode="decimal"
            value={text}
            aria-label="Value to convert"
            aria-invalid={value === null}
            onChange={(event) => setText(event.target.value)}
          />
          <select value={unit} aria-label="Unit to convert" onChange={(event) => setUnit(event.target.value)}>
            {unitsOf(dimension).map((one) => (
              <option key={one}>{one}</option>
            ))}
          </select>
        </div>
      </div>
      {value === null ? (
        <p className="calculator-result calculator-fault">Give a number.</p>
      ) : (
        <>
          <dl className="calculator-result conversions">
            {converted.map(([one, result]) => (
              <div key={one}>
                <dd>{resultText(result)}</dd>
                <dt>{one}</dt>
              </div>
            ))}
          </dl>
          <span className="chart-tools">
            <SheetTools
              key={`${text} ${unit}`}
              sheet={{ head: ['value', 'unit'], rows: all.map(([one, result]) => [String(result), one]) }}
              fileName="conversion"
              of="the quantity in every unit"
            />
          </span>
        </>
      )}
    </section>
  );
}
