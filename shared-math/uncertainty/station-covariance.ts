/**
 * Covariance of the six errors of every station, by source.
 *
 * Points → features → disc frame and blade pose → six errors, to first order by the analytic derivatives of
 * `feature-sensitivity`, `frame-sensitivity` and `pose-sensitivity`. The disc frame's part, the scale and the temperature
 * are common to all stations (`shared`); the blade's own points are not (`own`).
 *
 * Sources: JCGM 100:2008, 5.2 (correlated input quantities); JCGM 102:2011, 6 (matrix form).
 */

import type { FeatureTarget } from '../alignment/targets.ts';
import { leastSquaresFeature } from '../association/criteria/least-squares.ts';
import type { CriterionFeatureType } from '../association/criteria/types.ts';
import type { AssociationInput } from '../association/types.ts';
import type { Datum, UncertaintyDefinition } from '../definition.ts';
import type { AssociatedFeature } from '../frame/associate-datum.ts';
import type { DatumStep } from '../frame/datum-system.ts';
import { splitByMember, targetsOf } from '../frame/pattern-fit.ts';
import { pooledInput, pooledValues, valuesWithoutExcluded, withoutExcluded } from '../frame/screen-datum.ts';
import type { Mat3, RigidMotion, Vec3 } from '../geometry/types.ts';
import type { Covariance6, UncertaintySource } from '../result.ts';
import { contactSensitivity } from './contact-sensitivity.ts';
import {
  type PointNoise,
  pointNoise,
  pool,
  type ResidualScatter,
  type StatedVariances,
  scatterOf,
} from './feature-noise.ts';
import { type FeatureSensitivity, featureSensitivity } from './feature-sensitivity.ts';
import { frameSensitivity, type SensitiveDatum, type TwistForm } from './frame-sensitivity.ts';
import { applyToForm } from './linear-form.ts';
import { patternSensitivity } from './pattern-sensitivity.ts';
import { bestFitSensitivity, type ErrorForm, errorForm, seenFromBlade } from './pose-sensitivity.ts';

export interface Contribution {
  readonly source: UncertaintySource;
  readonly covariance: Covariance6;
  readonly degreesOfFreedom: number;
}

/** A group of disturbances with the covariance they have for points of unit (or stated) variance. */
interface NoiseGroup {
  /** What to pool it with: the datum's label; a best fit pools all its points. */
  readonly key: string;
  readonly first: number;
  readonly covariance: readonly (readonly number[])[];
  readonly scatter: ResidualScatter;
  /** 1 where points state their own variance. */
  readonly statedVariance: number;
  readonly points: number;
}

/** A frame or pose with what disturbs it: column 0 is the relative scale, the rest are noise groups. */
export interface Disturbed<Form> {
  readonly form: Form;
  readonly groups: readonly NoiseGroup[];
}

/** A built frame with the points it was built from, those that a screen left out included. */
export interface FrameRecord {
  readonly datums: readonly Datum[];
  readonly features: readonly AssociatedFeature[];
  readonly steps: readonly DatumStep[];
  readonly inputs: readonly (readonly AssociationInput[])[];
  readonly variances: readonly StatedVariances[];
}

const SCALE_COLUMN = 0;

/**
 * The twist of a datum frame with its noise groups.
 *
 * @param scaleCentre fixed point of the scale disturbance, coordinates of the features.
 */
export function disturbFrame(
  record: FrameRecord,
  motion: RigidMotion,
  scaleCentre: Vec3,
  stated: UncertaintyDefinition,
): Disturbed<TwistForm> {
  let next = SCALE_COLUMN + 1;
  const groups: NoiseGroup[] = [];
  const sensitive = record.datums.map((datum, i): SensitiveDatum => {
    const feature = record.features[i]!;
    const inputs = withoutExcluded(record.inputs[i]!, feature.flagged);
    const variances = valuesWithoutExcluded(record.variances[i]!, feature.flagged);
    const step = record.steps[i]!;
    const { sensitivity, residuals } = answerOf(datum, feature, inputs, step, variances);
    groups.push(
      groupOf(
        datum.label,
        next,
        sensitivity,
        scatterOf(residuals, inputs, variances),
        variances,
        feature.points,
        stated,
      ),
    );
    const firstDisturbance = next;
    next += sensitivity.turns.length;
    return { datum, feature, step, sensitivity, firstDisturbance, scaleDisturbance: SCALE_COLUMN };
  });
  return { form: frameSensitivity(sensitive, motion, next, scaleCentre), groups };
}

