/**
 * Index of every station: its turn about the disc axis after components 1–5, the best linear unbiased estimate from all six
 * errors, mean over the stations in the fit zero, with the uncertainty of this station's own value.
 */
import type { PartDefinition } from '../definition.ts';
import { normalCdf } from '../uncertainty/distributions.ts';
import { satterthwaite } from './contrast.ts';
import type { IndexFinding, IndexStation } from './findings.ts';
import { estimate } from './inference.ts';
import { COMPONENTS } from './mixed-evaluation.ts';
import { totalCovariance } from './mixed-model.ts';
import { PER_RAD } from './observations.ts';
import { pitchDeviations } from './pitch.ts';
import type { Separation } from './separation.ts';
import { dotProduct, inverseDefinite, type ReadonlyRows, times, zeros } from './symmetric.ts';

/**
 * @param significantOrders index harmonics whose part is shown apart from the rest.
 */
export function indexFinding(
  s: Separation,
  significantOrders: ReadonlySet<number>,
  definition: PartDefinition,
  coverage: number,
): IndexFinding {
  const { fit, observations } = s;
  const p = fit.beta.length;
  const causes = s.blocks.flatMap((b) =>
    b.harmonic === null ? Array.from({ length: b.dimensions }, (_, i) => b.first + i) : [],
  );
  const scatter = fit.components
    .slice(0, 6)
    .map((variance, i) => meanAboveZero(variance, Math.sqrt(fit.componentCovariance[i]![i]!)));
  // a_k = V0⁻¹d/(dᵀV0⁻¹d), V0 without the index's own variance.
  const rows = observations.map((o) => {
    const d = o.motions[5]!;
    const v0 = totalCovariance(o.own, d, [...scatter, 0]);
    const w = times(inverseDefinite(v0)!.inverse, d);
    const size = dotProduct(d, w);
    return { a: w.map((x) => x / size), v0, variance: 1 / size };
  });
  // Value of a_k·X_k over the causes 1–5, as a row of p.
  const through = rows.map(({ a }, k) => {
    const l = new Array<number>(p).fill(0);
    s.design[k]!.forEach((row, i) => {
      for (const c of causes) l[c] = l[c]! + a[i]! * row[c]!;
    });
    return l;
  });
  const raw = rows.map(
    ({ a }, k) => dotProduct(a, observations[k]!.error) - dotProduct(through[k]!, fit.beta),
  );
  const counted = s.counts.filter((c) => c).length;
  const mean = raw.reduce((sum, x, k) => sum + (s.counts[k] ? x : 0), 0) / counted;
  const covariance = centred(deviationCovariance(s, rows, through), s.counts);
  const amplitudes = new Map<number, readonly [number, number]>();
  for (const b of s.blocks)
    if (b.harmonic?.channel === 'index' && significantOrders.has(b.harmonic.order)) {
      const [c = 0, sine = 0] = b.map.map((row) =>
        row.reduce((sum, x, i) => sum + x * fit.beta[b.first + i]!, 0),
      );
      amplitudes.set(b.harmonic.order, [c, sine]);
    }
  const deviations = observations.map((o, k) => ({
    station: o.station,
    deviation: (raw[k]! - mean) / PER_RAD,
  }));
  const pitch = pitchDeviations(deviations, definition);
  const stations = observations.map((o, k): IndexStation => {
    const a = rows[k]!.a;
    const gradient = Array.from({ length: COMPONENTS }, (_, i) => (i < 6 ? a[i]! ** 2 : 0));
    const harmonic = [...amplitudes].reduce(
      (sum, [h, [c, sine]]) => sum + c * Math.cos(h * o.angle) + sine * Math.sin(h * o.angle),
      0,
    );
    const deviation = estimate(
      {
        value: raw[k]! - mean,
        variance: covariance[k]!,
        degreesOfFreedom: satterthwaite(rows[k]!.variance, gradient, fit),
      },
      coverage,
      1 / PER_RAD,
    );
    const round = pitch.stations.find((x) => x.station === o.station);
    return {
      station: o.station,
      angle: (o.angle * 180) / Math.PI,
      deviation,
      arc: deviation.value * o.radius,
      harmonic: harmonic / PER_RAD,
      rest: deviation.value - harmonic / PER_RAD,
      singlePitch: round?.singlePitch ?? null,
      cumulativePitch: round?.cumulativePitch ?? null,
    };
  });
  return {
    stations,
    singlePitch: pitch.singlePitch,
    totalCumulativePitch: pitch.totalCumulativePitch,
    repeatability: null,
  };
}

/**
 * Mean of a normal distribution above zero. An error whose scatter comes out as zero has some all the same: taken as none, all
 * weight would go to that error, with far too small an uncertainty.
 */
function meanAboveZero(value: number, standard: number): number {
  if (!(standard > 0)) return value;
  const score = value / standard;
  return value * normalCdf(score) + (standard * Math.exp(-0.5 * score * score)) / Math.sqrt(2 * Math.PI);
}

/**
 * Covariance of a_kᵀ·(s_k + m_k) − a_kᵀ·X_k·(β̂ − β) between stations: what the estimates miss of the index that each station
 * really has. β̂ − β owes V0·V⁻¹ of the noise of each station in the fit.
 */
function deviationCovariance(
  s: Separation,
  rows: readonly { readonly a: readonly number[]; readonly v0: ReadonlyRows; readonly variance: number }[],
  through: ReadonlyRows,
): number[][] {
  const { fit } = s;
  const n = rows.length;
  const p = fit.beta.length;
  let at = 0;
  // Row k: cov(a_kᵀ·noise_k, β̂) = a_kᵀ·V0·V⁻¹·X_k·Φ; zero outside the fit.
  const cross = rows.map(({ a, v0 }, k) => {
    if (!s.counts[k]) return new Array<number>(p).fill(0);
    const w = times(fit.weights[at++]!, times(v0, a));
    const l = new Array<number>(p).fill(0);
    s.design[k]!.forEach((row, i) => {
      for (let c = 0; c < p; c++) l[c] = l[c]! + w[i]! * row[c]!;
    });
    return times(fit.covariance, l);
  });
  const spread = through.map((l) => times(fit.covariance, l));
  const out = zeros(n, n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      out[i]![j] =
        (i === j ? rows[i]!.variance : 0) -
        dotProduct(cross[i]!, through[j]!) -
        dotProduct(cross[j]!, through[i]!) +
        dotProduct(spread[i]!, through[j]!);
  return out;
}

/** Variances of the values less the mean of those that count. */
function centred(covariance: ReadonlyRows, counts: readonly boolean[]): number[] {
  const n = counts.filter((c) => c).length;
  const sums = covariance.map((row) => row.reduce((sum, x, k) => sum + (counts[k] ? x : 0), 0));
  const total = sums.reduce((sum, x, k) => sum + (counts[k] ? x : 0), 0);
  return covariance.map((row, k) => Math.max(0, row[k]! - (2 * sums[k]!) / n + total / (n * n)));
}
