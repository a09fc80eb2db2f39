/**
 * The points of one feature against its substitute feature, for residual plots: distances, places on the feature, and
 * surface points in the disc frame.
 *
 * Source: orthogonal distances as in association/residuals.ts; the charts of place (unrolled cylinder, plane map) are common
 * practice, no source.
 */
import { pick } from '../association/criteria/samples.ts';
import { residualDistances, type Surface } from '../association/residuals.ts';
import type { AssociationInput } from '../association/types.ts';
import type { Datum, DatumDefinition, TemperatureDefinition } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import { associateDatum } from '../frame/associate-datum.ts';
import { datumInputs } from '../frame/datum-points.ts';
import { memberDatums } from '../frame/pattern-fit.ts';
import { atReferenceTemperature } from '../frame/temperature.ts';
import { transpose } from '../geometry/matrix.ts';
import { applyToDirection, applyToPoint, applyToPoints, compose, inverse } from '../geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { combine, norm, rejectFrom, scale, subtract } from '../geometry/vector.ts';
import type { PointBlock } from '../points.ts';
import { moveBlock } from '../pose/blade-pose.ts';
import type { FeatureReport, FrameResult } from '../result.ts';
import { type FeatureAxes, featureAxes, placesOn } from './feature-chart.ts';

/** What the distances refer to. */
export type ResidualBasis =
  /** The substitute feature of the datum, as the result reports it. */
  | 'datum'
  /** A least-squares (or as the datum asks) fit to the feature's own points: members of patterns, stations not reduced. */
  | 'own'
  /** The nominal feature: the points determine no feature. */
  | 'nominal';

export interface MeasuredFeature {
  readonly datum: Datum;
  /** Name of the feature among those of the datum. */
  readonly feature: string;
  /** Blocks of all features of the datum, in their order, machine frame; null where the file has none. */
  readonly blocks: readonly (PointBlock | null)[];
  /** For each block, 1 for every point that the reduction used. */
  readonly used: readonly Uint8Array[];
  /** The datum as the result reports it; null where its station was not reduced. */
  readonly report: FeatureReport | null;
  readonly frame: FrameResult;
  /** From the frame of the datum's nominal values into the disc frame: of a blade its nominal frame, of the hub nothing. */
  readonly nominal: RigidMotion;
  readonly temperature: TemperatureDefinition | null;
}

export interface FeatureResiduals {
  /** The datum, or the member of the pattern, that the feature belongs to. */
  readonly member: DatumDefinition;
  /** Surface points in the disc frame, interleaved, mm. */
  readonly xyz: Float64Array;
  /** Signed distances, mm: see `residualDistances`; faces of a mid-plane each from their own face. */
  readonly residual: Float64Array;
  /** Two numbers a point, interleaved: see `placesOn`. */
  readonly place: Float64Array;
  /** In the disc frame. */
  readonly axes: FeatureAxes;
  /** In the disc frame. */
  readonly surface: Surface;
  readonly basis: ResidualBasis;
  /** √(Σd²/n) over the used points, mm; NaN where none is used. */
  readonly rms: number;
  /** Peak to valley over the used points (line, point: the largest distance), mm; NaN where none is used. */
  readonly form: number;
}

/**
 * Distances of all points of a feature, excluded ones included, from the feature that the used ones determine.
 *
 * @throws ReductionError `missing-feature` where the file has no points of the feature; those of `datumInputs`.
 */
export function featureResiduals(measured: MeasuredFeature): FeatureResiduals {
  const { datum, feature, nominal: toDisc } = measured;
  const at = datum.features.indexOf(feature);
  const block = measured.blocks[at] ?? null;
  if (block === null)
    throw new ReductionError('missing-feature', `There are no points of feature ${feature}.`, '', {
      feature,
    });
  const { member, face, first } = memberOf(datum, at);
  const inputs = member.features.map((_, k) => inputOf(member, measured, first + k));
  const input = inputs[face]!;
  const usedPlaces = inputs.map((_, k) => placesOf(measured.used[first + k]));
  const { surface, basis } = surfaceOf(measured, member, inputs, usedPlaces);
  const residual = residualDistances(surface, input!);
  const own = usedPlaces[face]!;
  if (member.type === 'midplane') shift(residual, -weightedMean(residual, own, member, block));
  const axes = featureAxes(surface, member.nominal.point);
  return {
    member,
    xyz: applyToPoints(toDisc, onSurface(surface, input!)),
    residual,
    place: placesOn(surface, axes, input!.xyz),
    axes: {
      origin: applyToPoint(toDisc, axes.origin),
      u: applyToDirection(toDisc, axes.u),
      v: applyToDirection(toDisc, axes.v),
      normal: applyToDirection(toDisc, axes.normal),
    },
    surface: {
      ...surface,
      point: applyToPoint(toDisc, surface.point),
      direction: surface.direction && applyToDirection(toDisc, surface.direction),
    },
    basis,
    ...spread(residual, own, member.type === 'line' || member.type === 'point'),
  };
}

