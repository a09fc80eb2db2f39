/** The uncertainty of a station as the result document shows it: intervals, and where they come from. */
import type { CheckPoint, DiscErrorName, ErrorName } from '../definition.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { ERRORS } from '../pose/error-names.ts';
import type {
  Covariance6,
  PositionResult,
  StationUncertainty,
  UncertaintyShare,
  UncertaintySource,
} from '../result.ts';
import { standardUncertainty } from '../uncertainty/covariance-terms.ts';
import { bilinear } from '../uncertainty/displacement-distribution.ts';
import type { ErrorGradient } from '../uncertainty/error-derivatives.ts';
import { type Contribution, sumCovariance } from '../uncertainty/station-covariance.ts';
import { coverageFactor, type Known, zoneRows } from './known-uncertainty.ts';

const SOURCES: readonly UncertaintySource[] = ['probing', 'form', 'frame', 'scale', 'temperature'];

export function describeUncertainty(
  known: Known,
  values: Readonly<Record<ErrorName | DiscErrorName, number | null>>,
  gradients: Readonly<Record<ErrorName | DiscErrorName, ErrorGradient>>,
  error: RigidMotion,
  checkPoints: readonly CheckPoint[],
  position: PositionResult,
): Omit<StationUncertainty, 'scaleEffect'> {
  const names = Object.keys(values) as (ErrorName | DiscErrorName)[];
  const terms = names.map(
    (name) => [name, standardUncertainty(known.contributions, gradients[name])] as const,
  );
  const table = (of: (u: number, nu: number) => number) =>
    Object.fromEntries(
      terms.map(([name, u]) => [name, values[name] === null ? null : of(u.standard, u.degreesOfFreedom)]),
    ) as Record<ErrorName | DiscErrorName, number | null>;
  const deciding = checkPoints.find((c) => c.name === position.at)!;
  return {
    expanded: table((u, nu) => coverageFactor(known.coverage, nu) * u),
    standard: table((u) => u),
    sources: shares(known.contributions, zoneRows(error, deciding), position),
  };
}

/** Each source alone: its standard uncertainties, and its share of the variance along the deciding displacement. */
function shares(
  contributions: readonly Contribution[],
  rows: readonly ErrorGradient[],
  position: PositionResult,
): readonly UncertaintyShare[] {
  const delta = position.checkPoints.find((c) => c.name === position.at)?.displacement ?? null;
  const variance = (c: Covariance6): number =>
    delta === null || rows.length !== 2
      ? rows.reduce((sum, a) => sum + bilinear(a, c, a), 0)
      : alongVariance(c, rows, delta);
  const bySource = SOURCES.map((source) => sumCovariance(contributions, (s) => s === source));
  const variances = bySource.map(variance);
  const total = variances.reduce((a, b) => a + b, 0);
  return SOURCES.map((source, i) => ({
    source,
    standard: Object.fromEntries(ERRORS.map((name, k) => [name, Math.sqrt(bySource[i]![k]![k]!)])) as Record<
      ErrorName,
      number
    >,
    share: total > 0 ? variances[i]! / total : 0,
  }));
}

function alongVariance(c: Covariance6, rows: readonly ErrorGradient[], delta: Vec3): number {
  const length = Math.hypot(delta[0], delta[1]) || 1;
  const along = [0, 1, 2, 3, 4, 5].map((k) => (delta[0] * rows[0]![k]! + delta[1] * rows[1]![k]!) / length);
  return bilinear(along, c, along);
}
