/**
 * Stations whose error is beyond scatter, found robustly: a slipped blade must neither inflate the scatter nor bend the causes.
 *
 * Iteratively reweighted least squares (bisquare weights by station distance, scale of each error by the median absolute
 * deviation) gives candidates; the joint fit without them tests every station against all others, candidates come back
 * where they are not significant, and the most deviating of the rest is tried in turn.
 *
 * Sources: P. J. Huber, E. M. Ronchetti, Robust Statistics (2009), 7; R. D. Cook, S. Weisberg, Residuals and Influence in
 * Regression (1982), 2.2 (deletion). From memory.
 */
import { chiSquaredQuantile } from '../uncertainty/distributions.ts';
import { satterthwaite } from './contrast.ts';
import type { DesignBlock } from './design.ts';
import { adjustForFalseDiscoveries, jointTest } from './inference.ts';
import { COMPONENTS } from './mixed-evaluation.ts';
import { totalCovariance } from './mixed-model.ts';
import { designOf, rankBlocks } from './rank.ts';
import { residualsOf, type Separation } from './separation.ts';
import {
  dotProduct,
  eigen,
  form,
  inverseDefinite,
  product,
  quadratic,
  type ReadonlyRows,
  times,
  whitener,
  zeros,
} from './symmetric.ts';

export interface StationTest {
  /** Root of the quadratic distance of the station from what the others predict, in standard deviations. */
  readonly distance: number;
  readonly probability: number;
}

/**
 * False discovery rate among the stations at which one is set apart. Stricter than that of causes: a station that is set apart no longer
 * speaks for the causes, and blades that slipped lie far beyond scatter.
 */
const SET_APART = 0.01;
const ROUNDS = 12;
/** Candidates need no more digits than this of a weight. */
const SETTLED_WEIGHT = 0.02;
const CANDIDATE_PROBABILITY = 0.999;
/** A station in the fit is tried outside where its probability (which its own error has raised) is below this. */
const WORTH_TRYING = 0.03;
/** Directions in which a station alone decides its own fit tell nothing of it: less than this share of its variance is left. */
const OWN_SHARE = 0.05;

/**
 * The joint fit without outliers.
 *
 * @param fitWithout fits the model with the stations that count; null where too few are left.
 * @returns null where no fit is possible.
 */
export function separateOutliers(
  fitWithout: (counts: readonly boolean[], start: readonly number[] | null) => Separation | null,
  candidates: readonly boolean[],
): { readonly separation: Separation; readonly tests: readonly StationTest[] } | null {
  const everybody = candidates.map(() => true);
  let separation = fitWithout(
    candidates.map((c) => !c),
    null,
  );
  separation ??= fitWithout(everybody, null);
  if (separation === null) return null;
  let tests = stationTests(separation);
  const tried = new Set<number>();
  for (let round = 0; round < 2 * candidates.length; round++) {
    const counts: readonly boolean[] = separation.counts;
    const adjusted = adjustForFalseDiscoveries(tests.map((t) => t.probability));
    const back = counts.flatMap((c, k) => (!c && adjusted[k]! > SET_APART ? [k] : []));
    if (back.length > 0) {
      const worst = back.reduce((a, b) => (tests[b]!.probability > tests[a]!.probability ? b : a));
      const next = fitWithout(
        counts.map((c, k) => c || k === worst),
        separation.fit.components,
      );
      if (next === null) break;
      separation = next;
      tests = stationTests(next);
      tried.add(worst);
      continue;
    }
    const open = counts.flatMap((c, k) =>
      c && !tried.has(k) && tests[k]!.probability < WORTH_TRYING ? [k] : [],
    );
    if (open.length === 0) break;
    const most = open.reduce((a, b) => (tests[b]!.probability < tests[a]!.probability ? b : a));
    tried.add(most);
    const next = fitWithout(
      counts.map((c, k) => c && k !== most),
      separation.fit.components,
    );
    if (next === null) continue;
    const outside = stationTests(next);
    if (adjustForFalseDiscoveries(outside.map((t) => t.probability))[most]! > SET_APART) continue;
    separation = next;
    tests = outside;
  }
  return { separation, tests };
}

