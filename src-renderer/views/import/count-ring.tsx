import type { PointsPreview } from '../../../src-main/api.ts';
import { formatCount } from '../../format/format.ts';
import { ScrollRegion } from '../../parts/scroll-region.tsx';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import { countGrid, countSheet, gapWords } from './mapping.ts';

interface CountRingProps {
  readonly preview: PointsPreview;
  /** Where the plan tells it already. */
  readonly stations: number | null;
  readonly isClockwise: boolean;
}

const INNER = 48;
const OUTER = 120;
/** With more sectors than this there is no room for figures. */
const MOST_FIGURES = 26;

/** Points of each feature at each station as a grid around the disc: gaps and strays stand out. */
export function CountRing({ preview, stations, isClockwise }: CountRingProps) {
  const grid = countGrid(preview, stations);
  const gaps = gapWords(grid);
  const strays = preview.counts.filter(({ standing }) => standing === 'stray');
  const count = grid.stations.length;
  const step = count === 0 ? 0 : (2 * Math.PI) / count;
  const depth = (OUTER - INNER) / Math.max(1, grid.features.length);
  const turn = isClockwise ? -1 : 1;
  const angleOf = (station: number): number => turn * (station - 1) * step;
  return (
    <figure className="count-ring">
      <figcaption>
        <h3>Points around the disc</h3>
        <p>
          {count === 0
            ? 'No station is recognised yet.'
            : `${count} stations × ${grid.features.length} ${grid.features.length === 1 ? 'feature' : 'features'}, ${formatCount(preview.points)} of ${formatCount(preview.rows)} rows hold a point.`}
        </p>
      </figcaption>
      {count > 0 && (
        <svg
          viewBox="-150 -150 300 300"
          role="img"
          aria-label={`Points per station and feature: ${grid.gaps.length} gaps`}
        >
          {grid.features.map((feature, ring) =>
            grid.stations.map((station) => {
              const points = grid.count(station, feature);
              const [from, to] = [INNER + ring * depth + 1, INNER + (ring + 1) * depth - 1];
              const middle = angleOf(station);
              const [x, y] = [((from + to) / 2) * Math.cos(middle), -((from + to) / 2) * Math.sin(middle)];
              return (
                <g key={`${station} ${feature}`}>
                  <path
                    d={sector(from, to, middle - step * 0.46, middle + step * 0.46)}
                    className={points === 0 ? 'cell gap' : 'cell'}
                    fillOpacity={points === 0 ? 1 : 0.25 + (0.75 * points) / grid.most}
                  >
                    <title>{`Station ${station}, ${feature}: ${points === 0 ? 'no point' : `${points} points`}`}</title>
                  </path>
                  {points === 0 ? (
                    <path d={`M${x - 3} ${y - 3}l6 6m0 -6l-6 6`} className="gap-mark" />
                  ) : (
                    count <= MOST_FIGURES &&
                    depth > 13 && (
                      <text
                        x={x}
                        y={y + 3}
                        className={points / grid.most > 0.55 ? 'figure strong' : 'figure'}
                      >
                        {points}
                      </text>
                    )
                  )}
                </g>
              );
            }),
          )}
          {grid.stations.map((station) => {
            if (count > 40 && station % 5 !== 0 && station !== 1) return null;
            const angle = angleOf(station);
            const isGap = grid.gaps.some((gap) => gap.station === station);
            return (
              <text
                key={station}
                x={134 * Math.cos(angle)}
                y={-134 * Math.sin(angle) + 3.5}
                className={isGap ? 'station gap' : 'station'}
              >
                {station}
              </text>
            );
          })}
          <circle r={INNER - 6} className="hub" />
          <text y="-3" className="hub-text">
            hub
          </text>
          <text y="13" className="hub-count">
            {grid.hub.reduce((sum, { count: points }) => sum + points, 0)}
          </text>
        </svg>
      )}
      <dl className="ring-legend">
        {grid.features.length > 0 && (
          <div>
            <dt>Rings, from inside</dt>
            <dd>{grid.features.join(', ')}</dd>
          </div>
        )}
        <div>
          <dt>Hub</dt>
          <dd>
            {grid.hub.length === 0
              ? 'no feature'
              : grid.hub.map(({ feature, count: points }) => `${feature} (${points})`).join(', ')}
          </dd>
        </div>
        <div className={grid.gaps.length > 0 ? 'attention' : ''}>
          <dt>Gaps</dt>
          <dd>
            {grid.gaps.length === 0
              ? 'none'
              : `${gaps.slice(0, 6).join('; ')}${gaps.length > 6 ? ` and ${gaps.length - 6} more` : ''}`}
          </dd>
        </div>
        <div className={strays.length > 0 ? 'attention' : ''}>
          <dt>Strays</dt>
          <dd>
            {strays.length === 0 ? (
              'none'
            ) : (
              <ul>
                {strays.slice(0, 6).map(({ station, feature, count: points, line, reason }) => (
                  <li key={`${station} ${feature} ${line}`}>
                    {`${station === null ? '' : `station ${station}, `}${feature === '' ? 'no feature' : shortened(feature)}: ${points} ${points === 1 ? 'point' : 'points'} from line ${line}: ${reason}`}
                  </li>
                ))}
                {strays.length > 6 && <li>and {strays.length - 6} more</li>}
              </ul>
            )}
          </dd>
        </div>
      </dl>
      {count > 0 && (
        <details>
          <summary>As a table</summary>
          <p className="table-tools">
            <SheetTools sheet={countSheet(grid)} fileName="points-per-station" of="the counts of points" />
          </p>
          <ScrollRegion className="table-scroll" label="Points per station and feature">
            <table className="count-table">
              <thead>
                <tr>
                  <th scope="col">Station</th>
                  {grid.features.map((feature) => (
                    <th key={feature} scope="col">
                      {feature}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {grid.stations.map((station) => (
                  <tr key={station}>
                    <th scope="row">{station}</th>
                    {grid.features.map((feature) => (
                      <td key={feature} className={grid.count(station, feature) === 0 ? 'gap' : ''}>
                        {grid.count(station, feature)}
                      </td>
                    ))}
                  </tr>
                ))}
              </tbody>
            </table>
          </ScrollRegion>
        </details>
      )}
    </figure>
  );
}

/** A piece of a ring; angles in radians, counterclockwise. */
function sector(inner: number, outer: number, from: number, to: number): string {
  const at = (radius: number, angle: number): string =>
    `${(radius * Math.cos(angle)).toFixed(2)} ${(-radius * Math.sin(angle)).toFixed(2)}`;
  if (to - from > Math.PI)
    return `M${at(outer, 0)}A${outer} ${outer} 0 1 0 ${at(outer, Math.PI)}A${outer} ${outer} 0 1 0 ${at(outer, 0)}M${at(inner, 0)}A${inner} ${inner} 0 1 1 ${at(inner, Math.PI)}A${inner} ${inner} 0 1 1 ${at(inner, 0)}Z`;
  return `M${at(inner, from)}L${at(outer, from)}A${outer} ${outer} 0 0 0 ${at(outer, to)}L${at(inner, to)}A${inner} ${inner} 0 0 1 ${at(inner, from)}Z`;
}

/** A cell that is no name can be a whole page. */
const LONGEST_NAME = 80;

function shortened(name: string): string {
  return name.length > LONGEST_NAME ? `${name.slice(0, LONGEST_NAME)}…` : name;
}
