import type { PatternFreedom } from '../../../shared-math/definition.ts';
import type { PatternResult } from '../../../shared-math/result.ts';
import {
  formatLimitWithUnit,
  formatProbability,
  formatQuantity,
  formatWithUnit,
  standingText,
  type Units,
} from '../../format/format.ts';
import { VerdictMark } from '../../parts/verdict-mark.tsx';

const motions: readonly (readonly [PatternFreedom, string])[] = [
  ['x', 'along x'],
  ['y', 'along y'],
  ['z', 'along z, the axis'],
  ['rotX', 'tilt about x'],
  ['rotY', 'tilt about y'],
  ['rotZ', 'clocking about z'],
];

/** How the blades stand to each other: the verdict, the motion of their zones, and the check points that hold it. */
export function Pattern({
  pattern,
  units,
  needed,
}: {
  readonly pattern: PatternResult;
  readonly units: Units;
  /** Probability that the decision rule asks for. */
  readonly needed: number | null;
}) {
  const { at, contacts, expanded, probability, tolerance, value, verdict } = pattern;
  const lines: readonly (readonly [string, string])[] = [
    [
      'Position',
      formatQuantity(value, 'relative', units, expanded, tolerance) +
        (at === null ? '' : ` at station ${at.station}, ${at.checkPoint}`),
    ],
    ['Tolerance', formatLimitWithUnit(tolerance, 'length', units, [value])],
    [
      'P(conform)',
      probability === null ? 'uncertainty not evaluated' : `${formatProbability(probability, needed)} %`,
    ],
  ];
  return (
    <>
      <p className="reading-sentence">
        The zones of all blades are moved as one against the hub, so that the largest position is as small as
        can be.
      </p>
      <table className="list-table">
        <tbody>
          <tr>
            <th scope="row">Verdict</th>
            <td className="pattern-verdict">
              <VerdictMark standing={verdict} /> {standingText[verdict]}
            </td>
          </tr>
          {lines.map(([title, text]) => (
            <tr key={title}>
              <th scope="row">{title}</th>
              <td>{text}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <Motion pattern={pattern} units={units} />
      {contacts.length > 0 && (
        <>
          <h3>Check points that hold the zones there</h3>
          <table className="list-table">
            <thead>
              <tr>
                <th scope="col">station</th>
                <th scope="col">check point</th>
                <th scope="col" className="number">
                  share of the hold
                </th>
              </tr>
            </thead>
            <tbody>
              {contacts.map(({ station, checkPoint, share }) => (
                <tr key={`${station} ${checkPoint}`}>
                  <td>{station}</td>
                  <td>{checkPoint}</td>
                  <td className="number">{formatProbability(share)} %</td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
    </>
  );
}

/** The motion of the zones, with the least-squares one beside it. */
function Motion({ pattern, units }: { readonly pattern: PatternResult; readonly units: Units }) {
  const { free, leastSquares, motion, tolerance, undetermined, value } = pattern;
  const shown = (name: PatternFreedom, of: PatternResult['motion']): string => {
    if (!free.includes(name)) return 'held';
    if (undetermined.includes(name)) return 'seen by no zone';
    return formatWithUnit(of[name], name.startsWith('rot') ? 'rotation' : 'length', units);
  };
  return (
    <>
      <h3>Motion of the zones against the hub</h3>
      <table className="list-table">
        <thead>
          <tr>
            <td />
            <th scope="col" className="number">
              as judged
            </th>
            {leastSquares !== null && (
              <th scope="col" className="number">
                least squares, for comparison
              </th>
            )}
          </tr>
        </thead>
        <tbody>
          {motions.map(([name, title]) => (
            <tr key={name}>
              <th scope="row">{title}</th>
              <td className="number">{shown(name, motion)}</td>
              {leastSquares !== null && <td className="number">{shown(name, leastSquares.motion)}</td>}
            </tr>
          ))}
          <tr>
            <th scope="row">largest position</th>
            <td className="number">{formatQuantity(value, 'relative', units, null, tolerance)}</td>
            {leastSquares !== null && (
              <td className="number">
                {formatQuantity(leastSquares.value, 'relative', units, null, tolerance)}
              </td>
            )}
          </tr>
        </tbody>
      </table>
    </>
  );
}
