/** How a pattern of features enters a datum system: the turns that it observes, then its place. */
import type { PatternDatum } from '../definition.ts';
import { applyToDirection, applyToPoint } from '../geometry/rigid-motion.ts';
import { rotationBetween } from '../geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import {
  addEquations,
  type FrameState,
  type SituationFeature,
  type Taken,
  turnKeepingPlace,
} from './frame-state.ts';
import { satisfyTranslations } from './freedoms.ts';
import type { PatternTask } from './pattern-fit.ts';
import { patternOffer } from './pattern-freedoms.ts';

/** Fits a pattern under what the frame built so far asks of it. */
export type AssociatePattern<F extends SituationFeature> = (
  pattern: PatternDatum,
  task: PatternTask,
) => F & { readonly pose: RigidMotion };

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** A pattern is fitted with the turns that are still free, and fixes those that it observes, then its place. */
export function takePattern<F extends SituationFeature>(
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
