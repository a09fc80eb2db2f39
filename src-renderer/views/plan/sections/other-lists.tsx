import { useId } from 'react';
import { listAt, type Path, pathText, placeKey, textAt, valueAt } from '../draft.ts';
import { NumberInput } from '../fields/number-input.tsx';
import { useFocusOnAdded } from '../focus.ts';
import { usePlanContext } from '../plan-context.tsx';

const keys = [
  ['number', 'Number', 'Balloon number of the drawing'],
  ['reference', 'Reference', 'Sheet and zone'],
  ['quantity', 'Quantity', 'What it judges, such as position'],
  ['requirement', 'Requirement', 'As it stands on the drawing'],
] as const;

/** Balloon numbers of the drawing, for the table of the report. */
export function Characteristics() {
  const { draft, put, problemsUnder } = usePlanContext();
  const rows = listAt(draft, ['characteristics']);
  const [list, adding] = useFocusOnAdded<HTMLTableSectionElement>(rows.length);
  return (
    <section className="block">
      <p className="block-hint">
        Numbers of the drawing’s characteristics, so that the report can account for them one by one. Nothing
        else depends on them.
      </p>
      {rows.length > 0 && (
        <div className="table-scroll">
          <table className="station-grid texts">
            <thead>
              <tr>
                {keys.map(([key, title, hint]) => (
                  <th key={key} scope="col" title={hint}>
                    {title}
                  </th>
                ))}
                <td />
              </tr>
            </thead>
            <tbody ref={list}>
              {rows.map((row, index) => (
                <tr
                  key={placeKey(index)}
                  className={problemsUnder(`characteristics[${index}]`).length > 0 ? 'faulty' : ''}
                >
                  {keys.map(([key, title]) => (
                    <td key={key}>
                      <input
                        type="text"
                        aria-label={`${title} of characteristic ${index + 1}`}
                        value={textAt(row, [key])}
                        onChange={(event) =>
                          put(
                            ['characteristics', index, key],
                            event.target.value === '' && key !== 'number' ? undefined : event.target.value,
                          )
                        }
                      />
                    </td>
                  ))}
                  <td>
                    <button
                      type="button"
                      className="button quiet"
                      aria-label={`Remove characteristic ${index + 1}`}
                      onClick={() => put(['characteristics', index], undefined)}
                    >
                      Remove
                    </button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <div className="row-buttons">
        <button
          type="button"
          className="button"
          onClick={() => {
            adding();
            put(['characteristics', rows.length], { number: String(rows.length + 1) });
          }}
        >
          + Characteristic
        </button>
      </div>
    </section>
  );
}

/** Lines of the budget that no point can show. */
export function OtherBudgetLines() {
  const { draft, put, problemsUnder } = usePlanContext();
  const id = useId();
  const path: Path = ['budget', 'others'];
  const rows = listAt(draft, path);
  const [list, adding] = useFocusOnAdded<HTMLOListElement>(rows.length);
  return (
    <section className="block">
      <h3>Lines that no point can show</h3>
      <p className="block-hint">
        Deflection, clamping, thermal growth: what is allocated, and what is known from elsewhere. mm of
        position.
      </p>
      <ol className="rows" ref={list}>
        {rows.map((row, index) => (
          <li
            key={placeKey(index)}
            className={problemsUnder(pathText([...path, index])).length > 0 ? 'faulty' : ''}
          >
            <span className="small-field">
              <label htmlFor={`${id}-${index}`}>Name</label>
              <input
                id={`${id}-${index}`}
                type="text"
                value={textAt(row, ['name'])}
                onChange={(event) => put([...path, index, 'name'], event.target.value)}
              />
            </span>
            {(['allocated', 'found'] as const).map((key) => (
              <span key={key} className="small-field">
                <label htmlFor={`${id}-${index}-${key}`}>{key === 'allocated' ? 'Allocated' : 'Found'}</label>
                <span className="with-unit">
                  <NumberInput
                    id={`${id}-${index}-${key}`}
                    value={valueAt(row, [key])}
                    onValue={(next) => put([...path, index, key], next)}
                  />
                  <span className="unit">mm</span>
                </span>
              </span>
            ))}
            <button
              type="button"
              className="button quiet"
              aria-label={`Remove line ${index + 1}`}
              onClick={() => put([...path, index], undefined)}
            >
              Remove
            </button>
          </li>
        ))}
      </ol>
      <div className="row-buttons">
        <button
          type="button"
          className="button"
          onClick={() => {
            adding();
            put([...path, rows.length], { name: '' });
          }}
        >
          + Line
        </button>
      </div>
    </section>
  );
}
