import type { ReactNode } from 'react';
import type { PositionResult } from '../../../shared-math/result.ts';
import {
  formatJudged,
  formatLimit,
  formatProbability,
  formatValue,
  type Units,
  unitSymbol,
} from '../../format/format.ts';
import { levelNames, type RelativePosition } from '../../format/station-view.ts';
import { VerdictMark } from '../../parts/verdict-mark.tsx';

/** Position relative to the hub and relative to each other, side by side. */
export function LevelsTable({
  position,
  relative,
  units,
  needed,
}: {
  readonly position: PositionResult;
  readonly relative: RelativePosition;
  readonly units: Units;
  readonly needed: number | null;
}) {
  const rows: readonly (readonly [string, (level: PositionResult | RelativePosition) => ReactNode])[] = [
    [
      'position',
      ({ value, tolerance, verdict }) => (
        <>
          <VerdictMark standing={verdict} />
          <b className={verdict}>{value === null ? 'n/o' : formatJudged(value, 'size', units, tolerance)}</b>
          <span className="unseen"> {verdict}</span>
        </>
      ),
    ],
    ['+ U', ({ expanded }) => (expanded === null ? '–' : formatValue(expanded, 'size', units))],
    [
      'P(conform), %',
      ({ probability }) => (probability === null ? '–' : formatProbability(probability, needed)),
    ],
    ['tolerance', ({ tolerance, value }) => formatLimit(tolerance, 'size', units, [value])],
    ['at', ({ at }) => at ?? '–'],
  ];
  return (
    <table className="small-table levels">
      <caption>Position, {unitSymbol('length', units)}, relative to</caption>
      <thead>
        <tr>
          <td />
          <th scope="col" title={levelNames.hub}>
            the hub
          </th>
          <th scope="col" title={levelNames.eachOther}>
            each other
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(([title, text]) => (
          <tr key={title}>
            <th scope="row">{title}</th>
            <td className="number">{text(position)}</td>
            <td className="number">{text(relative)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
