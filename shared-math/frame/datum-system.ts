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
import { multiply } from '../geometry/matrix.ts';
import { applyToDirection, applyToPoint, compose, rotationAboutLine } from '../geometry/rigid-motion.ts';
import { rotationBetween } from '../geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { cross, dot, norm, normalize, rejectFrom, subtract } from '../geometry/vector.ts';
import { clockingTurn } from './clocking.ts';
import {
  type AxisNames,
  freeTranslations,
  independentDirections,
  nameDirection,
  nameOpenFreedoms,
  nameTranslations,
  type RotationState,
  STRUCTURAL_SINE,
  satisfyTranslations,
  type TranslationEquation,
  turningCentre,
} from './freedoms.ts';
import type { PatternTask } from './pattern-fit.ts';
import { patternOffer, placeDirections } from './pattern-freedoms.ts';

/** What a datum offers to the frame: its situation feature in measured coordinates. */
export interface SituationFeature {
  readonly point: Vec3;
  readonly direction: Vec3 | null;
}

/** Associates a datum under the given orientation; called once per datum, in order of precedence. */
export type AssociateDatum<F extends SituationFeature> = (
  datum: DatumDefinition,
  orientation: Orientation,
) => F;

/** Fits a pattern under what the frame built so far asks of it. */
export type AssociatePattern<F extends SituationFeature> = (
  pattern: PatternDatum,
  task: PatternTask,
) => F & { readonly pose: RigidMotion };

/** How one datum fixed turns of the frame: what a propagation of disturbances has to follow. */
export type TurnLock =
  /** All three turns by the pose of a pattern. */
  | { readonly kind: 'pose' }
  /** Two turns by the feature's direction. */
  | { readonly kind: 'direction' }
  /** The turn about `axis` by the feature's direction. */
  | { readonly kind: 'azimuth'; readonly axis: Vec3 }
  /** Two turns by the direction from the fixed point to the feature. */
  | { readonly kind: 'aim'; readonly pivot: { readonly nominal: Vec3; readonly measured: Vec3 } }
  /** The turn about `axis` through the image of `pivot` by the feature's place. */
  | { readonly kind: 'place'; readonly axis: Vec3; readonly pivot: Vec3 };

/** What one datum did to the frame, in order. */
export interface DatumStep {
  readonly orientation: Orientation;
  readonly locks: readonly TurnLock[];
  /** Directions (measured coordinates) along which the feature's place was made to agree with `reference`. */
  readonly along: readonly Vec3[];
  /** Nominal point of the feature that those equations hold. */
  readonly reference: Vec3;
  /** Whether these directions turn with the feature; otherwise with what the earlier datums fixed. */
  readonly ownDirections: boolean;
  /** Directions (measured coordinates) about which a pattern was free to turn; empty for single features. */
  readonly patternTurns: readonly Vec3[];
}

export interface DatumFrame<F extends SituationFeature> {
  /** Carries nominal coordinates into measured coordinates. */
  readonly motion: RigidMotion;
  /** The associated features, in order of the datums. */
  readonly features: readonly F[];
  /** For each datum, the freedoms that it fixed, in words. */
  readonly fixes: readonly (readonly string[])[];
  readonly steps: readonly DatumStep[];
}

interface FrameState {
  readonly motion: RigidMotion;
  readonly rotation: RotationState;
  readonly equations: readonly TranslationEquation[];
  readonly locks: readonly TurnLock[];
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
  let state: FrameState = { motion: start, rotation: { kind: 'free' }, equations: [], locks: [] };
  const features: F[] = [];
  const fixes: string[][] = [];
  const steps: DatumStep[] = [];
  for (const datum of datums) {
    const { feature, next, orientation, ...placed } =
      datum.type === 'pattern' ? takePattern(datum, fitPattern, state) : takeFeature(datum, associate, state);
    const fixed = describeFixed(state, next, names);
    if (fixed.length === 0) throw redundant(datum);
    steps.push({
      orientation,
      locks: next.locks.slice(state.locks.length),
      along: next.equations.slice(state.equations.length).map((e) => e.along),
      ...placed,
    });
    state = next;
    features.push(feature);
    fixes.push(fixed);
  }
  const open = nameOpenFreedoms(state.rotation, state.equations, state.motion.rotation, names);
  if (open.length > 0) throw openFreedom(datums, open);
  return { motion: state.motion, features, fixes, steps };
}

