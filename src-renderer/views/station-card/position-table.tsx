import type { ZoneShape } from '../../../shared-math/definition.ts';
import {
  formatJudged,
  formatLimit,
  formatProbability,
  formatQuantity,
  formatValue,
  type Units,
} from '../../format/format.ts';
import type { StationView } from '../../format/station-view.ts';
import { VerdictMark } from '../../parts/verdict-mark.tsx';
import { LevelsTable } from './levels-table.tsx';

/** As drawings write them; a planar zone has a width and no sign. */
const zoneSign: Record<ZoneShape, string> = { cylindrical: '⌀ ', spherical: 'S⌀ ', planar: '' };

/** The position of the blade and of each check point, with U and the probability that it conforms; both levels where there are two. */
export function PositionTable({
  station,
  units,
  needed,
}: {
  readonly station: StationView;
  readonly units: Units;
  /** Probability that the decision rule asks for. */
  readonly needed: number | null;
}) {
  const { position, relative = null } = station;
  const { checkPoints } = position;
  const heldAgainst = (tolerance: number): readonly (number | null)[] =>
    checkPoints.flatMap((point) => (point.tolerance === tolerance ? [point.value] : []));
  const zoneText = ({ zone, tolerance }: (typeof checkPoints)[number]): string =>
    zoneSign[zone] + formatLimit(tolerance, 'size', units, heldAgainst(tolerance));
  const zones = new Set(checkPoints.map(zoneText));
  const [common] = zones.size === 1 ? zones : [];
  const relativeValue = (name: string): number | null =>
    relative?.checkPoints.find((point) => point.name === name)?.value ?? null;
  return (
    <>
      {relative !== null && (
        <LevelsTable position={position} relative={relative} units={units} needed={needed} />
      )}
      <table className="small-table">
        {relative === null && (
          <caption>
            Position{' '}
            <b className={position.verdict}>
              {formatQuantity(position.value, 'position', units, position.expanded, position.tolerance)}
            </b>{' '}
            at {position.at}
            <span className="chance">
              {position.probability === null
                ? 'uncertainty not evaluated'
                : `P(conform) ${formatProbability(position.probability, needed)} %`}
              {common !== undefined && `, tolerance ${common}`}
            </span>
          </caption>
        )}
        <thead>
          <tr>
            <th scope="col">check point</th>
            <th scope="col">position</th>
            <th scope="col" title="Upper bound minus the value">
              + U
            </th>
            <th scope="col" title="Probability that the point conforms">
              P, %
            </th>
            {common === undefined && <th scope="col">tolerance</th>}
            {relative !== null && (
              <th scope="col" title="Position relative to each other">
                relative
              </th>
            )}
          </tr>
        </thead>
        <tbody>
          {checkPoints.map((point) => (
            <tr key={point.name}>
              <th scope="row">
                <VerdictMark standing={point.verdict} />
                {point.name}
                <span className="unseen"> {point.verdict}</span>
              </th>
              <td className="number">{sizeText(point.value, units, point.tolerance)}</td>
              <td className="number">
                {point.expanded === null ? '–' : formatValue(point.expanded, 'size', units)}
              </td>
              <td className="number">
                {point.probability === null ? '–' : formatProbability(point.probability, needed)}
              </td>
              {common === undefined && (
                <td className="number" title={`${point.zone} zone`}>
                  {zoneText(point)}
                </td>
              )}
              {relative !== null && (
                <td className="number">{sizeText(relativeValue(point.name), units, relative.tolerance)}</td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

function sizeText(value: number | null, units: Units, tolerance: number): string {
  return value === null ? 'n/o' : formatJudged(value, 'size', units, tolerance);
}
