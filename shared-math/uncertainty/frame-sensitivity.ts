/**
 * How a datum frame answers to disturbances of its features: the twist of the frame as a linear form.
 *
 * The frame carries nominal points P into measured coordinates. Disturbed, it carries them to x + ω × (x − o) + v, o the
 * image of the nominal origin. Datum by datum, in the order in which the frame was built: the feature turns with the
 * directions that hold it and by its own disturbance; a turn of the frame that it locks then follows it; the translation
 * follows from the equations along·(image of the nominal point − feature point) = 0. All derivatives are of the very
 * equations that `frame/datum-system` solves.
 *
 * Source: JCGM 102:2011, 6.3 (implicit multivariate measurement models).
 */
import type { Datum } from '../definition.ts';
import type { AssociatedFeature } from '../frame/associate-datum.ts';
import type { DatumStep, TurnLock } from '../frame/datum-system.ts';
import { solveDense } from '../geometry/dense.ts';
import { applyToPoint } from '../geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { cross, dot, norm, normalize, rejectFrom, subtract } from '../geometry/vector.ts';
import type { FeatureSensitivity } from './feature-sensitivity.ts';
import {
  addForms,
  along,
  combineForms,
  crossForm,
  dotForm,
  type ScalarForm,
  type VectorForm,
  zeroVector,
} from './linear-form.ts';

/** One datum of a built frame, measured coordinates. */
export interface SensitiveDatum {
  readonly datum: Datum;
  readonly feature: AssociatedFeature;
  readonly step: DatumStep;
  readonly sensitivity: FeatureSensitivity;
  /** Index of the first of its own disturbances β in the list of all disturbances. */
  readonly firstDisturbance: number;
  /** Index of a relative scale disturbance that moves every point by scale·(x − scaleCentre). */
  readonly scaleDisturbance: number;
}

/** A small rigid displacement as linear forms: x ↦ x + turn × (x − centre) + shift. */
export interface TwistForm {
  readonly turn: VectorForm;
  readonly shift: VectorForm;
  readonly centre: Vec3;
}

/** The motion of one feature: its direction turns by `turn`, its reported point shifts by `shift`. */
interface FeatureForm {
  readonly turn: VectorForm;
  readonly shift: VectorForm;
}

interface Equation {
  readonly along: Vec3;
  readonly alongTurn: VectorForm;
  readonly nominalPoint: Vec3;
  readonly measuredPoint: Vec3;
  readonly measuredShift: VectorForm;
}

/**
 * @param datums in order of precedence.
 * @param motion the frame: nominal to measured coordinates.
 * @param size number of disturbances K.
 * @param scaleCentre fixed point of the scale disturbance, measured coordinates.
 */
export function frameSensitivity(
  datums: readonly SensitiveDatum[],
  motion: RigidMotion,
  size: number,
  scaleCentre: Vec3,
): TwistForm {
  const centre = motion.translation;
  let turn = zeroVector(size);
  const equations: Equation[] = [];
  for (const item of datums) {
    const form = featureForm(item, turn, size, scaleCentre);
    const held = turn;
    for (const lock of item.step.locks)
      if (lock.kind !== 'place') turn = followDirection(lock, item, form, turn, equations);
    for (const direction of item.step.along)
      equations.push({
        along: direction,
        // Directions of features without their own, and of what the frame left free, turn with the frame.
        alongTurn: item.step.ownDirections ? form.turn : held,
        nominalPoint: item.step.reference,
        measuredPoint: item.feature.point,
        measuredShift: form.shift,
      });
    for (const lock of item.step.locks)
      if (lock.kind === 'place') {
        const shift = translation(equations, motion, turn, size);
        const angle = placeTurn(lock, item, form, { turn, shift, centre }, motion);
        turn = addForms(turn, along(lock.axis, angle));
      }
  }
  return { turn, shift: translation(equations, motion, turn, size), centre };
}

function featureForm(
  { feature, sensitivity, firstDisturbance, scaleDisturbance }: SensitiveDatum,
  held: VectorForm,
  size: number,
  scaleCentre: Vec3,
): FeatureForm {
  let turn = held;
  let shift = zeroVector(size);
  sensitivity.turns.forEach((unitTurn, k) => {
    const beta = dotForm(sensitivity.response[k]!, held);
    beta[firstDisturbance + k] = 1;
    if (sensitivity.scaleResponse)
      beta[scaleDisturbance] = beta[scaleDisturbance]! + sensitivity.scaleResponse[k]!;
    turn = addForms(turn, along(unitTurn, beta));
    shift = addForms(shift, along(sensitivity.shifts[k]!, beta));
  });
  const scaled = new Float64Array(size);
  scaled[scaleDisturbance] = 1;
  return { turn, shift: addForms(shift, along(subtract(feature.point, scaleCentre), scaled)) };
}

