/**
 * The second level of position: the blades relative to each other.
 *
 * The zones of all check points form one rigid pattern. Level one holds it where the hub frame puts it; level two lets it move as
 * a whole in the free motions of the requirement and asks whether some place of it holds every check point. The place that makes the
 * largest position smallest answers that. Sources: ISO 5458 (pattern specification), ASME Y14.5 (composite position: the
 * pattern-locating and the feature-relating zone framework); their texts were not at hand, this is common knowledge of the trade.
 */
import type { DecisionDefinition, PartDefinition, PatternRequirement } from '../definition.ts';
import type { RigidMotion } from '../geometry/types.ts';
import { observabilityOf } from '../pose/observability.ts';
import type { PatternResult, PatternStation, Verdict } from '../result.ts';
import type { PosedStation } from '../stations/pose-station.ts';
import { decide } from '../uncertainty/decision.ts';
import type { ResidualScatter } from '../uncertainty/feature-noise.ts';
import type { TwistForm } from '../uncertainty/frame-sensitivity.ts';
import type { Disturbed } from '../uncertainty/station-covariance.ts';
import { type BestMotion, bestMotion } from './best-motion.ts';
import {
  type PatternDistribution,
  type PositionSpread,
  patternDistribution,
} from './pattern-distribution.ts';
import { NO_MOTION, PATTERN_FREEDOMS, positionsAfter } from './pattern-motion.ts';
import { patternDisturbance } from './pattern-noise.ts';
import { type PatternBlade, type ZonePoint, zonePoints } from './zone-points.ts';

/**
 * Judges the pattern of the stations that were posed.
 *
 * @param hub the disc frame's twist with what disturbs it; disc: the motion from disc to machine coordinates.
 * @param pooled scatter of the blade features over all stations.
 * @returns null where the definition asks for one level only.
 */
export function judgePattern(
  posed: readonly PosedStation[],
  hub: Disturbed<TwistForm>,
  disc: RigidMotion,
  pooled: ReadonlyMap<string, ResidualScatter>,
  definition: PartDefinition,
): PatternResult | null {
  const { pattern: requirement, uncertainty, decision } = definition;
  if (!requirement) return null;
  const { tolerance, free } = requirement;
  const blades = posed.map(observedBlade);
  const points = zonePoints(blades);
  if (points.length === 0) return nothingObserved(requirement, posed);

  const best = bestMotion(points, free, tolerance);
  const disturbance = patternDisturbance({
    posed,
    blades,
    points,
    hub,
    disc,
    pooled,
    stated: uncertainty,
    tolerance,
    followsHub: PATTERN_FREEDOMS.every((freedom) => free.includes(freedom)),
  });
  const spread =
    disturbance && patternDistribution(best, points, disturbance, blades.length, uncertainty.coverage);

  const positions = positionsAfter(points, best.motion);
  const stations = posed.map((station, blade) =>
    judgeBlade(station, blade, points, positions, requirement, spread, decision),
  );
  const planned = definition.stations.flatMap((s) => s.requirement.checkPoints).length;
  const contacts = contactsOf(best, points);
  const deciding = contacts[0] ?? points[positions.indexOf(Math.max(...positions))]!;
  return {
    tolerance,
    free,
    motion: best.motion,
    undetermined: best.unknowns.undetermined,
    value: best.value,
    at: { station: deciding.station, checkPoint: deciding.checkPoint },
    gap: best.gap,
    contacts,
    ...toldBy(spread?.largest ?? null, best.value),
    verdict: patternVerdict(best, spread, decision, points.length === planned),
    stations,
    leastSquares: best.leastSquares,
  };
}

function observedBlade({ station, nominal, error, freeMotions }: PosedStation): PatternBlade {
  const { observesPosition } = observabilityOf(freeMotions, station);
  const checkPoints = station.requirement.checkPoints.filter(observesPosition);
  return { station: station.station, nominal, error, checkPoints };
}

/**
 * A motion that brings every check point into its zone proves conformity by itself; that there is none is proven by the certificate.
 *
 * @param whole whether every check point of every planned blade is among the points.
 */
function patternVerdict(
  { value, gap, tolerance }: BestMotion,
  spread: PatternDistribution | null,
  decision: DecisionDefinition,
  whole: boolean,
): Verdict {
  const verdict = verdictOf(value, gap, tolerance, spread?.largest ?? null, decision);
  return verdict === 'conforming' && !whole ? 'unproven' : verdict;
}

function verdictOf(
  value: number,
  gap: number,
  limit: number,
  spread: PositionSpread | null,
  decision: DecisionDefinition,
): Verdict {
  if (decision.rule === 'simple') {
    if (value <= limit) return 'conforming';
    return value - gap > limit ? 'nonconforming' : 'unproven';
  }
  if (spread === null) return 'unproven';
  const { probability, quantile } = spread;
  return decide(decision, { value, limit, probability, expanded: quantile - value });
}

function judgeBlade(
  { station }: PosedStation,
  blade: number,
  points: readonly ZonePoint[],
  positions: Float64Array,
  { tolerance }: PatternRequirement,
  spread: PatternDistribution | null,
  decision: DecisionDefinition,
): PatternStation {
  const values = new Map<string, number>();
  points.forEach((p, j) => {
    if (p.blade === blade) values.set(p.checkPoint, positions[j]!);
  });
  const checkPoints = station.requirement.checkPoints.map(({ name }) => ({
    name,
    value: values.get(name) ?? null,
  }));
  const base = { station: station.station, checkPoints };
  const entries = [...values].sort((a, b) => b[1] - a[1]);
  if (entries.length === 0)
    return { ...base, value: null, at: null, expanded: null, probability: null, verdict: 'unproven' };
  const [at, value] = entries[0]!;
  const own = spread?.blades[blade] ?? null;
  const verdict = verdictOf(value, 0, tolerance, own, decision);
  const whole = entries.length === checkPoints.length;
  return {
    ...base,
    value,
    at,
    ...toldBy(own, value),
    verdict: verdict === 'conforming' && !whole ? 'unproven' : verdict,
  };
}

function toldBy(spread: PositionSpread | null, value: number) {
  if (spread === null) return { expanded: null, probability: null };
  return { expanded: spread.quantile - value, probability: spread.probability };
}

/** Check points with a weight in the certificate, largest share first. */
function contactsOf({ proof }: BestMotion, points: readonly ZonePoint[]): PatternResult['contacts'] {
  return points
    .map(({ station, checkPoint }, j) => ({
      station,
      checkPoint,
      share: Math.hypot(...proof.weights.slice(3 * j, 3 * j + 3)),
    }))
    .filter(({ share }) => share > 0)
    .sort((a, b) => b.share - a.share);
}

function nothingObserved(
  { tolerance, free }: PatternRequirement,
  posed: readonly PosedStation[],
): PatternResult {
  return {
    tolerance,
    free,
    motion: NO_MOTION,
    undetermined: free,
    value: null,
    at: null,
    gap: 0,
    contacts: [],
    expanded: null,
    probability: null,
    verdict: 'unproven',
    stations: posed.map(({ station: { station, requirement } }) => ({
      station,
      value: null,
      at: null,
      expanded: null,
      probability: null,
      verdict: 'unproven',
      checkPoints: requirement.checkPoints.map(({ name }) => ({ name, value: null })),
    })),
    leastSquares: null,
  };
}
