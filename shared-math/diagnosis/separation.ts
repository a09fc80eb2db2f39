/** One joint fit: the ranked blocks, the mixed model over the stations that count, and what is common to all stations. */

import { type Contrast, contrast } from './contrast.ts';
import type { DesignBlock, DesignName } from './design.ts';
import { fitMixedModel, type MixedFit } from './mixed-model.ts';
import { type Observation, PER_MM, PER_RAD } from './observations.ts';
import { designOf, type RankedBlock, rankBlocks } from './rank.ts';
import { addOuter, form, product, type ReadonlyRows, type Rows, times, zeros } from './symmetric.ts';

export interface Separation {
  readonly observations: readonly Observation[];
  /** Whether a station counts in the fit (outliers do not). */
  readonly counts: readonly boolean[];
  readonly blocks: readonly RankedBlock[];
  /** X_k of every station, outliers too. */
  readonly design: readonly ReadonlyRows[];
  readonly fit: MixedFit;
  /** Covariance of the coefficients from hub frame and scale. */
  readonly shared: ReadonlyRows;
}

/** Fewest dimensions of scatter that a fit must leave: two for each of the six errors. */
export const FEWEST_FREE = 12;

/**
 * @param hub covariance of the hub frame's twist, scaled, order x y z, turns about x y z; null: not known.
 * @param start variance components of a like fit.
 * @returns null where too little is left for scatter, or the design fails numerically.
 */
export function separate(
  observations: readonly Observation[],
  blocks: readonly DesignBlock[],
  counts: readonly boolean[],
  hub: ReadonlyRows | null,
  start: readonly number[] | null = null,
): Separation | null {
  return separateRanked(observations, rankBlocks(blocks, counts), counts, hub, start);
}

/** The fit with one more block at the end. @returns null as `separate`. */
export function withOneMore(s: Separation, block: DesignBlock, hub: ReadonlyRows | null): Separation | null {
  const ranked = rankBlocks([block], s.counts, () => true, s.blocks);
  return separateRanked(s.observations, ranked, s.counts, hub, s.fit.components);
}

function separateRanked(
  observations: readonly Observation[],
  ranked: readonly RankedBlock[],
  counts: readonly boolean[],
  hub: ReadonlyRows | null,
  start: readonly number[] | null,
): Separation | null {
  const columns = ranked.reduce((sum, b) => sum + b.dimensions, 0);
  const counted = counts.filter((c) => c).length;
  if (6 * counted - columns < FEWEST_FREE) return null;
  const design = designOf(ranked, observations.length);
  const stations = observations.flatMap((o, k) =>
    counts[k] ? [{ error: o.error, own: o.own, index: o.motions[5]!, design: design[k]! }] : [],
  );
  const fit = fitMixedModel(stations, start);
  if (fit === null) return null;
  let shared: Rows | null = null;
  return {
    observations,
    counts,
    blocks: ranked,
    design,
    fit,
    get shared() {
      shared ??= sharedCovariance(
        observations.filter((_, k) => counts[k]),
        design.filter((_, k) => counts[k]),
        fit,
        hub,
      );
      return shared;
    },
  };
}

/** P·G·S·Gᵀ·Pᵀ with P the operator of generalised least squares, G the effect of a shared disturbance on all stations. */
function sharedCovariance(
  observations: readonly Observation[],
  design: readonly ReadonlyRows[],
  fit: MixedFit,
  hub: ReadonlyRows | null,
): Rows {
  const p = fit.beta.length;
  const answer = (effect: (o: Observation) => readonly number[]): number[] => {
    const side = new Array<number>(p).fill(0);
    observations.forEach((o, k) => {
      const w = times(fit.weights[k]!, effect(o));
      design[k]!.forEach((row, i) => {
        for (let c = 0; c < p; c++) side[c] = side[c]! + row[c]! * w[i]!;
      });
    });
    return times(fit.covariance, side);
  };
  const shared = zeros(p, p);
  if (observations.some((o) => o.scaleEffect.some((x) => x !== 0)))
    addOuter(
      shared,
      answer((o) => o.scaleEffect),
      1,
    );
  if (hub === null) return shared;
  const responses = [0, 1, 2, 3, 4, 5].map((j) => answer((o) => o.motions[j]!));
  const spread = product(hub, responses);
  for (let r = 0; r < p; r++)
    for (let c = 0; c < p; c++)
      for (let j = 0; j < 6; j++) shared[r]![c] = shared[r]![c]! + responses[j]![r]! * spread[j]![c]!;
  return shared;
}

/** Covariance of the hub frame (mm, rad) in scaled units. */
export function scaledTwist(covariance: ReadonlyRows | null): Rows | null {
  const unit = [PER_MM, PER_MM, PER_MM, PER_RAD, PER_RAD, PER_RAD];
  return covariance?.map((row, i) => row.map((c, j) => c * unit[i]! * unit[j]!)) ?? null;
}

/** A contrast of the coefficients. */
export function contrastOf(s: Separation, l: readonly number[]): Contrast {
  return contrast(s.fit, s.shared, l);
}

/** Blocks of a component, in the order of the design. */
export function blocksOf(s: Separation, name: DesignName): readonly RankedBlock[] {
  return s.blocks.filter((b) => b.name === name);
}

/** Indices of the coefficients of a component. */
export function coefficientsOf(s: Separation, name: DesignName): number[] {
  return blocksOf(s, name).flatMap((b) => Array.from({ length: b.dimensions }, (_, i) => b.first + i));
}

/** The six errors (scaled) that some coefficients make at a station. */
export function contribution(s: Separation, station: number, coefficients: readonly number[]): number[] {
  return s.design[station]!.map((row) => coefficients.reduce((sum, c) => sum + row[c]! * s.fit.beta[c]!, 0));
}

/** e_k − X_k·β of every station, scaled. */
export function residualsOf(s: Separation): number[][] {
  return s.observations.map(({ error }, k) =>
    error.map((e, i) => e - s.design[k]![i]!.reduce((sum, x, c) => sum + x * s.fit.beta[c]!, 0)),
  );
}

/** Row vector g·X_k, optionally over some coefficients only. */
export function throughDesign(
  s: Separation,
  station: number,
  g: readonly number[],
  coefficients: readonly number[] | null = null,
): number[] {
  const l = new Array<number>(s.fit.beta.length).fill(0);
  const which = coefficients ?? l.map((_, c) => c);
  s.design[station]!.forEach((row, i) => {
    if (g[i] !== 0) for (const c of which) l[c] = l[c]! + g[i]! * row[c]!;
  });
  return l;
}

/** Covariance of L·β and degrees of freedom of combinations of its rows. */
export function jointOf(s: Separation, rows: ReadonlyRows) {
  return {
    values: rows.map((l) => l.reduce((sum, x, c) => sum + x * s.fit.beta[c]!, 0)),
    covariance: rows.map((a) => rows.map((b) => form(a, s.fit.adjusted, b) + form(a, s.shared, b))),
    degreesOf: (v: readonly number[]): number =>
      contrastOf(
        s,
        s.fit.beta.map((_, c) => v.reduce((sum, x, r) => sum + x * rows[r]![c]!, 0)),
      ).degreesOfFreedom,
  };
}

/** The linear function that picks one coefficient. */
export function unitRow(s: Separation, coefficient: number): number[] {
  return s.fit.beta.map((_, c) => (c === coefficient ? 1 : 0));
}