/**
 * The sensitivity of a feature and the residuals that tell the scatter of its points. Criteria other than least squares
 * bend their residuals to one side; the least-squares feature of the same points tells their scatter.
 */
function answerOf(
  datum: Datum,
  feature: AssociatedFeature,
  inputs: readonly AssociationInput[],
  { orientation, patternTurns }: DatumStep,
  variances: StatedVariances,
): {
  readonly sensitivity: FeatureSensitivity;
  readonly residuals: Pick<AssociatedFeature, 'sumOfSquares' | 'degreesOfFreedom'>;
} {
  if (feature.type === 'pattern') {
    const targets = targetsOf(datum, inputs);
    const parts = splitByMember(datum, variances);
    return {
      sensitivity: patternSensitivity(targets, feature.pose, feature.point, patternTurns, parts),
      residuals: feature,
    };
  }
  if (!('criterion' in feature))
    return {
      sensitivity: featureSensitivity(feature, inputs, orientation, variances),
      residuals: feature,
    };
  const input = pooledInput(inputs);
  const { radius } = datum.nominal;
  return {
    sensitivity: contactSensitivity(feature, input, orientation, pooledValues(variances, inputs)),
    // Criteria exist for these types only.
    residuals: leastSquaresFeature(feature.type as CriterionFeatureType, input, orientation, radius),
  };
}

/** The six errors of a pose by datums as linear forms. */
export function disturbDatumPose(
  record: FrameRecord,
  error: RigidMotion,
  scaleCentre: Vec3,
  stated: UncertaintyDefinition,
): Disturbed<ErrorForm> {
  const { form, groups } = disturbFrame(record, error, scaleCentre, stated);
  return { form: errorForm(error, form), groups };
}

/** The six errors of a best fit as linear forms; its disturbances are the six components of its twist. */
export function disturbBestFit(
  targets: readonly FeatureTarget[],
  variances: readonly StatedVariances[],
  scatter: ResidualScatter,
  error: RigidMotion,
  scaleCentre: Vec3,
  stated: UncertaintyDefinition,
): Disturbed<ErrorForm> {
  const fit = bestFitSensitivity(targets, error, scaleCentre, variances);
  const row = (k: number): Float64Array => {
    const form = new Float64Array(7);
    form[SCALE_COLUMN] = fit.scaleResponse[k]!;
    form[1 + k] = 1;
    return form;
  };
  const form = errorForm(error, {
    turn: [row(0), row(1), row(2)],
    shift: [row(3), row(4), row(5)],
    centre: fit.centre,
  });
  const points = targets.reduce((n, t) => n + t.inputs.reduce((m, i) => m + i.xyz.length / 3, 0), 0);
  return {
    form,
    groups: [
      {
        key: 'best fit',
        first: 1,
        covariance: fit.covariance,
        scatter,
        statedVariance: statedVariance(variances.flat(), stated),
        points,
      },
    ],
  };
}

function groupOf(
  key: string,
  first: number,
  sensitivity: FeatureSensitivity,
  scatter: ResidualScatter,
  variances: StatedVariances,
  points: number,
  stated: UncertaintyDefinition,
): NoiseGroup {
  return {
    key,
    first,
    covariance: sensitivity.covariance,
    scatter,
    statedVariance: statedVariance(variances, stated),
    points,
  };
}

function statedVariance(variances: StatedVariances, { probing }: UncertaintyDefinition): number {
  return variances.some((v) => v !== null) ? 1 : (probing ?? 0) ** 2;
}

/** Scatter of each feature pooled over the stations. */
export function poolGroups(poses: readonly Disturbed<ErrorForm>[]): ReadonlyMap<string, ResidualScatter> {
  const keys = new Set(poses.flatMap((p) => p.groups.map((g) => g.key)));
  return new Map(
    [...keys].map((key) => [
      key,
      pool(poses.flatMap((p) => p.groups.filter((g) => g.key === key).map((g) => g.scatter))),
    ]),
  );
}

/**
 * Contributions to the covariance of the six errors of one station.
 *
 * @param hub the disc frame's twist, machine coordinates; blade: the nominal blade frame in machine coordinates.
 * @param pooled scatter of the blade features over all stations.
 * @returns null where a feature has neither a stated uncertainty nor residuals.
 */