function followDirection(
  lock: TurnLock,
  { feature }: SensitiveDatum,
  form: FeatureForm,
  turn: VectorForm,
  equations: readonly Equation[],
): VectorForm {
  if (lock.kind === 'pose') return form.turn;
  if (lock.kind === 'azimuth') {
    const relative = dotForm(lock.axis, addForms(form.turn, turn, -1));
    return addForms(turn, along(lock.axis, relative));
  }
  if (lock.kind === 'aim') {
    const lever = subtract(feature.point, lock.pivot.measured);
    const direction = normalize(lever);
    const moved = addForms(form.shift, equations[0]!.measuredShift, -1);
    return alignTurn(turn, direction, scaleForm(moved, 1 / norm(lever)));
  }
  return alignTurn(turn, feature.direction!, crossForm(form.turn, feature.direction!));
}

/** The turn with the least addition that makes the unit vector `direction`, carried by the frame, move as `moved` does. */
function alignTurn(turn: VectorForm, direction: Vec3, moved: VectorForm): VectorForm {
  const missing = addForms(moved, crossForm(turn, direction), -1);
  // direction × missing: the turn square to the direction that makes up for it.
  return addForms(turn, scaleForm(crossForm(missing, direction), -1));
}

function scaleForm(v: VectorForm, factor: number): VectorForm {
  return [v[0].map((x) => factor * x), v[1].map((x) => factor * x), v[2].map((x) => factor * x)];
}

/** The shift at the frame's origin that satisfies all equations with the least change, given its turn. */
function translation(
  equations: readonly Equation[],
  motion: RigidMotion,
  turn: VectorForm,
  size: number,
): VectorForm {
  if (equations.length === 0) return zeroVector(size);
  const sides = equations.map((e) => {
    const image = applyToPoint(motion, e.nominalPoint);
    const carried = crossForm(turn, subtract(image, motion.translation));
    const gap = subtract(image, e.measuredPoint);
    const wanted = dotForm(e.along, addForms(e.measuredShift, carried, -1));
    return combineForms(1, wanted, -1, dotForm(gap, crossForm(e.alongTurn, e.along)));
  });
  const gram = equations.map((a) => equations.map((b) => dot(a.along, b.along)));
  const inverse = equations.map((_, j) =>
    solveDense(
      gram,
      equations.map((__, i) => (i === j ? 1 : 0)),
    ),
  );
  return equations.reduce<VectorForm>((sum, e, i) => {
    const factor = sides.reduce<ScalarForm>(
      (f, side, j) => combineForms(1, f, inverse[j]![i]!, side),
      new Float64Array(size),
    );
    return addForms(sum, along(e.along, factor));
  }, zeroVector(size));
}

/** The additional turn about the lock's axis by which the nominal point stays on the disturbed feature. */
function placeTurn(
  lock: Extract<TurnLock, { readonly kind: 'place' }>,
  { datum, feature }: SensitiveDatum,
  form: FeatureForm,
  frame: TwistForm,
  motion: RigidMotion,
): ScalarForm {
  const { axis } = lock;
  const centre = applyToPoint(motion, lock.pivot);
  const place = applyToPoint(motion, datum.nominal.point);
  const moved = (x: Vec3): VectorForm =>
    addForms(crossForm(frame.turn, subtract(x, frame.centre)), frame.shift);
  const lever = rejectFrom(subtract(place, centre), axis);
  const normal = planeNormal(datum, feature, axis);
  if (normal !== null) {
    const normalTurn =
      datum.type === 'plane' || datum.type === 'midplane' ? form.turn : pinTurn(form, frame, axis);
    const gap = subtract(place, feature.point);
    const side = combineForms(
      1,
      dotForm(normal, addForms(moved(place), form.shift, -1)),
      1,
      dotForm(gap, crossForm(normalTurn, normal)),
    );
    const rate = dot(normal, cross(axis, lever));
    return side.map((x) => -x / rate);
  }
  // By azimuth: the feature's centre and the nominal point keep the same azimuth about the disturbed axis.
  const tangent = normalize(cross(axis, lever));
  const target = subtract(feature.point, centre);
  const axisMoved = crossForm(frame.turn, axis);
  const azimuth = (shift: VectorForm, from: Vec3): ScalarForm => {
    const relative = addForms(addForms(shift, moved(centre), -1), scaleForm(axisMoved, dot(axis, from)), -1);
    return dotForm(tangent, relative).map((x) => x / norm(rejectFrom(from, axis)));
  };
  return combineForms(1, azimuth(form.shift, target), -1, azimuth(moved(place), subtract(place, centre)));
}

/** Normal of the plane that the nominal point must lie in, or null where the azimuth of a centre decides. */
function planeNormal(datum: Datum, feature: AssociatedFeature, axis: Vec3): Vec3 | null {
  if (datum.type === 'plane' || datum.type === 'midplane') return feature.direction;
  if (datum.type !== 'cylinder' && datum.type !== 'line') return null;
  const across = cross(axis, feature.direction!);
  return norm(across) < 1e-6 ? null : normalize(across);
}

/** The plane through a pin's axis and parallel to the turning axis turns about the latter with the pin's azimuth. */
function pinTurn(form: FeatureForm, frame: TwistForm, axis: Vec3): VectorForm {
  const relative = dotForm(axis, addForms(form.turn, frame.turn, -1));
  return addForms(frame.turn, along(axis, relative));
}
