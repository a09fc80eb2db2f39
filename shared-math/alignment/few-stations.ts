/**
 * Rough alignment where the stations do not fix it: fewer than three, or all on a line. The hub features join in, and
 * the best fit of all points to their nominal features starts from many orientations; the lowest fit is taken, and two
 * that fit about equally well are refused.
 */
import { ReductionError } from '../errors.ts';
import { LARGEST_MISPLACEMENT } from '../frame/station-spacing.ts';
import { apply, multiply } from '../geometry/matrix.ts';
import { registerPoints } from '../geometry/registration.ts';
import { applyToPoint, relativeMotion } from '../geometry/rigid-motion.ts';
import { rotationAbout, rotationVector } from '../geometry/rotation.ts';
import type { Mat3, RigidMotion } from '../geometry/types.ts';
import { norm, subtract } from '../geometry/vector.ts';
import { fitBody } from './fit-body.ts';
import { centroid, distanceToNominal, type FeatureTarget, spatialMedian } from './targets.ts';

/** Two fits are the same alignment below this turn (rad): far above any blade error, far below half a pitch. */
const SAME_TURN = 0.02;

/** Fits whose misfits differ by less than this factor explain the points about equally well. */
const EQUALLY_WELL = 3;

/**
 * @param stations for each station its features with nominals in the disc frame; hub: the same for the hub datums.
 * @param spacing mean distance of neighbouring seats, mm.
 * @throws ReductionError `alignment` where nothing fits or two alignments fit about equally well.
 */
export function alignFromFewStations(
  stations: readonly (readonly FeatureTarget[])[],
  hub: readonly FeatureTarget[],
  spacing: number,
): RigidMotion {
  const targets = [...hub, ...stations.flat()];
  const fits = startingMotions(targets).flatMap((start) => {
    try {
      const { motion } = fitBody(targets, start);
      return [{ motion, misfit: misfitOf(hub, stations, motion), agreement: 0 }];
    } catch (error) {
      if (error instanceof ReductionError) return [];
      throw error;
    }
  });
  fits.sort((a, b) => a.misfit - b.misfit);
  const best = fits[0];
  if (best === undefined || best.misfit > LARGEST_MISPLACEMENT * spacing)
    throw nothingFits(best?.misfit ?? null);
  const rival = fits.find(
    (f) => norm(rotationVector(relativeMotion(best.motion, f.motion).rotation)) > SAME_TURN,
  );
  if (rival !== undefined && rival.misfit < EQUALLY_WELL * Math.max(best.misfit, 1e-4 * spacing))
    throw ambiguous();
  return best.motion;
}

/** The largest of the median distances of the hub features and of each station. */
function misfitOf(
  hub: readonly FeatureTarget[],
  stations: readonly (readonly FeatureTarget[])[],
  motion: RigidMotion,
): number {
  const groups = [...hub.map((h) => [h]), ...stations];
  return Math.max(...groups.map((group) => distanceToNominal(group, motion)));
}

/** The closed-form registration of all centroids, turned by the 24 rotations of a cube. */
function startingMotions(targets: readonly FeatureTarget[]): readonly RigidMotion[] {
  const source = targets.flatMap((t) => t.inputs.map(() => t.nominal.point));
  const target = targets.flatMap((t) => t.inputs.map(spatialMedian));
  const { motion } = registerPoints(Float64Array.from(source.flat()), Float64Array.from(target.flat()));
  const middle = centroid({ xyz: Float64Array.from(source.flat()) });
  const image = applyToPoint(motion, middle);
  return cubeRotations().map((turn) => {
    const rotation = multiply(motion.rotation, turn);
    return { rotation, translation: subtract(image, apply(rotation, middle)) };
  });
}

function cubeRotations(): readonly Mat3[] {
  const quarter = Math.PI / 2;
  const tilts = [
    rotationAbout([1, 0, 0], 0),
    rotationAbout([1, 0, 0], quarter),
    rotationAbout([1, 0, 0], 2 * quarter),
    rotationAbout([1, 0, 0], -quarter),
    rotationAbout([0, 1, 0], quarter),
    rotationAbout([0, 1, 0], -quarter),
  ];
  return [0, 1, 2, 3].flatMap((k) =>
    tilts.map((tilt) => multiply(tilt, rotationAbout([0, 0, 1], k * quarter))),
  );
}

function nothingFits(misfit: number | null): ReductionError {
  const off = misfit === null ? '' : ` (closest: ${misfit.toFixed(2)} mm off)`;
  return new ReductionError(
    'alignment',
    `No position of the disc explains the points${off}: sense, firstAngle or station numbers do not fit, or the nominal features are wrong.`,
    'Compare the nominal features of the plan with the drawing, and the station numbers with the file.',
  );
}

function ambiguous(): ReductionError {
  return new ReductionError(
    'alignment',
    'Two positions of the disc explain the points about equally well: fewer than three stations off one line were measured, and the hub features do not tell them apart.',
    'Measure at least three stations that do not lie on one line, or a hub feature that only fits one way.',
  );
}
