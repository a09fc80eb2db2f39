import type { ZoneShape } from '../../../shared-math/definition.ts';
import type { StationResult } from '../../../shared-math/result.ts';
import {
  formatLimit,
  formatProbability,
  formatQuantity,
  formatValue,
  type Units,
} from '../../format/format.ts';
import { VerdictMark } from '../../parts/verdict-mark.tsx';

/** As drawings write them; a planar zone has a width and no sign. */
const zoneSign: Record<ZoneShape, string> = { cylindrical: '⌀ ', spherical: 'S⌀ ', planar: '' };

/** The position of the blade and of each check point, with U and the probability that it conforms. */
export function PositionTable({
  station,
  units,
}: {
  readonly station: StationResult;
  readonly units: Units;
}) {
  const { position } = station;
  const { checkPoints } = position;
  const zoneText = ({ zone, tolerance }: (typeof checkPoints)[number]): string =>
    zoneSign[zone] + formatLimit(tolerance, 'size', units);
  const zones = new Set(checkPoints.map(zoneText));
  const [common] = zones.size === 1 ? zones : [];
  return (
    <table className="small-table">
      <caption>
        Position{' '}
        <b className={position.verdict}>
          {formatQuantity(position.value, 'position', units, position.expanded)}
        </b>{' '}
        at {position.at}
        <span className="chance">
          {position.probability === null
            ? 'uncertainty not evaluated'
            : `P(conform) ${formatProbability(position.probability)} %`}
          {common !== undefined && `, tolerance ${common}`}
        </span>
      </caption>
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
            <td className="number">
              {point.value === null ? 'n/o' : formatValue(point.value, 'size', units)}
            </td>
            <td className="number">
              {point.expanded === null ? '–' : formatLimit(point.expanded, 'size', units)}
            </td>
            <td className="number">
              {point.probability === null ? '–' : formatProbability(point.probability)}
            </td>
            {common === undefined && (
              <td className="number" title={`${point.zone} zone`}>
                {zoneText(point)}
              </td>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
