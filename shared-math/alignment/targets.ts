/** Nominal features with their measured points, all moved into one nominal frame: what whole-body fits work on. */
import type { AssociationInput } from '../association/types.ts';
import type { DatumDefinition, NominalFeature } from '../definition.ts';
import { applyToDirection, applyToPoint, inverse } from '../geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { add, addScaled, distance, scale } from '../geometry/vector.ts';
import type { PointBlock } from '../points.ts';
import { distanceRows } from './nominal-distance.ts';

export interface FeatureTarget {
  readonly datum: DatumDefinition;
  /** The nominal feature in the common nominal frame. */
  readonly nominal: NominalFeature;
  /** One for each feature name of the datum, measured coordinates. */
  readonly inputs: readonly AssociationInput[];
}

/** The nominal feature carried by `place` (for a blade datum: the nominal blade frame of its station). */
export function placeNominal(nominal: NominalFeature, place: RigidMotion): NominalFeature {
  return {
    ...nominal,
    point: applyToPoint(place, nominal.point),
    direction: nominal.direction === null ? null : applyToDirection(place, nominal.direction),
  };
}

/** At most `limit` points of a block, taken evenly over it. */
export function thinBlock(block: PointBlock, limit: number): PointBlock {
  const n = block.xyz.length / 3;
  if (n <= limit) return block;
  const picks = Array.from({ length: limit }, (_, i) => Math.floor((i * n) / limit));
  const triples = (a: Float64Array): Float64Array =>
    Float64Array.from(picks.flatMap((i) => [a[3 * i]!, a[3 * i + 1]!, a[3 * i + 2]!]));
  const singles = (a: Float64Array | null): Float64Array | null =>
    a && Float64Array.from(picks, (i) => a[i]!);
  return {
    ...block,
    xyz: triples(block.xyz),
    normals: block.normals && triples(block.normals),
    tipRadius: singles(block.tipRadius),
    sigma: singles(block.sigma),
    temperature: singles(block.temperature),
    run: null,
    direction: null,
  };
}

/** Mean of the points of an input. */
export function centroid({ xyz }: AssociationInput): Vec3 {
  let sum: Vec3 = [0, 0, 0];
  for (let i = 0; i < xyz.length; i += 3) sum = add(sum, pointAt(xyz, i));
  return scale(sum, 3 / xyz.length);
}

/** Steps towards the spatial median: each brings it nearer by a factor; some tenths of a millimetre are enough here. */
const MEDIAN_STEPS = 20;

/**
 * Spatial median of the points of an input: it minimises the sum of distances, so a few wild points hardly move it.
 * Source: Weiszfeld, Tôhoku Math. J. 43 (1937) 355–386.
 */
export function spatialMedian(input: AssociationInput): Vec3 {
  const { xyz } = input;
  let middle = centroid(input);
  for (let step = 0; step < MEDIAN_STEPS; step++) {
    let [sum, weights]: [Vec3, number] = [[0, 0, 0], 0];
    for (let i = 0; i < xyz.length; i += 3) {
      const point = pointAt(xyz, i);
      const weight = 1 / Math.max(distance(point, middle), 1e-6);
      sum = addScaled(sum, point, weight);
      weights += weight;
    }
    middle = scale(sum, 1 / weights);
  }
  return middle;
}

/** The targets without the points that lie farther than `limit` (mm) from their nominal feature under `motion`. */
export function withoutWildPoints(
  targets: readonly FeatureTarget[],
  motion: RigidMotion,
  limit: number,
): readonly FeatureTarget[] {
  const back = inverse(motion);
  return targets.flatMap((target) => {
    const inputs = target.inputs.map(({ xyz, offsets }) => {
      const kept = Array.from({ length: xyz.length / 3 }, (_, i) => i).filter(
        (i) => distanceOf(target, applyToPoint(back, pointAt(xyz, 3 * i)), offsets?.[i] ?? 0) <= limit,
      );
      return {
        xyz: Float64Array.from(kept.flatMap((i) => [...pointAt(xyz, 3 * i)])),
        offsets: offsets ? Float64Array.from(kept, (i) => offsets[i]!) : null,
        weights: null,
      };
    });
    return inputs.every((input) => input.xyz.length > 0) ? [{ ...target, inputs }] : [];
  });
}

function pointAt(xyz: Float64Array, at: number): Vec3 {
  return [xyz[at]!, xyz[at + 1]!, xyz[at + 2]!];
}

function distanceOf({ datum, nominal }: FeatureTarget, q: Vec3, offset: number): number {
  return Math.hypot(...distanceRows(datum.type, nominal, q, offset).map((row) => row.value));
}

/**
 * Median distance (mm) of the points of some features from their nominal features, when `motion` carries nominal
 * into measured coordinates. The median lets single wild points pass: they are for the fits to show, not for alignment.
 */
export function distanceToNominal(targets: readonly FeatureTarget[], motion: RigidMotion): number {
  const back = inverse(motion);
  const distances: number[] = [];
  for (const target of targets) {
    const { datum, nominal, inputs } = target;
    if (datum.type === 'midplane') {
      distances.push(Math.abs(midplaneDistance(nominal, inputs, back)));
      continue;
    }
    for (const { xyz, offsets } of inputs) {
      for (let i = 0; 3 * i < xyz.length; i++) {
        const q = applyToPoint(back, pointAt(xyz, 3 * i));
        distances.push(distanceOf(target, q, offsets?.[i] ?? 0));
      }
    }
  }
  distances.sort((a, b) => a - b);
  return distances[Math.floor(distances.length / 2)] ?? 0;
}

function midplaneDistance(
  nominal: NominalFeature,
  inputs: readonly AssociationInput[],
  back: RigidMotion,
): number {
  const faces = inputs.map(
    (input) => distanceRows('midplane', nominal, applyToPoint(back, centroid(input)), 0)[0]!.value,
  );
  return faces.reduce((a, b) => a + b, 0) / faces.length;
}