/** Stations that a robust fit of the blocks gives no weight. */
export function robustCandidates(
  blocks: readonly DesignBlock[],
  errors: readonly (readonly number[])[],
): boolean[] {
  const n = errors.length;
  const ranked = rankBlocks(
    blocks,
    errors.map(() => true),
  );
  const design = designOf(ranked, n);
  const p = design[0]?.[0]?.length ?? 0;
  const cut = chiSquaredQuantile(CANDIDATE_PROBABILITY, 6);
  const correction = Math.sqrt(n / Math.max(1, n - p / 6));
  let weights = errors.map(() => 1);
  let scales = [1, 1, 1, 1, 1, 1];
  let distances = errors.map(() => 0);
  for (let round = 0; round < ROUNDS; round++) {
    const beta = weightedFit(design, errors, weights, scales);
    if (beta === null) return errors.map(() => false);
    const residuals = errors.map((e, k) => e.map((x, i) => x - dotProduct(design[k]![i]!, beta)));
    scales = scales.map((_, i) => 1.4826 * correction * median(residuals.map((r) => Math.abs(r[i]!))));
    if (scales.some((s) => !(s > 0))) return errors.map(() => false);
    distances = residuals.map((r) => r.reduce((sum, x, i) => sum + (x / scales[i]!) ** 2, 0));
    const next = distances.map((d) => Math.max(0, 1 - d / (2 * cut)) ** 2);
    const settled = next.every((w, k) => Math.abs(w - weights[k]!) < SETTLED_WEIGHT);
    weights = next;
    if (settled) break;
  }
  return distances.map((d) => d > cut);
}

function weightedFit(
  design: readonly ReadonlyRows[],
  errors: readonly (readonly number[])[],
  weights: readonly number[],
  scales: readonly number[],
): number[] | null {
  const p = design[0]?.[0]?.length ?? 0;
  const normal = zeros(p, p);
  const side = new Array<number>(p).fill(0);
  design.forEach((rows, k) => {
    if (weights[k] === 0) return;
    rows.forEach((row, i) => {
      const w = weights[k]! / scales[i]! ** 2;
      for (let r = 0; r < p; r++) {
        const x = w * row[r]!;
        if (x === 0) continue;
        side[r] = side[r]! + x * errors[k]![i]!;
        // The inverse reads the lower triangle alone.
        const target = normal[r]!;
        for (let c = 0; c <= r; c++) target[c] = target[c]! + x * row[c]!;
      }
    });
  });
  const inverted = inverseDefinite(normal);
  return inverted === null ? null : times(inverted.inverse, side);
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length / 2;
  return Number.isInteger(half) ? 0.5 * (sorted[half - 1]! + sorted[half]!) : sorted[Math.floor(half)]!;
}

/**
 * Each station against what the others predict: its residual has the covariance V_k + X_k·Φ·X_kᵀ outside the fit, V_k − X_k·Φ·X_kᵀ
 * inside (the test of six parameters of its own).
 */
export function stationTests(s: Separation): StationTest[] {
  const { fit } = s;
  const residuals = residualsOf(s);
  return s.observations.map((o, k) => {
    const sign = s.counts[k] ? -1 : 1;
    const x = s.design[k]!;
    const v = totalCovariance(o.own, o.motions[5]!, fit.components);
    const xh = product(x, fit.covariance);
    const spread = v.map((row, i) => row.map((c, j) => c + sign * dotProduct(xh[i]!, x[j]!)));
    const w = whitener(v);
    const [back, across] = [transposed(w), transposed(xh)];
    const whitened = product(product(w, spread), back);
    const kept = eigen(whitened).filter((a) => a.value > OWN_SHARE);
    const rows = kept.map(({ vector }) => times(back, vector));
    const result = jointTest(
      rows.map((l) => dotProduct(l, residuals[k]!)),
      rows.map((a) => rows.map((b) => form(a, spread, b))),
      (combination) => {
        const a = o.error.map((_, i) => combination.reduce((sum, c, r) => sum + c * rows[r]![i]!, 0));
        const y = times(across, a);
        const gradient = Array.from({ length: COMPONENTS }, (_, i) => {
          const own = i < 6 ? a[i]! : dotProduct(a, o.motions[5]!);
          return own * own + sign * quadratic(y, fit.sensitivities[i]!);
        });
        return satterthwaite(quadratic(a, spread), gradient, fit);
      },
    );
    return {
      distance: Math.sqrt(result.statistic * result.numerator),
      probability: result.probability,
    };
  });
}

function transposed(a: ReadonlyRows): number[][] {
  return (a[0] ?? []).map((_, j) => a.map((row) => row[j]!));
}
