import { useId, useState } from 'react';
import { isBlock, listAt, valueAt } from '../draft.ts';
import { FieldGrid } from '../fields/field-view.tsx';
import { parseNumber } from '../fields/number-text.ts';
import { type Field, limitFields, positionFields, seatFields } from '../fields.ts';
import { usePlanContext } from '../plan-context.tsx';
import { CheckPoints } from './check-points.tsx';

/** Fields of the blade as fields of a station that differs. */
function ownFields(fields: readonly Field[], station: number): readonly Field[] {
  return fields.map((field) => ({ ...field, path: field.path.replace(/^blade\./, `overrides.${station}.`) }));
}

/** Chooses a station, and shows everything that it can have of its own. */
export function OneStation({ count }: { readonly count: number }) {
  const id = useId();
  const [typed, setTyped] = useState('1');
  const number = parseNumber(typed);
  const station =
    typeof number === 'number' && Number.isInteger(number) && number >= 1 && number <= count ? number : null;
  return (
    <details className="one-station">
      <summary>Everything that a single station can have of its own</summary>
      <div className="row-buttons">
        <label htmlFor={id}>Station</label>
        <span className="with-unit">
          <input
            id={id}
            type="text"
            inputMode="numeric"
            value={typed}
            aria-invalid={station === null}
            onChange={(event) => setTyped(event.target.value)}
          />
          <span className="unit">of {count}</span>
        </span>
      </div>
      {station !== null && <OwnValues key={station} station={station} />}
    </details>
  );
}

function OwnValues({ station }: { readonly station: number }) {
  const { draft, put } = usePlanContext();
  const path = ['overrides', String(station)];
  const points = [...path, 'position', 'checkPoints'];
  return (
    <>
      {isBlock(valueAt(draft, path)) && (
        <button type="button" className="button" onClick={() => put(path, undefined)}>
          Make it as all others
        </button>
      )}
      <FieldGrid fields={ownFields([...seatFields, ...positionFields], station)} />
      {listAt(draft, points).length > 0 ? (
        <CheckPoints owner={[...path, 'position']} />
      ) : (
        <button
          type="button"
          className="button"
          onClick={() => put(points, listAt(draft, ['blade', 'position', 'checkPoints']))}
        >
          Own check points
        </button>
      )}
      <h3>Own limits (they replace all limits of the blade)</h3>
      <FieldGrid fields={ownFields(limitFields, station)} />
    </>
  );
}
