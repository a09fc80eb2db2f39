import { Fragment, useId } from 'react';
import { parsePath, pathText, valueAt } from '../draft.ts';
import { NumberInput } from '../fields/number-input.tsx';
import { adjustmentFields, type NumberField } from '../fields.ts';
import { usePlanContext } from '../plan-context.tsx';

/** Limit and step of one freedom stand behind each other in the catalogue. */
const pairs = adjustmentFields.flatMap((field, at): readonly (readonly [NumberField, NumberField])[] => {
  const step = adjustmentFields[at + 1];
  return at % 2 === 0 && step !== undefined ? [[field, step]] : [];
});

/** How far, and in which steps, each setting can be changed before the next disc. */
export function Adjustments() {
  const { draft, put, problemsUnder } = usePlanContext();
  const id = useId();
  return (
    <div className="table-scroll">
      <table className="station-grid">
        <thead>
          <tr>
            <th scope="col">Setting</th>
            <th scope="col" title="Largest setting either way; without it there is no bound">
              At most, ±
            </th>
            <th scope="col" title="Smallest step of the setting; without it there is none">
              In steps of
            </th>
            <th scope="col">Unit</th>
          </tr>
        </thead>
        <tbody>
          {pairs.map(([limit, step]) => {
            const name = limit.label.replace(/, at most$/, '');
            const owner = pathText(parsePath(limit.path).slice(0, -1));
            const problems = problemsUnder(owner);
            return (
              <Fragment key={limit.path}>
                <tr className={problems.length === 0 ? '' : 'faulty'}>
                  <th scope="row">{name}</th>
                  {[limit, step].map((field) => (
                    <td key={field.path}>
                      <NumberInput
                        id={`${id}-${field.path}`}
                        label={field.label}
                        unit={field.unit}
                        value={valueAt(draft, parsePath(field.path))}
                        onValue={(next) => put(parsePath(field.path), next)}
                        isFaulty={problemsUnder(field.path).length > 0}
                      />
                    </td>
                  ))}
                  <td className="unit">{limit.unit}</td>
                </tr>
                {problems.length > 0 && (
                  <tr className="row-fault">
                    <td />
                    <td colSpan={3} className="field-fault">
                      {problems.map(({ message }) => message).join(' ')}
                    </td>
                  </tr>
                )}
              </Fragment>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
