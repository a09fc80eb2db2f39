/**
 * From measured points to the input of an association: tip-centre compensation and weights.
 *
 * Tip centre = surface point + r·n, n pointing out of the material. With normals each point moves by −r·n. Without, the
 * association carries the signed distance at which a tip centre lies from its surface: +r from a plane whose direction
 * points out of the material, −r for an `inside` round feature (the centre path of a bore is smaller by r), +r for
 * an `outside` one. For equal radii this equals fitting first and shifting the result.
 *
 * Source: common practice of the trade for ball probes, no source.
 */
import type { AssociationInput } from '../association/types.ts';
import type { Datum, DatumDefinition } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import type { PointBlock } from '../points.ts';
import { splitByMember } from './pattern-fit.ts';

/**
 * One association input for each feature name of the datum, in the coordinates of the blocks.
 *
 * @throws ReductionError `missing-side`, `missing-normals` or `mixed-probe-radius` where tip centres cannot be
 *   compensated, `invalid-argument` where sigma weights are asked for and a point has no sigma.
 */
export function datumInputs(datum: Datum, blocks: readonly PointBlock[]): readonly AssociationInput[] {
  if (datum.type === 'pattern') {
    const parts = splitByMember(datum, blocks);
    try {
      return datum.members.flatMap((member, k) => datumInputs(member, parts[k]!));
    } catch (error) {
      throw error instanceof ReductionError ? error.at({ datum: datum.label }) : error;
    }
  }
  const inputs = blocks.map((block) => {
    const { xyz, offsets } = surfacePoints(datum, block);
    return { xyz, offsets, weights: datum.weights === 'sigma' ? sigmaWeights(datum, block) : null };
  });
  if (datum.type === 'midplane') requireOneTip(datum, blocks);
  return inputs;
}

function surfacePoints(
  datum: DatumDefinition,
  block: PointBlock,
): { readonly xyz: Float64Array; readonly offsets: Float64Array | null } {
  const { xyz, normals, tipRadius } = block;
  if (tipRadius === null) return { xyz, offsets: null };
  if (normals !== null) return { xyz: alongNormals(xyz, normals, tipRadius), offsets: null };
  const sign = tipSign(datum, block);
  if (sign === 0) return { xyz, offsets: null };
  return { xyz, offsets: tipRadius.map((r) => sign * r) };
}

function alongNormals(xyz: Float64Array, normals: Float64Array, tipRadius: Float64Array): Float64Array {
  const out = new Float64Array(xyz.length);
  for (let i = 0; i < tipRadius.length; i++) {
    const r = tipRadius[i]!;
    for (let k = 3 * i; k < 3 * i + 3; k++) out[k] = xyz[k]! - r * normals[k]!;
  }
  return out;
}

/** Sign of the distance of a tip centre from its surface; 0 where equal tips on both faces leave the result alone. */
function tipSign(datum: DatumDefinition, block: PointBlock): -1 | 0 | 1 {
  switch (datum.type) {
    case 'plane':
      return datum.material === 'negative' ? 1 : -1;
    case 'circle':
    case 'sphere':
    case 'cylinder':
    case 'cone':
      if (datum.side === null)
        throw ReductionError.of(
          'missing-side',
          { code: 'side-unknown', values: { datum: datum.label, feature: block.feature } },
          place(datum, block),
        );
      return datum.side === 'inside' ? -1 : 1;
    case 'midplane':
      return 0;
    case 'line':
    case 'point':
      if (block.tipRadius!.every((r) => r === 0)) return 0;
      throw ReductionError.of(
        'missing-normals',
        {
          code: 'tips-without-normals',
          values: { datum: datum.label, feature: block.feature, type: datum.type },
        },
        place(datum, block),
      );
  }
}

function requireOneTip(datum: DatumDefinition, blocks: readonly PointBlock[]): void {
  if (blocks.every((b) => b.tipRadius === null || b.normals !== null)) return;
  const radii = blocks.map((b) =>
    b.normals === null && b.tipRadius !== null ? b.tipRadius : new Float64Array(1),
  );
  const first = radii[0]![0]!;
  if (radii.some((face) => face.some((r) => r !== first)))
    throw ReductionError.of(
      'mixed-probe-radius',
      { code: 'mixed-tips', values: { datum: datum.label, features: datum.features } },
      place(datum, blocks[0]!),
    );
}

function sigmaWeights(datum: DatumDefinition, block: PointBlock): Float64Array {
  if (block.sigma === null || block.sigma.some((s) => !(s > 0)))
    throw ReductionError.of(
      'invalid-argument',
      { code: 'sigma-missing', values: { datum: datum.label, feature: block.feature } },
      place(datum, block),
    );
  return block.sigma.map((s) => 1 / (s * s));
}

function place(datum: DatumDefinition, block: PointBlock) {
  return { station: block.station, feature: block.feature, datum: datum.label };
}
