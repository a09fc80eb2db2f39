/** One station from its points to the error motion of its blade, with what disturbs it. */
import type { Datum, PartDefinition, StationDefinition } from '../definition.ts';
import { nominalBladeFrame } from '../frame/blade-frame.ts';
import type { DiscFrame } from '../frame/disc-frame.ts';
import { reportFeature } from '../frame/feature-report.ts';
import { splitByMember, targetsOf } from '../frame/pattern-fit.ts';
import type { PointIndex } from '../frame/point-index.ts';
import { screenedPoints, valuesWithoutExcluded, withoutExcluded } from '../frame/screen-datum.ts';
import { atReferenceTemperature } from '../frame/temperature.ts';
import { compose, IDENTITY_MOTION, inverse } from '../geometry/rigid-motion.ts';
import type { RigidMotion } from '../geometry/types.ts';
import type { PointBlock } from '../points.ts';
import { type BladePose, moveBlock, poseByBestFit, poseByDatums } from '../pose/blade-pose.ts';
import type { FeatureReport, ScreenedPoint } from '../result.ts';
import { statedVariances } from '../uncertainty/feature-noise.ts';
import type { ErrorForm } from '../uncertainty/pose-sensitivity.ts';
import { type Disturbed, disturbBestFit, disturbDatumPose } from '../uncertainty/station-covariance.ts';

export interface PosedStation {
  readonly station: StationDefinition;
  /** The nominal blade frame in the disc frame. */
  readonly nominal: RigidMotion;
  readonly error: RigidMotion;
  readonly freeMotions: readonly RigidMotion[];
  readonly features: readonly FeatureReport[];
  readonly disturbed: Disturbed<ErrorForm>;
  readonly screened: readonly ScreenedPoint[];
}

/**
 * @throws ReductionError of the associations, the datum system and the best fit; `missing-feature`.
 */
export function poseStation(
  station: StationDefinition,
  points: PointIndex,
  disc: Pick<DiscFrame, 'motion' | 'scalingCentre'>,
  definition: PartDefinition,
): PosedStation {
  const nominal = nominalBladeFrame(station.angle, station.seat);
  const toBlade: RigidMotion = compose(inverse(nominal), inverse(disc.motion));
  const { bladeDatums, temperature } = definition;
  const blocks = new Map<Datum, readonly PointBlock[]>(
    bladeDatums.map((datum) => [
      datum,
      points
        .blocksOf(station.station, datum)
        .map((b) => moveBlock(atReferenceTemperature(b, temperature, disc.scalingCentre), toBlade)),
    ]),
  );
  const blocksOf = (datum: Datum): readonly PointBlock[] => blocks.get(datum)!;
  const pose =
    definition.pose === 'datum' ? poseByDatums(bladeDatums, blocksOf) : poseByBestFit(bladeDatums, blocksOf);
  return {
    station,
    nominal,
    error: pose.error,
    freeMotions: pose.freeMotions,
    features: bladeDatums.map((datum, i) =>
      reportFeature(datum, pose.features[i]!, IDENTITY_MOTION, pose.fixes[i]!, pose.freedoms[i]!),
    ),
    disturbed: disturb(pose, nominal, definition, bladeDatums.map(blocksOf)),
    screened: bladeDatums.flatMap((datum, i) =>
      screenedPoints(datum, station.station, pose.features[i]!.flagged),
    ),
  };
}

function disturb(
  pose: BladePose,
  nominal: RigidMotion,
  { bladeDatums, uncertainty }: PartDefinition,
  blocks: readonly (readonly PointBlock[])[],
): Disturbed<ErrorForm> {
  const discOrigin = inverse(nominal).translation;
  const variances = blocks.map((list) => statedVariances(list, uncertainty));
  const { error, features, steps, inputs, fit } = pose;
  if (fit === null)
    return disturbDatumPose(
      { datums: bladeDatums, features, steps, inputs, variances },
      error,
      discOrigin,
      uncertainty,
    );
  const targets = bladeDatums.flatMap((datum, i) =>
    targetsOf(datum, withoutExcluded(inputs[i]!, features[i]!.flagged)),
  );
  const used = bladeDatums.flatMap((datum, i) =>
    splitByMember(datum, valuesWithoutExcluded(variances[i]!, features[i]!.flagged)),
  );
  return disturbBestFit(targets, used, fit, error, discOrigin, uncertainty);
}
