import type { Vec3 } from '../../../shared-math/geometry/types.ts';
import type { CheckPointResult } from '../../../shared-math/result.ts';
import { coverageHalfWidth } from '../../../shared-math/uncertainty/coverage-ellipse.ts';
import { formatLimitWithUnit, type Units } from '../../format/format.ts';

/** Half-width of the drawing, in its own units. */
const half = 100;
/** The zone or the arrow takes this share of the half-width. */
const used = 0.72;

interface PlanarZoneProps {
  readonly point: CheckPointResult;
  readonly coverage: number;
  readonly units: Units;
  readonly label: string;
}

/** A zone between two planes, seen along them: δ·n as an arrow, with its interval. */
export function PlanarZone({ point, coverage, units, label }: PlanarZoneProps) {
  const { displacement, direction, covariance, tolerance } = point;
  const known = displacement !== null && direction !== null;
  const along = known ? dot(displacement, direction) : null;
  const doubt =
    covariance === null || direction === null ? 0 : coverageHalfWidth(covariance, direction, coverage);
  const scale = (half * used) / Math.max(tolerance / 2, Math.abs(along ?? 0) + doubt);
  const edge = (tolerance / 2) * scale;
  return (
    <svg className="zone planar" viewBox={`${-half} -26 ${2 * half} 52`} role="img" aria-label={label}>
      <rect x={-edge} y="-12" width={2 * edge} height="24" className="tolerance" />
      <path d="M0 -18 V18" className="axis" />
      {along !== null && (
        <g className={`vector ${point.verdict}`}>
          {doubt > 0 && (
            <rect
              x={(along - doubt) * scale}
              y="-6"
              width={2 * doubt * scale}
              height="12"
              className="coverage"
            />
          )}
          <path d={`M0 0 H${along * scale}`} />
          <circle cx={along * scale} r="3.6" />
        </g>
      )}
      <text y="-18" x={-half} className="size">
        {point.name}: width {formatLimitWithUnit(tolerance, 'length', units)}
      </text>
      <text y="25" textAnchor="middle" className="axis-name">
        {direction === null ? '' : `along ${directionWords(direction)}`}
      </text>
    </svg>
  );
}

function dot(a: Vec3, b: Vec3): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/** The axis where it is one, else the components. */
function directionWords(direction: Vec3): string {
  const names = ['oscillation', 'lateral', 'upset'] as const;
  const axis = direction.findIndex((component) => Math.abs(component) > 1 - 1e-9);
  if (axis >= 0) return `${(direction[axis] ?? 0) < 0 ? '−' : ''}${names[axis]}`;
  return direction.map((component, i) => `${component.toFixed(3).replace('-', '−')} ${names[i]}`).join(', ');
}
