import { BLADE_AXES, DISC_AXES } from '../../../../shared-math/frame/axis-names.ts';
import {
  describeDatumSystem,
  type FreedomShares,
} from '../../../../shared-math/frame/describe-datum-system.ts';
import { placeKey } from '../draft.ts';
import type { DatumSketch } from '../nominal.ts';

interface FreedomTableProps {
  readonly owner: 'disc' | 'blade';
  readonly sketches: readonly DatumSketch[];
}

const axes = { disc: ['X', 'Y', 'Z'], blade: ['o', 'l', 'u'] } as const;
const columns = [
  ['translations', 0],
  ['translations', 1],
  ['translations', 2],
  ['rotations', 0],
  ['rotations', 1],
  ['rotations', 2],
] as const;

/** Shares below this are rounding. */
const NOTHING = 1e-6;

export function describeSketches(owner: 'disc' | 'blade', sketches: readonly DatumSketch[]) {
  const complete = sketches.flatMap(({ datum }) => (datum === null ? [] : [datum]));
  return describeDatumSystem(complete, owner === 'disc' ? DISC_AXES : BLADE_AXES);
}

/** Who fixes what: a row for each datum in its order, a column for each of the six freedoms, and what stays open. */
export function FreedomTable({ owner, sketches }: FreedomTableProps) {
  const system = describeSketches(owner, sketches);
  let at = 0;
  const rows = sketches.map((sketch) => ({
    sketch,
    effect: sketch.datum === null ? null : (system.datums[at++] ?? null),
  }));
  const value = (shares: FreedomShares, column: (typeof columns)[number]): number =>
    shares[column[0]][column[1]];
  const name = (column: (typeof columns)[number]): string =>
    `${column[0] === 'translations' ? 'along' : 'about'} ${axes[owner][column[1]]}`;
  return (
    <div className="freedoms">
      <table>
        <caption className="unseen">Which datum fixes which freedom</caption>
        <thead>
          <tr>
            <th scope="col">Datum</th>
            {columns.map((column) => (
              <th key={name(column)} scope="col" title={name(column)}>
                <span aria-hidden="true">{column[0] === 'translations' ? '→' : '↻'}</span>{' '}
                {axes[owner][column[1]]}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ sketch, effect }, index) => (
            <tr key={placeKey(index)}>
              <th scope="row">
                <span className="letter">{sketch.label === '' ? '?' : sketch.label}</span>
              </th>
              {columns.map((column) => {
                const taken = effect === null ? 0 : value(effect.takes, column);
                const before = effect === null ? 1 : value(effect.openBefore, column);
                const state =
                  effect === null
                    ? 'unknown'
                    : taken > NOTHING
                      ? 'taken'
                      : before > NOTHING
                        ? 'open'
                        : 'fixed';
                return (
                  <td key={name(column)} className={state} title={cellText(state, name(column), taken)}>
                    <span className="unseen">{cellText(state, name(column), taken)}</span>
                    <i aria-hidden="true" className={state === 'taken' && taken < 0.999 ? 'part' : ''} />
                  </td>
                );
              })}
            </tr>
          ))}
          <tr className="result">
            <th scope="row">Open</th>
            {columns.map((column) => {
              const isOpen = value(system.open, column) > NOTHING;
              return (
                <td key={name(column)} className={isOpen ? 'left' : 'done'}>
                  <span className="unseen">{isOpen ? 'open' : 'fixed'}</span>
                  <i aria-hidden="true" />
                </td>
              );
            })}
          </tr>
        </tbody>
      </table>
      <p className={system.openWords.length === 0 ? 'verdict complete' : 'verdict'} role="status">
        {sketches.length === 0
          ? 'All six freedoms are open: add the first datum.'
          : system.openWords.length === 0
            ? 'All six freedoms are fixed.'
            : `Still open: ${system.openWords.join('; ')}.`}
      </p>
    </div>
  );
}

function cellText(state: string, name: string, taken: number): string {
  if (state === 'taken') return taken < 0.999 ? `fixes part of ${name}` : `fixes ${name}`;
  if (state === 'open') return `leaves ${name} open`;
  if (state === 'fixed') return `${name} is fixed already`;
  return 'incomplete';
}
