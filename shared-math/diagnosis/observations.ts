/**
 * The station errors as the separation takes them: scaled six-vectors with their own covariance, and how each station
 * answers to motions of the disc.
 *
 * Scaled: displacements in µm, rotations in units of 10 µrad, so that a rotation of one unit moves a point 100 mm away
 * by one µm and all numbers are of like size. Small motions throughout: errors of 1e-3 rad and 0.1 mm compose to first
 * order within 1e-3 of themselves.
 */
import type { CheckPoint, PartDefinition } from '../definition.ts';
import type { Mat3, Vec3 } from '../geometry/types.ts';
import { cross } from '../geometry/vector.ts';
import { ERRORS } from '../pose/error-names.ts';
import type { StationResult } from '../result.ts';
import type { Rows } from './symmetric.ts';

/** Scaled units in one mm, and in one rad. */
export const PER_MM = 1e3;
export const PER_RAD = 1e5;
export const SCALE: readonly number[] = [PER_MM, PER_MM, PER_MM, PER_RAD, PER_RAD, PER_RAD];

export interface Observation {
  readonly station: number;
  /** θ, rad. */
  readonly angle: number;
  /** Seat radius, mm. */
  readonly radius: number;
  /** The six errors, scaled. */
  readonly error: readonly number[];
  /** Their own covariance, scaled; zero where nothing is known. */
  readonly own: Rows;
  /** Rows: oscillation, lateral and upset directions in disc axes. */
  readonly axes: Mat3;
  /**
   * The six errors (scaled) that a motion of the disc frame makes: displacements of 1 µm along x, y, z, turns of 10 µrad about
   * x, y, z through the disc origin. One six-vector for each.
   */
  readonly motions: readonly (readonly number[])[];
  readonly checkPoints: readonly CheckPoint[];
  /** What one standard uncertainty of the scale does, scaled. */
  readonly scaleEffect: readonly number[];
}

/** Stations with all six errors observed, in station order. A station without own covariance takes the mean of the others. */
export function observe(stations: readonly StationResult[], definition: PartDefinition): Observation[] {
  const whole = stations.filter((s) => ERRORS.every((name) => s.error[name] !== null));
  const known = whole.flatMap((s) => (s.covarianceOwn === null ? [] : [s.covarianceOwn]));
  const mean = SCALE.map((_, i) =>
    SCALE.map((__, j) =>
      known.length === 0 ? 0 : known.reduce((sum, c) => sum + c[i]![j]!, 0) / known.length,
    ),
  );
  return whole.map((s) => {
    const planned = definition.stations.find((d) => d.station === s.station)!;
    const own = s.covarianceOwn ?? mean;
    return {
      station: s.station,
      angle: planned.angle,
      radius: planned.seat.radius,
      error: ERRORS.map((name, i) => s.error[name]! * SCALE[i]!),
      own: own.map((row, i) => row.map((c, j) => c * SCALE[i]! * SCALE[j]!)),
      axes: s.nominal.axes,
      motions: discMotions(s.nominal.axes, s.nominal.origin),
      checkPoints: planned.requirement.checkPoints,
      scaleEffect: (s.uncertainty?.scaleEffect ?? SCALE.map(() => 0)).map((x, i) => x * SCALE[i]!),
    };
  });
}

/**
 * Errors that unit motions (scaled) of the disc frame make at a blade: with displacement v and turn ω about the disc
 * origin, t = Rᵀ·(v + ω × o), ρ = Rᵀ·ω, o and R the nominal blade frame.
 *
 * @param axes rows of Rᵀ. @param origin o, mm, disc frame.
 */
export function discMotions(axes: Mat3, origin: Vec3): readonly (readonly number[])[] {
  const unit: readonly Vec3[] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  const inBlade = (v: Vec3): readonly number[] => axes.map((a) => a[0] * v[0] + a[1] * v[1] + a[2] * v[2]);
  return [
    ...unit.map((v) => [...inBlade(v), 0, 0, 0]),
    ...unit.map((w) => [...inBlade(cross(w, origin)).map((x) => (x * PER_MM) / PER_RAD), ...inBlade(w)]),
  ];
}

/** Displacement (mm) of a check point by a scaled six-vector: δ = t + ρ × p. */
export function displaced(error: readonly number[], at: Vec3): Vec3 {
  const turn = cross([error[3]! / PER_RAD, error[4]! / PER_RAD, error[5]! / PER_RAD], at);
  return [error[0]! / PER_MM + turn[0], error[1]! / PER_MM + turn[1], error[2]! / PER_MM + turn[2]];
}

/** Gradient of n·δ (mm) with respect to the scaled six-vector. */
export function displacementGradient(n: Vec3, at: Vec3): number[] {
  // n·(ρ × p) = ρ·(p × n).
  const turn = cross(at, n);
  return [...n.map((x) => x / PER_MM), ...turn.map((x) => x / PER_RAD)];
}

/** Unit vectors of disc directions (given in disc axes) seen in blade axes. */
export function inBladeAxes(axes: Mat3, direction: Vec3): Vec3 {
  return [
    axes[0][0] * direction[0] + axes[0][1] * direction[1] + axes[0][2] * direction[2],
    axes[1][0] * direction[0] + axes[1][1] * direction[1] + axes[1][2] * direction[2],
    axes[2][0] * direction[0] + axes[2][1] * direction[1] + axes[2][2] * direction[2],
  ];
}
