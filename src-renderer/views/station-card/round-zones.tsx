import type { CheckPointResult } from '../../../shared-math/result.ts';
import {
  type CoverageEllipse,
  coverageEllipse,
  coverageHalfWidth,
} from '../../../shared-math/uncertainty/coverage-ellipse.ts';
import { formatLimitWithUnit, type Units } from '../../format/format.ts';

/** Half-width of the drawing, in its own units. */
const half = 100;
/** The largest circle or arrow takes this share of the half-width. */
const used = 0.72;

interface RoundZonesProps {
  readonly points: readonly CheckPointResult[];
  readonly coverage: number;
  readonly units: Units;
  readonly label: string;
}

/** Where a point is drawn. */
interface Place {
  readonly point: CheckPointResult;
  readonly x: number;
  readonly y: number;
  readonly up: number;
  readonly ellipse: CoverageEllipse | null;
}

export function RoundZones({ points, coverage, units, label }: RoundZonesProps) {
  const radii = [...new Set(points.map((point) => point.tolerance / 2))].sort((a, b) => a - b);
  const spherical = points.some((point) => point.zone === 'spherical');
  const ellipses = points.map(({ covariance }) =>
    covariance === null ? null : coverageEllipse(covariance, coverage),
  );
  const reaches = points.map(({ displacement }, index) =>
    displacement === null ? 0 : Math.hypot(displacement[0], displacement[1]) + (ellipses[index]?.major ?? 0),
  );
  const scale = (half * used) / Math.max(...radii, ...reaches);
  const drawn = points.flatMap((point, index): Place[] =>
    point.displacement === null
      ? []
      : [
          {
            point,
            x: point.displacement[0] * scale,
            y: -point.displacement[1] * scale,
            up: -point.displacement[2] * scale,
            ellipse: ellipses[index] ?? null,
          },
        ],
  );
  return (
    <svg
      className="zone"
      viewBox={`${-half - 8} ${-half - 6} ${2 * half + (spherical ? 62 : 16)} ${2 * half + 12}`}
      role="img"
      aria-label={label}
    >
      {radii.map((radius, index) => (
        <g key={radius}>
          <circle r={radius * scale} className="tolerance" />
          <text x={half} y={half * 0.98 - 15 * index} className="size" textAnchor="end">
            ⌀ {formatLimitWithUnit(radius * 2, 'length', units)}
          </text>
        </g>
      ))}
      <path d={`M${-half * 0.9} 0 H${half * 0.88} M0 ${half * 0.9} V${-half * 0.86}`} className="axis" />
      <text transform={`translate(${half - 6} 0) rotate(90)`} className="axis-name" textAnchor="middle">
        oscillation
      </text>
      <text y={-half * 0.92} className="axis-name" textAnchor="middle">
        lateral
      </text>
      {drawn.length > 1 && (
        <path d={`M${drawn.map(({ x, y }) => `${x} ${y}`).join(' L')}`} className="between" />
      )}
      {drawn.map(({ point, x, y, ellipse }, index) => (
        <g key={point.name} className={`vector ${point.verdict}`}>
          <path d={`M0 0 L${x} ${y}`} />
          {ellipse !== null && (
            <ellipse
              rx={ellipse.major * scale}
              ry={ellipse.minor * scale}
              // The drawing counts angles clockwise.
              transform={`translate(${x} ${y}) rotate(${(-ellipse.angle * 180) / Math.PI})`}
              className="coverage"
            />
          )}
          {index === 0 ? (
            <circle cx={x} cy={y} r="3.4" className="hollow" />
          ) : (
            <circle cx={x} cy={y} r="3.6" />
          )}
          <text
            x={x + (x >= 0 ? 6 : -6)}
            y={y + labelShift(drawn, index, scale)}
            textAnchor={x > half / 2 ? 'end' : x < -half / 2 ? 'start' : x >= 0 ? 'start' : 'end'}
          >
            {point.name}
          </text>
        </g>
      ))}
      {spherical && <UpsetScale radius={radii[0]! * scale} drawn={drawn} scale={scale} coverage={coverage} />}
    </svg>
  );
}

/** The third direction of spherical zones, beside the plane of the others. */
function UpsetScale({
  radius,
  drawn,
  scale,
  coverage,
}: {
  readonly radius: number;
  readonly drawn: readonly Place[];
  readonly scale: number;
  readonly coverage: number;
}) {
  return (
    <g transform={`translate(${half + 34} 0)`}>
      <path d={`M0 ${(-radius).toFixed(2)} V${radius.toFixed(2)}`} className="tolerance" />
      {drawn.map(({ point, up }) => {
        const doubt =
          point.covariance === null ? 0 : coverageHalfWidth(point.covariance, [0, 0, 1], coverage) * scale;
        return (
          <g key={point.name} className={`vector ${point.verdict}`}>
            <rect x="-4" y={up - doubt} width="8" height={2 * doubt} className="coverage" />
            <path d={`M-6 ${up} H6`} />
          </g>
        );
      })}
      <text y={half * 0.92} textAnchor="middle" className="axis-name">
        upset
      </text>
    </g>
  );
}

/** Labels nearer than this in width and height would run into each other. */
const labelRoom = [60, 16] as const;

/** Of two points that lie close together the upper one has its label above; otherwise labels stand outwards, clear of the ellipse. */
function labelShift(drawn: readonly Place[], index: number, scale: number): number {
  const own = drawn[index];
  if (own === undefined) return 0;
  const near = drawn.find((other) => {
    const [across, along] = [Math.abs(other.x - own.x), Math.abs(other.y - own.y)];
    return (
      other !== own && (Math.hypot(across, along) < 24 || (across < labelRoom[0] && along < labelRoom[1]))
    );
  });
  const up = near === undefined ? own.y < 0 : own.y < near.y || (own.y === near.y && index === 0);
  const clear = Math.max(5, (own.ellipse?.major ?? 0) * scale);
  return up ? -4 - clear : 13 + clear;
}