/** One datum taken into the frame. */
interface Taken<F> extends Omit<DatumStep, 'locks' | 'along'> {
  readonly feature: F;
  readonly next: FrameState;
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

/** A pattern is fitted with the turns that are still free, and fixes those that it observes, then its place. */
function takePattern<F extends SituationFeature>(
  pattern: PatternDatum,
  fitPattern: AssociatePattern<F>,
  before: FrameState,
): Taken<F> {
  const { rotation } = before;
  const turns = rotation.kind === 'free' ? AXES : rotation.kind === 'axis' ? [rotation.nominal] : [];
  const offer = patternOffer(pattern, turns);
  const feature = fitPattern(pattern, { start: before.motion, offer });
  const { pose } = feature;
  const turned = takeTurns(before, pose, offer.turns, offer.axis);
  const wanted = offer.translations.map((t) => applyToDirection(pose, t));
  const next = addEquations(turned, wanted, offer.reference, applyToPoint(pose, offer.reference));
  return {
    feature,
    next,
    // A pattern has no direction of its own to hold; `patternTurns` says what it was free to do.
    orientation: { kind: 'free', start: null },
    reference: offer.reference,
    ownDirections: wanted.length < 3,
    patternTurns: rotation.kind === 'free' ? AXES : rotation.kind === 'axis' ? [rotation.measured] : [],
  };
}

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

function takeTurns(
  state: FrameState,
  pose: RigidMotion,
  turns: 'all' | 'tilts' | 'turn' | 'none',
  axis: Vec3 | null,
): FrameState {
  const { rotation, equations, locks } = state;
  if (turns === 'none') return state;
  if (turns === 'tilts' && axis !== null) {
    const measured = applyToDirection(pose, axis);
    const turn = rotationBetween(applyToDirection(state.motion, axis), measured);
    return {
      motion: turnKeepingPlace(state, turn),
      rotation: { kind: 'axis', nominal: axis, measured },
      equations,
      locks: [...locks, { kind: 'direction' }],
    };
  }
  const turned = { rotation: pose.rotation, translation: state.motion.translation };
  return {
    motion: satisfyTranslations(turned, equations),
    rotation: { kind: 'fixed' },
    equations,
    locks: [
      ...locks,
      rotation.kind === 'axis' ? { kind: 'azimuth', axis: rotation.measured } : { kind: 'pose' },
    ],
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

/** The state with the place made to agree along what the wanted directions add to the equations. */
function addEquations(
  state: FrameState,
  wanted: readonly Vec3[],
  nominalPoint: Vec3,
  measuredPoint: Vec3,
): FrameState {
  const added = independentDirections(wanted, freeTranslations(state.equations));
  if (added.length === 0) return state;
  const equations = [...state.equations, ...added.map((along) => ({ along, nominalPoint, measuredPoint }))];
  return { ...state, motion: satisfyTranslations(state.motion, equations), equations };
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

function turnKeepingPlace(state: FrameState, turn: RigidMotion['rotation']): RigidMotion {
  const turned = { rotation: multiply(turn, state.motion.rotation), translation: state.motion.translation };
  return satisfyTranslations(turned, state.equations);
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

function describeFixed(before: FrameState, after: FrameState, names: AxisNames): string[] {
  const stillFree = freeTranslations(after.equations);
  const taken = freeTranslations(before.equations).length - stillFree.length;
  const fixed =
    taken === 0 ? [] : nameTranslations(takenTranslations(before, after), after.motion.rotation, names);
  if (before.rotation.kind === 'free' && after.rotation.kind === 'axis')
    fixed.push(`the two rotations that tilt ${nameDirection(after.rotation.nominal, names)}`);
  if (before.rotation.kind === 'free' && after.rotation.kind === 'fixed') fixed.push('all three rotations');
  if (before.rotation.kind === 'axis' && after.rotation.kind === 'fixed')
    fixed.push(`rotation about ${nameDirection(before.rotation.nominal, names)}`);
  return fixed;
}

/** Orthonormal basis of the translations that were free before and are fixed after. */
function takenTranslations(before: FrameState, after: FrameState): readonly Vec3[] {
  const stillFree = freeTranslations(after.equations);
  const basis: Vec3[] = [];
  for (const free of freeTranslations(before.equations)) {
    const rest = [...stillFree, ...basis].reduce((v, f) => rejectFrom(v, f), free);
    if (norm(rest) > STRUCTURAL_SINE) basis.push(normalize(rest));
  }
  return basis;
}

function redundant(datum: Datum): ReductionError {
  return new ReductionError(
    'redundant-datum',
    `Datum ${datum.label} (${datum.features.join(', ')}) fixes no freedom that the datums before it have left.`,
    'Remove it from the list, change its place in the order, or correct its nominal direction or point.',
    { datum: datum.label, feature: datum.features.join(', ') },
  );
}

function openFreedom(datums: readonly Datum[], open: readonly string[]): ReductionError {
  const letters = datums.map((d) => d.label).join(', ');
  const isClocking = open.length === 1 && open[0]!.startsWith('rotation about');
  return new ReductionError(
    'open-freedom',
    `The datum system ${letters} leaves open: ${open.join('; ')}.`,
    isClocking ? `Add a clocking datum that fixes the ${open[0]}.` : 'Add a datum that fixes what is open.',
  );
}
