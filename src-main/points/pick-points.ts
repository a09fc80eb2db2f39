import type { PointBlock } from '../../shared-math/points.ts';

type Numbers = Float64Array | Float32Array | Uint32Array | Uint16Array | Uint8Array | Int8Array | Int32Array;

/** The block with the points of the given indices only, in that order. Every array of the block goes along. */
export function pickPoints(block: PointBlock, indices: ArrayLike<number>): PointBlock {
  const points = block.xyz.length / 3;
  const entries = Object.entries(block).map(([key, value]: [string, unknown]) => {
    if (!ArrayBuffer.isView(value)) return [key, value];
    const values = value as Numbers;
    return [key, pick(values, indices, values.length === 3 * points ? 3 : 1)];
  });
  return Object.fromEntries(entries) as unknown as PointBlock;
}

function pick(values: Numbers, indices: ArrayLike<number>, width: number): Numbers {
  const picked = new (values.constructor as new (length: number) => Numbers)(width * indices.length);
  for (let k = 0; k < indices.length; k += 1)
    for (let part = 0; part < width; part += 1)
      picked[width * k + part] = values[width * (indices[k] as number) + part] as number;
  return picked;
}
