/**
 * What disturbs the positions of a whole pattern at once, kept apart by how it acts on the blades.
 *
 * - A blade's own points: independent from blade to blade.
 * - The hub datums: they move the disc frame, and with it all blades as one body. Where every motion of the pattern is free this
 *   drops out, because the pattern follows.
 * - Scale and temperature: one relative length error that moves every blade outwards; no rigid motion makes up for it.
 *
 * Each source is normal, or multivariate t where its variance was estimated with finite degrees of freedom; variances pooled over
 * the stations are drawn anew for each station (they differ little from their mean then).
 */
import type { UncertaintyDefinition } from '../definition.ts';
import { compose, IDENTITY_MOTION } from '../geometry/rigid-motion.ts';
import type { RigidMotion } from '../geometry/types.ts';
import { cross } from '../geometry/vector.ts';
import type { PosedStation } from '../stations/pose-station.ts';
import { covarianceFactor } from '../uncertainty/covariance-factor.ts';
import { displacementJacobian } from '../uncertainty/error-derivatives.ts';
import type { ResidualScatter } from '../uncertainty/feature-noise.ts';
import type { TwistForm } from '../uncertainty/frame-sensitivity.ts';
import { errorForm, seenFromBlade } from '../uncertainty/pose-sensitivity.ts';
import { zoneDirections } from '../uncertainty/position-distribution.ts';
import { type RandomGenerator, sampleChiSquared } from '../uncertainty/random.ts';
import {
  type Contribution,
  type Disturbed,
  stationContributions,
  sumCovariance,
} from '../uncertainty/station-covariance.ts';
import type { PatternBlade, ZonePoint } from './zone-points.ts';

/** Adds one draw of all disturbances to the offsets of a norm problem (three numbers a zone point, shares of the tolerance). */
export type PatternDisturbance = (generator: RandomGenerator, offsets: Float64Array) => void;

/** One independent source: columns of six small motions, all divided by the same √(χ²/ν). */
interface Source {
  readonly factor: readonly (readonly number[])[];
  readonly degreesOfFreedom: number;
}

export interface DisturbedPattern {
  readonly posed: readonly PosedStation[];
  /** In the same order. */
  readonly blades: readonly PatternBlade[];
  readonly points: readonly ZonePoint[];
  readonly hub: Disturbed<TwistForm>;
  /** From disc to machine coordinates. */
  readonly disc: RigidMotion;
  readonly pooled: ReadonlyMap<string, ResidualScatter>;
  readonly stated: UncertaintyDefinition;
  readonly tolerance: number;
  /** Whether the motion of the disc frame drops out. */
  readonly followsHub: boolean;
}

/** Column of the relative scale in every form, see `Disturbed`. */
const SCALE_COLUMN = 0;

/** @returns null where a feature has neither a stated uncertainty nor residuals. */
export function patternDisturbance(pattern: DisturbedPattern): PatternDisturbance | null {
  const { posed, blades, points, hub, disc, pooled, stated, tolerance, followsHub } = pattern;
  const own: (readonly Source[])[] = [];
  for (const { disturbed, error, nominal } of posed) {
    const all = stationContributions(hub, disturbed, error, compose(disc, nominal), pooled, stated);
    if (all === null) return null;
    own.push(sources(all.filter(({ source }) => source === 'probing' || source === 'form')));
  }
  const frame = followsHub ? [] : sources(hubContributions(pattern));
  const outward = posed.map(({ disturbed, error, nominal }) => {
    const shared = errorForm(error, seenFromBlade(hub.form, compose(disc, nominal)));
    return disturbed.form.map((row, k) => row[SCALE_COLUMN]! + shared[k]![SCALE_COLUMN]!);
  });
  const scale = Math.hypot(stated.scale, stated.temperatureScale);
  const share = 2 / tolerance;

  const rows = points.map(({ blade, checkPoint }) => {
    const { error, checkPoints } = blades[blade]!;
    const point = checkPoints.find((c) => c.name === checkPoint)!;
    const jacobian = displacementJacobian(error, point.at);
    return zoneDirections(point).map((d) =>
      [0, 1, 2, 3, 4, 5].map(
        (k) => share * (d[0] * jacobian[0]![k]! + d[1] * jacobian[1]![k]! + d[2] * jacobian[2]![k]!),
      ),
    );
  });
  const frameRows = points.map(({ measured, directions }) =>
    directions.map((d) => [...d, ...cross(measured, d)].map((x) => share * x)),
  );

  return (generator, offsets) => {
    const ofBlade = own.map((list) => draw(list, generator));
    const ofFrame = draw(frame, generator);
    const stretch = scale > 0 ? scale * generator.normal() : 0;
    points.forEach(({ blade }, j) => {
      const motion = ofBlade[blade]!.map((x, k) => x + stretch * outward[blade]![k]!);
      rows[j]!.forEach((row, c) => {
        offsets[3 * j + c]! += weighted(row, motion) + weighted(frameRows[j]![c]!, ofFrame);
      });
    });
  };
}

/**
 * The hub datums' part as motions of the whole ring in the disc frame (displacement at the disc origin, rotation): the errors
 * that a body fixed to the machine, with its nominal frame at the disc frame, has by them alone.
 */
function hubContributions({ hub, disc, pooled, stated }: DisturbedPattern): readonly Contribution[] {
  const size = hub.form.turn[0].length;
  const still = (): Float64Array => new Float64Array(size);
  const body = { form: [still(), still(), still(), still(), still(), still()] as const, groups: [] };
  const all = stationContributions(hub, body, IDENTITY_MOTION, disc, pooled, stated) ?? [];
  return all.filter(({ source }) => source === 'frame');
}

/** The normal contributions together, the others one by one. */
function sources(contributions: readonly Contribution[]): readonly Source[] {
  const normal = contributions.filter((c) => c.degreesOfFreedom === Number.POSITIVE_INFINITY);
  const others = contributions.filter((c) => c.degreesOfFreedom !== Number.POSITIVE_INFINITY);
  return [
    { factor: covarianceFactor(sumCovariance(normal)), degreesOfFreedom: Number.POSITIVE_INFINITY },
    ...others.map((c) => ({
      factor: covarianceFactor(c.covariance),
      degreesOfFreedom: c.degreesOfFreedom,
    })),
  ];
}

/** Six small motions. */
function draw(list: readonly Source[], generator: RandomGenerator): number[] {
  const sum = new Array<number>(6).fill(0);
  for (const { factor, degreesOfFreedom: nu } of list) {
    const columns = factor[0]!.length;
    if (columns === 0) continue;
    const width = nu === Number.POSITIVE_INFINITY ? 1 : Math.sqrt(nu / sampleChiSquared(generator, nu));
    for (let column = 0; column < columns; column++) {
      const score = width * generator.normal();
      for (let k = 0; k < 6; k++) sum[k]! += factor[k]![column]! * score;
    }
  }
  return sum;
}

function weighted(row: readonly number[], motion: readonly number[]): number {
  return row.reduce((sum, x, k) => sum + x * motion[k]!, 0);
}
