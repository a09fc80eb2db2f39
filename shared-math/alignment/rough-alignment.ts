/**
 * Rough alignment: the motion from the disc frame to an arbitrary machine frame, from the stations' points and numbers.
 *
 * The middles of the measured blade features are registered to their nominal places in closed form, using the station
 * numbers; a best fit of the points to their nominal features then removes the effect of patches that do not lie about
 * their nominal points. Wild points (a station spacing away) take no part in either. It only chooses senses of directions and starts of fits: no result depends on it otherwise.
 *
 * Sources: Arun, Huang & Blostein 1987 and Umeyama 1991 (closed form, in geometry/registration).
 */
import type { StationDefinition } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import { nominalBladeFrame } from '../frame/blade-frame.ts';
import { registerPoints } from '../geometry/registration.ts';
import type { RigidMotion } from '../geometry/types.ts';
import { alignFromFewStations } from './few-stations.ts';
import { fitBody } from './fit-body.ts';
import {
  distanceToNominal,
  type FeatureTarget,
  placeNominal,
  spatialMedian,
  withoutWildPoints,
} from './targets.ts';

/** Second to first singular value below which the features' middles count as lying on a line. */
const COLLINEAR = 1e-4;

/** The measured features of one station; datum nominals in the blade frame, some points of each in machine coordinates. */
export interface StationTargets {
  readonly station: StationDefinition;
  readonly targets: readonly FeatureTarget[];
}

/** Which way round the stations are counted: as the plan says, or with every angle negated. */
export type Counting = 'as planned' | 'the other way';

export interface RoughAlignment {
  /** Carries disc coordinates into machine coordinates. */
  readonly motion: RigidMotion;
  /** Median distance of each station's points from their nominal features, mm, in the order of the stations. */
  readonly misfits: readonly number[];
}

/**
 * @param stations the stations that have points.
 * @param hub the hub datum features in the disc frame; used where the stations alone do not fix the alignment.
 * @param spacing mean distance of neighbouring seats, mm.
 * @throws ReductionError `alignment` where few stations fit nowhere, or in two places about equally well.
 */
export function alignRoughly(
  stations: readonly StationTargets[],
  hub: readonly FeatureTarget[],
  spacing: number,
  counting: Counting,
): RoughAlignment {
  const places = placeStations(stations, counting);
  const all = places.flat();
  const rough = registerPoints(
    Float64Array.from(all.flatMap((t) => t.inputs.flatMap(() => [...t.nominal.point]))),
    Float64Array.from(all.flatMap((t) => t.inputs.flatMap((input) => [...spatialMedian(input)]))),
  );
  const [first, second] = rough.singularValues;
  const few = stations.length < 3 || second <= COLLINEAR * first;
  const motion = few
    ? alignFromFewStations(places, hub, spacing)
    : refine(withoutWildPoints(all, rough.motion, spacing), rough.motion);
  return { motion, misfits: places.map((targets) => distanceToNominal(targets, motion)) };
}

function refine(targets: readonly FeatureTarget[], start: RigidMotion): RigidMotion {
  try {
    return fitBody(targets, start).motion;
  } catch (error) {
    if (error instanceof ReductionError) return start;
    throw error;
  }
}

/** The targets of each station with their nominal features in the disc frame. */
export function placeStations(
  stations: readonly StationTargets[],
  counting: Counting,
): readonly (readonly FeatureTarget[])[] {
  return stations.map(({ station, targets }) => {
    const angle = counting === 'as planned' ? station.angle : -station.angle;
    const place = nominalBladeFrame(angle, station.seat);
    return targets.map((t) => ({ ...t, nominal: placeNominal(t.nominal, place) }));
  });
}