/** The member that the feature at place `at` of the datum belongs to, its place there, and where the member begins. */
function memberOf(
  datum: Datum,
  at: number,
): { readonly member: DatumDefinition; readonly face: number; readonly first: number } {
  let first = 0;
  for (const member of memberDatums(datum)) {
    if (at < first + member.features.length) return { member, face: at - first, first };
    first += member.features.length;
  }
  throw new ReductionError('invalid-argument', `Datum ${datum.label} has no such feature.`);
}

/** Points of one block at 20 °C in nominal coordinates, tip radius as in the reduction; null without points. */
function inputOf(
  member: DatumDefinition,
  { blocks, used, temperature, frame, nominal }: MeasuredFeature,
  at: number,
): AssociationInput | null {
  const toDisc = inverse({ rotation: transpose(frame.rotation), translation: frame.origin });
  const block = blocks[at] ?? null;
  if (block === null) return null;
  // Only the used points set the temperature of the feature, as in the reduction.
  const known = block.temperature;
  const ofUsed = known === null ? null : Float64Array.from(placesOf(used[at]), (i) => known[i]!);
  const scaled = atReferenceTemperature({ ...block, temperature: ofUsed }, temperature, frame.origin);
  return datumInputs({ ...member, weights: 'equal' }, [
    moveBlock(scaled, compose(inverse(nominal), toDisc)),
  ])[0]!;
}

function placesOf(used: Uint8Array | undefined): readonly number[] {
  const places: number[] = [];
  used?.forEach((flag, i) => {
    if (flag !== 0) places.push(i);
  });
  return places;
}

function surfaceOf(
  { datum, report }: MeasuredFeature,
  member: DatumDefinition,
  inputs: readonly (AssociationInput | null)[],
  used: readonly (readonly number[])[],
): { readonly surface: Surface; readonly basis: ResidualBasis } {
  if (report !== null && datum.type !== 'pattern') {
    const { point, direction, radius, halfAngle } = report;
    return { surface: { type: member.type, point, direction, radius, halfAngle }, basis: 'datum' };
  }
  const nominal = { surface: { type: member.type, ...member.nominal }, basis: 'nominal' } as const;
  const chosen = inputs.map((input, k) => (input === null ? null : pick(input, used[k]!)));
  if (chosen.some((input) => input === null || input.xyz.length === 0)) return nominal;
  try {
    const start = member.nominal.direction;
    const { point, direction, radius, halfAngle } = associateDatum(
      { ...member, screen: null, weights: 'equal' },
      chosen as AssociationInput[],
      { kind: 'free', start },
    );
    return { surface: { type: member.type, point, direction, radius, halfAngle }, basis: 'own' };
  } catch (error) {
    if (error instanceof ReductionError) return nominal;
    throw error;
  }
}

/** The face of a mid-plane lies at the mean distance of its used points, weighted as in the association. */
function weightedMean(
  distances: Float64Array,
  used: readonly number[],
  { weights }: DatumDefinition,
  { sigma }: PointBlock,
): number {
  let [sum, total] = [0, 0];
  for (const i of used) {
    const w = weights === 'sigma' && sigma !== null ? 1 / sigma[i]! ** 2 : 1;
    sum += w * distances[i]!;
    total += w;
  }
  return total === 0 ? 0 : sum / total;
}

function shift(values: Float64Array, by: number): void {
  for (let i = 0; i < values.length; i++) values[i]! += by;
}

/** Surface points: tip centres without normals are carried by their offsets along the normal of the surface. */
function onSurface(surface: Surface, { xyz, offsets }: AssociationInput): Float64Array {
  if (!offsets) return xyz;
  const moved = xyz.slice();
  for (let i = 0; i < offsets.length; i++) {
    const normal = normalAt(surface, [xyz[3 * i]!, xyz[3 * i + 1]!, xyz[3 * i + 2]!]);
    for (const axis of [0, 1, 2] as const) moved[3 * i + axis]! -= offsets[i]! * normal[axis];
  }
  return moved;
}

/** Direction in which the signed distance of the point grows fastest; zero on the axis or at the centre. */
function normalAt({ type, point, direction, halfAngle }: Surface, at: Vec3): Vec3 {
  const arm = subtract(at, point);
  if (direction === null) return unitOrZero(arm);
  if (type === 'plane' || type === 'midplane') return direction;
  const radial = unitOrZero(rejectFrom(arm, direction));
  const slope = type === 'cone' ? (halfAngle ?? 0) : 0;
  return combine(Math.cos(slope), radial, -Math.sin(slope), direction);
}

function unitOrZero(a: Vec3): Vec3 {
  const length = norm(a);
  return length > 0 ? scale(a, 1 / length) : a;
}

function spread(
  residual: Float64Array,
  used: readonly number[],
  unsigned: boolean,
): { readonly rms: number; readonly form: number } {
  if (used.length === 0) return { rms: Number.NaN, form: Number.NaN };
  let [squares, least, most] = [0, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const i of used) {
    const d = residual[i]!;
    squares += d * d;
    least = Math.min(least, d);
    most = Math.max(most, d);
  }
  return { rms: Math.sqrt(squares / used.length), form: unsigned ? most : most - least };
}
