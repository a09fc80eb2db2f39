/**
 * Datum systems: the rigid motion that carries nominal datums onto measured datums, by precedence.
 *
 * Each datum is associated under the orientation that the earlier ones have fixed (ISO 5459: orientation constraint
 * only, its place is free), and takes from the frame only the freedoms that the earlier ones left. The same routine
 * builds the disc frame from the hub datums and the measured blade frame from the blade datums.
 *
 * Sources: ISO 5459:2011 (datum systems, situation features, orientation constraint); ASME Y14.5.1 (datum reference
 * frames by precedence). The treatment as states of a group of motions is our own.
 */
import type { Orientation } from '../association/types.ts';
import type { Datum, DatumDefinition, PatternDatum } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import { applyToDirection, applyToPoint, compose, rotationAboutLine } from '../geometry/rigid-motion.ts';
import { rotationBetween } from '../geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { cross, dot, norm, normalize, rejectFrom, subtract } from '../geometry/vector.ts';
import { clockingTurn } from './clocking.ts';
import { fixedFreedoms, openFreedom, redundant } from './datum-words.ts';
import {
  addEquations,
  type DatumStep,
  type FrameState,
  type SituationFeature,
  type Taken,
  turnKeepingPlace,
} from './frame-state.ts';
import {
  type AxisNames,
  type Freedom,
  freedomWords,
  freeTranslations,
  nameOpenFreedoms,
  STRUCTURAL_SINE,
  satisfyTranslations,
  turningCentre,
} from './freedoms.ts';
import { placeDirections } from './pattern-freedoms.ts';
import { type AssociatePattern, takePattern } from './pattern-step.ts';

export type { DatumStep, SituationFeature, TurnLock } from './frame-state.ts';

/** Associates a datum under the given orientation; called once per datum, in order of precedence. */
export type AssociateDatum<F extends SituationFeature> = (
  datum: DatumDefinition,
  orientation: Orientation,
) => F;

export interface DatumFrame<F extends SituationFeature> {
  /** Carries nominal coordinates into measured coordinates. */
  readonly motion: RigidMotion;
  /** The associated features, in order of the datums. */
  readonly features: readonly F[];
  /** For each datum, the freedoms that it fixed, in words. */
  readonly fixes: readonly (readonly string[])[];
  /** The same as data. */
  readonly freedoms: readonly (readonly Freedom[])[];
  readonly steps: readonly DatumStep[];
}

/**
 * Builds a frame from datums in order of precedence.
 *
 * @param datums nominal features and their order.
 * @param associate gives the measured situation feature of a datum under an orientation constraint.
 * @param start motion from nominal to measured coordinates, right to within some degrees: it chooses the senses of
 *   directions and the nearer of two solutions, and does not otherwise enter the result.
 * @param names words for the coordinate axes in messages.
 * @param fitPattern fits a pattern of features; needed where the list has one.
 * @throws ReductionError `redundant-datum` when a datum fixes nothing, `open-freedom` when the list leaves a freedom
 *   open (both name it), and whatever `associate` throws.
 */
export function buildDatumFrame<F extends SituationFeature>(
  datums: readonly Datum[],
  associate: AssociateDatum<F>,
  start: RigidMotion,
  names: AxisNames,
  fitPattern: AssociatePattern<F> = refusePattern,
): DatumFrame<F> {
  let state = freeFrame(start);
  const features: F[] = [];
  const freedoms: Freedom[][] = [];
  const steps: DatumStep[] = [];
  for (const datum of datums) {
    const { feature, next, orientation, ...placed } = takeDatum(datum, associate, fitPattern, state);
    const fixed = fixedFreedoms(state, next);
    if (fixed.length === 0) throw redundant(datum);
    steps.push({
      orientation,
      locks: next.locks.slice(state.locks.length),
      along: next.equations.slice(state.equations.length).map((e) => e.along),
      ...placed,
    });
    state = next;
    features.push(feature);
    freedoms.push(fixed);
  }
  const open = nameOpenFreedoms(state.rotation, state.equations, state.motion.rotation, names);
  if (open.length > 0) throw openFreedom(datums, open);
  const fixes = freedoms.map((fixed) => fixed.map((freedom) => freedomWords(freedom, names)));
  return { motion: state.motion, features, fixes, freedoms, steps };
}

/** The frame before any datum: everything is open. */
export function freeFrame(start: RigidMotion): FrameState {
  return { motion: start, rotation: { kind: 'free' }, equations: [], locks: [] };
}

/** One datum taken into the frame that the earlier ones have built. */
export function takeDatum<F extends SituationFeature>(
  datum: Datum,
  associate: AssociateDatum<F>,
  fitPattern: AssociatePattern<F>,
  state: FrameState,
): Taken<F> {
  return datum.type === 'pattern'
    ? takePattern(datum, fitPattern, state)
    : takeFeature(datum, associate, state);
}

function takeFeature<F extends SituationFeature>(
  datum: DatumDefinition,
  associate: AssociateDatum<F>,
  state: FrameState,
): Taken<F> {
  const orientation = orientationLeft(datum, state);
  const feature = associate(datum, orientation);
  return {
    feature,
    next: takeFreedoms(datum, feature, state),
    orientation,
    reference: datum.nominal.point,
    ownDirections: placeDirections(datum.type, [0, 0, 1]).length < 3,
    patternTurns: [],
  };
}

