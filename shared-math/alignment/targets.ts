/** Nominal features with their measured points, all moved into one nominal frame: what whole-body fits work on. */
import type { AssociationInput } from '../association/types.ts';
import type { DatumDefinition, NominalFeature } from '../definition.ts';
import { applyToDirection, applyToPoint, inverse } from '../geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
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
  };
}

/** Mean of the points of an input. */
export function centroid({ xyz }: AssociationInput): Vec3 {
  const n = xyz.length / 3;
  let [x, y, z] = [0, 0, 0];
  for (let i = 0; i < xyz.length; i += 3) {
    x += xyz[i]!;
    y += xyz[i + 1]!;
    z += xyz[i + 2]!;
  }
  return [x / n, y / n, z / n];
}

/**
 * Median distance (mm) of the points of some features from their nominal features, when `motion` carries nominal
 * into measured coordinates. The median lets single wild points pass: they are for the fits to show, not for alignment.
 */
export function distanceToNominal(targets: readonly FeatureTarget[], motion: RigidMotion): number {
  const back = inverse(motion);
  const distances: number[] = [];
  for (const { datum, nominal, inputs } of targets) {
    if (datum.type === 'midplane') {
      distances.push(Math.abs(midplaneDistance(nominal, inputs, back)));
      continue;
    }
    for (const { xyz, offsets } of inputs) {
      for (let i = 0; 3 * i < xyz.length; i++) {
        const q = applyToPoint(back, [xyz[3 * i]!, xyz[3 * i + 1]!, xyz[3 * i + 2]!]);
        const rows = distanceRows(datum.type, nominal, q, offsets?.[i] ?? 0);
        distances.push(Math.hypot(...rows.map((row) => row.value)));
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
