import type { CheckPointResult } from '../../../shared-math/result.ts';
import { formatLimitWithUnit, formatWithUnit, type Units } from '../../format/format.ts';
import { PlanarZone } from './planar-zone.tsx';
import { RoundZones } from './round-zones.tsx';

interface ZoneDrawingProps {
  readonly points: readonly CheckPointResult[];
  /** Coverage probability of ellipses and intervals. */
  readonly coverage: number;
  readonly units: Units;
}

/**
 * Displacements δ of the check points inside the position zone, seen from the tip towards the disc: oscillation to the
 * right, lateral up. The position is 2·|δ| against the zone's diameter, so δ itself belongs in a circle of radius
 * tolerance/2. Spherical zones add the upset component as a side scale; planar zones are one distance on a line.
 */
export function ZoneDrawing({ points, coverage, units }: ZoneDrawingProps) {
  const round = points.filter((point) => point.zone !== 'planar');
  const planar = points.filter((point) => point.zone === 'planar');
  return (
    <div className="zones">
      {round.length > 0 && (
        <RoundZones points={round} coverage={coverage} units={units} label={describe(round, units)} />
      )}
      {planar.map((point) => (
        <PlanarZone
          key={point.name}
          point={point}
          coverage={coverage}
          units={units}
          label={describe([point], units)}
        />
      ))}
    </div>
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
