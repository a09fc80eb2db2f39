/** What a component of the joint fit does at the check points: sizes in mm with intervals. */
import type { Vec3 } from '../geometry/types.ts';
import { positionValue } from '../pose/position.ts';
import type { Component, Estimate, Vec6 } from './findings.ts';
import { estimate } from './inference.ts';
import { displaced, displacementGradient, type Observation, SCALE } from './observations.ts';
import { contrastOf, contribution, type Separation, throughDesign } from './separation.ts';

/** A displacement at a check point of a station. */
export interface PlacedDisplacement {
  /** Index in the observations. */
  readonly index: number;
  readonly checkPoint: Observation['checkPoints'][number];
  readonly displacement: Vec3;
  readonly length: number;
}

/** The largest displacement of each station over its check points, by scaled six-vectors. */
export function worstDisplacements(
  observations: readonly Observation[],
  errors: readonly (readonly number[])[],
): PlacedDisplacement[] {
  return observations.map(({ checkPoints }, index) =>
    checkPoints
      .map((checkPoint): PlacedDisplacement => {
        const displacement = displaced(errors[index]!, checkPoint.at);
        return { index, checkPoint, displacement, length: Math.hypot(...displacement) };
      })
      .reduce((a, b) => (b.length > a.length ? b : a)),
  );
}

export interface SizeOfComponent extends Pick<Component, 'size' | 'at' | 'rms' | 'consumed' | 'stations'> {
  /** Scaled contributions of all stations. */
  readonly contributions: readonly (readonly number[])[];
}

/**
 * Size of what some coefficients of the joint fit do.
 *
 * The interval lies along the largest displacement: 2·(|δ| ± t·u). Its low end is 0 where the component as a whole is not
 * distinguishable from none at the same coverage, because the largest of many lengths is positive even then.
 *
 * @param distinguishable whether the test of the component is beyond 1 − coverage.
 */
export function sizeOfComponent(
  s: Separation,
  coefficients: readonly number[],
  distinguishable: boolean,
  coverage: number,
): SizeOfComponent {
  const contributions = s.observations.map((_, k) => contribution(s, k, coefficients));
  const worst = worstDisplacements(s.observations, contributions);
  const largest = worst.reduce((a, b) => (b.length > a.length ? b : a));
  const { index, checkPoint, displacement, length } = largest;
  const direction: Vec3 =
    length > 0 ? [displacement[0] / length, displacement[1] / length, displacement[2] / length] : [1, 0, 0];
  const l = throughDesign(s, index, displacementGradient(direction, checkPoint.at), coefficients);
  const along = estimate(contrastOf(s, l), coverage, 2);
  return {
    contributions,
    size: clipped(along, distinguishable),
    at: { station: s.observations[index]!.station, checkPoint: checkPoint.name },
    rms: 2 * Math.sqrt(worst.reduce((sum, w) => sum + w.length ** 2, 0) / worst.length),
    consumed: largestPosition(s.observations, contributions),
    stations: toStations(s.observations, contributions),
  };
}

/** Not below zero; down to zero where nothing is distinguishable. */
export function clipped(e: Estimate, distinguishable: boolean): Estimate {
  return { ...e, low: distinguishable ? Math.max(0, e.low) : 0 };
}

/** Largest position in the zones of the plan that scaled six-vectors make. */
export function largestPosition(
  observations: readonly Observation[],
  errors: readonly (readonly number[])[],
): number {
  return Math.max(
    ...observations.flatMap(({ checkPoints }, k) =>
      checkPoints.map((c) => positionValue(displaced(errors[k]!, c.at), c)),
    ),
  );
}

/** Six errors out of the scaled coordinates of the fit, in mm and rad. */
export function natural(scaled: readonly number[]): Vec6 {
  return scaled.map((x, i) => x / SCALE[i]!) as unknown as Vec6;
}

/** @param errors six scaled errors for each observation. @returns the same in mm and rad beside their stations. */
export function toStations(
  observations: readonly Observation[],
  errors: readonly (readonly number[])[],
): { readonly station: number; readonly error: Vec6 }[] {
  return observations.map(({ station }, k) => ({ station, error: natural(errors[k]!) }));
}
