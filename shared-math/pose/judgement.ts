/**
 * Verdicts of value against limit (decision rule `simple`: no guard band, uncertainty not taken into account).
 * Source: JCGM 106:2012, 8.2 (simple acceptance).
 */
import type { BladeRequirement, DiscErrorName, ErrorName, LimitName } from '../definition.ts';
import type { RigidMotion } from '../geometry/types.ts';
import type { CheckPointResult, LimitResult, PositionResult, Verdict } from '../result.ts';
import { displacement, positionValue } from './position.ts';

/** |value| against limit; a value that was not observed proves nothing. */
export function judge(value: number | null, limit: number): Verdict {
  if (value === null) return 'unproven';
  return Math.abs(value) <= limit ? 'conforming' : 'nonconforming';
}

/** Nonconforming if any is, else unproven if any is, else conforming. */
export function worstVerdict(verdicts: readonly Verdict[]): Verdict {
  if (verdicts.includes('nonconforming')) return 'nonconforming';
  return verdicts.includes('unproven') ? 'unproven' : 'conforming';
}

/**
 * Position at each check point and of the blade.
 *
 * @param error E, the motion from the nominal to the measured blade in nominal blade axes.
 * @param observed tells whether the pose determines the displacement of a check point in its zone.
 */
export function judgePosition(
  error: RigidMotion,
  { checkPoints }: BladeRequirement,
  observed: (checkPoint: BladeRequirement['checkPoints'][number]) => boolean,
): PositionResult {
  const results = checkPoints.map((checkPoint): CheckPointResult => {
    const { name, at, zone, tolerance } = checkPoint;
    if (!observed(checkPoint))
      return { name, at, zone, tolerance, displacement: null, value: null, verdict: judge(null, tolerance) };
    const delta = displacement(error, at);
    const value = positionValue(delta, checkPoint);
    return { name, at, zone, tolerance, displacement: delta, value, verdict: judge(value, tolerance) };
  });
  const largest = results.reduce((a, b) => ((b.value ?? -1) > (a.value ?? -1) ? b : a));
  return {
    value: largest.value,
    at: largest.name,
    expanded: null,
    probability: null,
    verdict: worstVerdict(results.map((r) => r.verdict)),
    tolerance: largest.tolerance,
    checkPoints: results,
  };
}

/** One entry for each limit of the requirement, in the order in which the plan lists them. */
export function judgeLimits(
  values: Readonly<Record<ErrorName | DiscErrorName, number | null>>,
  { limits }: BladeRequirement,
): readonly LimitResult[] {
  return (Object.entries(limits) as [LimitName, number][]).map(([name, limit]) => ({
    name,
    value: values[name],
    limit,
    expanded: null,
    probability: null,
    verdict: judge(values[name], limit),
  }));
}
