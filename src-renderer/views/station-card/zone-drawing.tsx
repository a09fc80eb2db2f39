import type { CheckPointResult } from '../../../shared-math/result.ts';
import { formatLimitWithUnit, formatWithUnit, type Units } from '../../format/format.ts';

/** Half-width of the drawing, in its own units. */
const half = 100;
/** The largest circle or arrow takes this share of the half-width. */
const used = 0.72;

/**
 * Displacements δ of the check points inside the position zone, seen from the tip towards the disc: oscillation to the
 * right, lateral up. The position is 2·|δ| against the zone's diameter, so δ itself belongs in a circle of radius
 * tolerance/2. Spherical zones add the upset component as a side scale; planar zones are one distance on a line.
 */
export function ZoneDrawing({
  points,
  units,
}: {
  readonly points: readonly CheckPointResult[];
  readonly units: Units;
}) {
  const round = points.filter((point) => point.zone !== 'planar');
  const planar = points.filter((point) => point.zone === 'planar');
  return (
    <div className="zones">
      {round.length > 0 && <RoundZones points={round} units={units} />}
      {planar.map((point) => (
        <PlanarZone key={point.name} point={point} units={units} />
      ))}
    </div>
  );
}

function RoundZones({
  points,
  units,
}: {
  readonly points: readonly CheckPointResult[];
  readonly units: Units;
}) {
  const radii = [...new Set(points.map((point) => point.tolerance / 2))].sort((a, b) => a - b);
  const spherical = points.some((point) => point.zone === 'spherical');
  const reaches = points.map(({ displacement }) =>
    displacement === null ? 0 : Math.hypot(displacement[0], displacement[1]),
  );
  const largest = Math.max(...radii, ...reaches);
  const scale = (half * used) / largest;
  const drawn = points.flatMap((point) =>
    point.displacement === null
      ? []
      : [
          {
            point,
            x: point.displacement[0] * scale,
            y: -point.displacement[1] * scale,
            up: -point.displacement[2] * scale,
          },
        ],
  );
  return (
    <svg
      className="zone"
      viewBox={`${-half - 8} ${-half - 6} ${2 * half + (spherical ? 62 : 16)} ${2 * half + 12}`}
      role="img"
      aria-label={describe(points, units)}
    >
      {radii.map((radius, index) => (
        <g key={radius}>
          <circle r={radius * scale} className="tolerance" />
          <text x={half} y={-half * 0.92 + 13 * index} className="size" textAnchor="end">
            ⌀ {formatLimitWithUnit(radius * 2, 'length', units)}
          </text>
        </g>
      ))}
      <path d={`M${-half * 0.9} 0 H${half * 0.9} M0 ${half * 0.9} V${-half * 0.86}`} className="axis" />
      <text transform={`translate(${half + 1} 0) rotate(90)`} className="axis-name" textAnchor="middle">
        oscillation
      </text>
      <text y={-half * 0.92} className="axis-name" textAnchor="middle">
        lateral
      </text>
      {drawn.length > 1 && (
        <path d={`M${drawn.map(({ x, y }) => `${x} ${y}`).join(' L')}`} className="between" />
      )}
      {drawn.map(({ point, x, y }, index) => (
        <g key={point.name} className={point.verdict === 'nonconforming' ? 'vector over' : 'vector'}>
          <path d={`M0 0 L${x} ${y}`} />
          {index === 0 ? <circle cx={x} cy={y} r="4.5" className="hollow" /> : <circle cx={x} cy={y} r="5" />}
          <text
            x={x + (x >= 0 ? 6 : -6)}
            y={y + labelShift(drawn, index)}
            textAnchor={x > half / 2 ? 'end' : x < -half / 2 ? 'start' : x >= 0 ? 'start' : 'end'}
          >
            {point.name}
          </text>
        </g>
      ))}
      {spherical && (
        <g transform={`translate(${half + 34} 0)`}>
          <path
            d={`M0 ${(-radii[0]! * scale).toFixed(2)} V${(radii[0]! * scale).toFixed(2)}`}
            className="tolerance"
          />
          {drawn.map(({ point, up }) => (
            <path key={point.name} d={`M-6 ${up} H6`} className="between" />
          ))}
          <text y={half * 0.92} textAnchor="middle" className="axis-name">
            upset
          </text>
        </g>
      )}
    </svg>
  );
}

/** Of two points that lie close together the upper one has its label above; otherwise labels stand outwards. */
function labelShift(drawn: readonly { readonly x: number; readonly y: number }[], index: number): number {
  const own = drawn[index];
  if (own === undefined) return 0;
  const near = drawn.find((other) => other !== own && Math.hypot(other.x - own.x, other.y - own.y) < 24);
  const up = near === undefined ? own.y < 0 : own.y < near.y || (own.y === near.y && index === 0);
  return up ? -9 : 18;
}

function PlanarZone({ point, units }: { readonly point: CheckPointResult; readonly units: Units }) {
  const distance = point.value === null ? null : point.value / 2;
  const largest = Math.max(point.tolerance / 2, distance ?? 0);
  const scale = (half * used) / largest;
  const edge = (point.tolerance / 2) * scale;
  return (
    <svg
      className="zone planar"
      viewBox={`${-half} -26 ${2 * half} 52`}
      role="img"
      aria-label={describe([point], units)}
    >
      <rect x={-edge} y="-12" width={2 * edge} height="24" className="tolerance" />
      <path d="M0 -18 V18" className="axis" />
      {distance !== null && (
        <path
          d={`M${distance * scale} -15 V15 M${-distance * scale} -15 V15`}
          className={point.verdict === 'nonconforming' ? 'side over' : 'side'}
        />
      )}
      <text y="-18" x={-edge} className="size">
        {point.name}: width {formatLimitWithUnit(point.tolerance, 'length', units)}
      </text>
      <text y="25" textAnchor="middle" className="axis-name">
        either side of nominal
      </text>
    </svg>
  );
}

function describe(points: readonly CheckPointResult[], units: Units): string {
  return points
    .map((point) => {
      const zone = `${point.zone} zone ${formatLimitWithUnit(point.tolerance, 'length', units)}`;
      if (point.displacement === null) return `${point.name}: displacement not observed, ${zone}`;
      const [o, l, u] = point.displacement.map((value) => formatWithUnit(value, 'length', units));
      return `${point.name}: displaced ${o} in oscillation, ${l} in lateral, ${u} in upset, ${zone}`;
    })
    .join('. ');
}