function refusePattern(pattern: PatternDatum): never {
  throw new ReductionError(
    'invalid-argument',
    `Datum ${pattern.label} is a pattern, and nothing was given to fit it.`,
    '',
    { datum: pattern.label },
  );
}

/** What the earlier datums leave of this datum's direction, in measured coordinates. */
function orientationLeft(datum: DatumDefinition, { motion, rotation }: FrameState): Orientation {
  const nominal = datum.nominal.direction;
  if (nominal === null) return { kind: 'free', start: null };
  const start = applyToDirection(motion, nominal);
  if (rotation.kind === 'free') return { kind: 'free', start };
  if (rotation.kind === 'fixed' || isParallel(nominal, rotation.nominal))
    return { kind: 'fixed', direction: start };
  return { kind: 'about', axis: rotation.measured, start };
}

function takeFreedoms(datum: DatumDefinition, feature: SituationFeature, before: FrameState): FrameState {
  const placed = takePlace(datum, feature, takeDirection(datum, feature, before));
  return takeClocking(datum, feature, before, placed);
}

/** Turns that the direction of the feature fixes. */
function takeDirection(datum: DatumDefinition, feature: SituationFeature, state: FrameState): FrameState {
  const nominal = datum.nominal.direction;
  if (nominal === null || feature.direction === null || state.rotation.kind === 'fixed') return state;
  const present = applyToDirection(state.motion, nominal);
  if (state.rotation.kind === 'free') {
    const turn = rotationBetween(present, feature.direction);
    return {
      motion: turnKeepingPlace(state, turn),
      rotation: { kind: 'axis', nominal, measured: feature.direction },
      equations: state.equations,
      locks: [...state.locks, { kind: 'direction' }],
    };
  }
  const axis = state.rotation.measured;
  if (isParallel(nominal, state.rotation.nominal)) return state;
  if (datum.clocking === 'location' && turningCentre(state.motion, state.equations, axis) !== null)
    return state;
  const angle = azimuthBetween(present, feature.direction, axis);
  const turned = compose(rotationAboutLine(state.motion.translation, axis, angle), state.motion);
  return {
    motion: satisfyTranslations(turned, state.equations),
    rotation: { kind: 'fixed' },
    equations: state.equations,
    locks: [...state.locks, { kind: 'azimuth', axis }],
  };
}

/** Translations that the place of the feature fixes. */
function takePlace(datum: DatumDefinition, feature: SituationFeature, state: FrameState): FrameState {
  const wanted = placeDirections(
    datum.type,
    feature.direction ?? applyToDirection(state.motion, datum.nominal.direction ?? [0, 0, 1]),
  );
  return addEquations(state, wanted, datum.nominal.point, feature.point);
}

/** The turn that the place of the feature fixes, where translations were fixed by earlier datums. */
function takeClocking(
  datum: DatumDefinition,
  feature: SituationFeature,
  before: FrameState,
  state: FrameState,
): FrameState {
  if (before.rotation.kind === 'free' && feature.direction === null)
    return aimAtPlace(datum, feature, before, state);
  if (state.rotation.kind !== 'axis') return state;
  const axis = state.rotation.measured;
  const turning = turningCentre(state.motion, before.equations, axis);
  if (turning === null) return state;
  const { centre, pivot } = turning;
  const angle = clockingTurn({
    datum,
    feature,
    axis,
    centre,
    place: applyToPoint(state.motion, datum.nominal.point),
  });
  if (angle === null) return state;
  const turned = compose(rotationAboutLine(centre, axis, angle), state.motion);
  return {
    motion: satisfyTranslations(turned, state.equations),
    rotation: { kind: 'fixed' },
    equations: state.equations,
    locks: [...state.locks, { kind: 'place', axis, pivot }],
  };
}

/** A second point-like datum: the direction from the fixed point to it fixes two turns. */
function aimAtPlace(
  datum: DatumDefinition,
  feature: SituationFeature,
  before: FrameState,
  state: FrameState,
): FrameState {
  const pivot = before.equations[0];
  if (pivot === undefined || freeTranslations(before.equations).length > 0) return state;
  const nominalLever = subtract(datum.nominal.point, pivot.nominalPoint);
  const measuredLever = subtract(feature.point, pivot.measuredPoint);
  if (norm(nominalLever) <= STRUCTURAL_SINE * norm(datum.nominal.point)) return state;
  const nominal = normalize(nominalLever);
  const measured = normalize(measuredLever);
  const turn = rotationBetween(applyToDirection(state.motion, nominal), measured);
  return {
    motion: turnKeepingPlace(state, turn),
    rotation: { kind: 'axis', nominal, measured },
    equations: state.equations,
    locks: [
      ...state.locks,
      { kind: 'aim', pivot: { nominal: pivot.nominalPoint, measured: pivot.measuredPoint } },
    ],
  };
}

function isParallel(a: Vec3, b: Vec3): boolean {
  return norm(cross(a, b)) < STRUCTURAL_SINE * norm(a) * norm(b);
}

/** Signed angle about `axis` that turns the part of `from` square to the axis onto that of `to`. */
function azimuthBetween(from: Vec3, to: Vec3, axis: Vec3): number {
  const a = rejectFrom(from, axis);
  const b = rejectFrom(to, axis);
  return Math.atan2(dot(axis, cross(a, b)), dot(a, b));
}