export function stationContributions(
  hub: Disturbed<TwistForm>,
  own: Disturbed<ErrorForm>,
  error: RigidMotion,
  blade: RigidMotion,
  pooled: ReadonlyMap<string, ResidualScatter>,
  stated: UncertaintyDefinition,
): readonly Contribution[] | null {
  const shared = errorForm(error, seenFromBlade(hub.form, blade));
  const contributions: Contribution[] = [];
  for (const group of own.groups) {
    const noise = noiseOf(group, pooled.get(group.key)!, stated);
    if (noise === null) return null;
    const unit = spread(own.form, group);
    contributions.push({
      source: 'probing',
      covariance: times(unit, noise.probing),
      degreesOfFreedom: Number.POSITIVE_INFINITY,
    });
    if (noise.form > 0)
      contributions.push({
        source: 'form',
        covariance: times(unit, noise.form),
        degreesOfFreedom: noise.degreesOfFreedom,
      });
  }
  for (const group of hub.groups) {
    const noise = noiseOf(group, group.scatter, stated);
    if (noise === null) return null;
    contributions.push({
      source: 'frame',
      covariance: times(spread(shared, group), noise.probing + noise.form),
      degreesOfFreedom: noise.degreesOfFreedom,
    });
  }
  const scale = scaleColumn(own.form, shared);
  const unit = scale.map((a) => scale.map((b) => a * b));
  const certain = Number.POSITIVE_INFINITY;
  contributions.push({
    source: 'scale',
    covariance: times(unit, stated.scale ** 2),
    degreesOfFreedom: certain,
  });
  contributions.push({
    source: 'temperature',
    covariance: times(unit, stated.temperatureScale ** 2),
    degreesOfFreedom: certain,
  });
  return contributions;
}

/**
 * The six errors that one standard uncertainty of the relative scale (machine scale and temperature together) makes, with
 * signs: the scale is common, so these effects of all stations rise and fall together. mm, rad.
 */
export function scaleEffect(
  hub: Disturbed<TwistForm>,
  own: Disturbed<ErrorForm>,
  error: RigidMotion,
  blade: RigidMotion,
  { scale, temperatureScale }: UncertaintyDefinition,
): readonly number[] {
  const shared = errorForm(error, seenFromBlade(hub.form, blade));
  return scaleColumn(own.form, shared).map((x) => Math.hypot(scale, temperatureScale) * x);
}

function scaleColumn(own: ErrorForm, shared: ErrorForm): readonly number[] {
  return own.map((row, i) => row[SCALE_COLUMN]! + shared[i]![SCALE_COLUMN]!);
}

/**
 * Covariance of the hub frame's twist from the points of its datums, without the scale: displacement of the origin and turn,
 * components along the disc axes (mm, rad).
 *
 * @param hub the disc frame's twist about its origin, machine coordinates.
 * @param toDisc rotation from machine to disc axes.
 * @returns null where a datum has neither a stated uncertainty nor residuals.
 */
export function twistCovariance(
  hub: Disturbed<TwistForm>,
  toDisc: Mat3,
  stated: UncertaintyDefinition,
): Covariance6 | null {
  const rows: ErrorForm = [...applyToForm(toDisc, hub.form.shift), ...applyToForm(toDisc, hub.form.turn)];
  let sum: Covariance6 = rows.map(() => rows.map(() => 0));
  for (const group of hub.groups) {
    const noise = noiseOf(group, group.scatter, stated);
    if (noise === null) return null;
    const part = times(spread(rows, group), noise.probing + noise.form);
    sum = sum.map((row, i) => row.map((x, j) => x + part[i]![j]!));
  }
  return sum;
}

function noiseOf(
  group: NoiseGroup,
  pooled: ResidualScatter,
  stated: UncertaintyDefinition,
): PointNoise | null {
  return pointNoise(group.scatter, pooled, group.statedVariance, group.points, stated.formCorrelation);
}

/** A·Q·Aᵀ over the columns of one group. */
function spread(form: ErrorForm, { first, covariance }: NoiseGroup): Covariance6 {
  const m = covariance.length;
  const half = form.map((row) =>
    Array.from({ length: m }, (_, j) => covariance.reduce((sum, q, i) => sum + row[first + i]! * q[j]!, 0)),
  );
  return form.map((_, a) => form.map((row) => half[a]!.reduce((sum, h, j) => sum + h * row[first + j]!, 0)));
}

function times(c: Covariance6, factor: number): Covariance6 {
  return c.map((row) => row.map((x) => factor * x));
}

/** Sum of the contributions of the given sources (all where none is given). */
export function sumCovariance(
  contributions: readonly Contribution[],
  of: (source: UncertaintySource) => boolean = () => true,
): Covariance6 {
  const zero: Covariance6 = Array.from({ length: 6 }, () => new Array<number>(6).fill(0));
  return contributions
    .filter((c) => of(c.source))
    .reduce((sum, c) => sum.map((row, i) => row.map((x, j) => x + c.covariance[i]![j]!)), zero);
}
