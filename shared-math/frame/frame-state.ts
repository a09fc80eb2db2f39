/** What a list of datums has done to the frame so far, and the two ways to change it. */
import type { Orientation } from '../association/types.ts';
import { multiply } from '../geometry/matrix.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import {
  freeTranslations,
  independentDirections,
  type RotationState,
  satisfyTranslations,
  type TranslationEquation,
} from './freedoms.ts';

/** What a datum offers to the frame: its situation feature in measured coordinates. */
export interface SituationFeature {
  readonly point: Vec3;
  readonly direction: Vec3 | null;
}

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

export interface FrameState {
  readonly motion: RigidMotion;
  readonly rotation: RotationState;
  readonly equations: readonly TranslationEquation[];
  readonly locks: readonly TurnLock[];
}

/** One datum taken into the frame. */
export interface Taken<F> extends Omit<DatumStep, 'locks' | 'along'> {
  readonly feature: F;
  readonly next: FrameState;
}

/** The state with the place made to agree along what the wanted directions add to the equations. */
export function addEquations(
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

/** The motion turned on its measured side, with the places that were fixed kept. */
export function turnKeepingPlace(state: FrameState, turn: RigidMotion['rotation']): RigidMotion {
  const turned = { rotation: multiply(turn, state.motion.rotation), translation: state.motion.translation };
  return satisfyTranslations(turned, state.equations);
}
