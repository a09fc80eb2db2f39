/** Points of one feature while the file is read: typed arrays that grow. */
import type { PointBlock } from '../../shared-math/points.ts';
import type { Cloud } from './length-unit.ts';
import type { Direction } from './repeat-labels.ts';

const FIRST_CAPACITY = 64;
/** Points of a feature that `cloud` looks at. */
const CLOUD_SAMPLE = 60;

/** Optional values: undecided until the first point, then all points of the feature have them or none has. */
type Optional = 'undecided' | 'present' | 'absent';

export class GrowingBlock {
  readonly station: number | null;
  readonly feature: string;
  count = 0;
  hasNormals: Optional = 'undecided';
  hasRadius: Optional = 'undecided';
  hasSigma: Optional = 'undecided';
  hasTemperature: Optional = 'undecided';
  #capacity = FIRST_CAPACITY;
  #xyz = new Float64Array(3 * FIRST_CAPACITY);
  #lines = new Uint32Array(FIRST_CAPACITY);
  #normals: Float64Array | null = null;
  #radius: Float64Array | null = null;
  #sigma: Float64Array | null = null;
  #temperature: Float64Array | null = null;
  #run: Uint32Array | null = null;
  #direction: Int8Array | null = null;

  constructor(station: number | null, feature: string) {
    this.station = station;
    this.feature = feature;
  }

  /** Adds the point of a line; values are x, y, z, and from 3 the normal where the point has one. */
  add(line: number, values: Float64Array, hasNormal: boolean): void {
    if (this.count === this.#capacity) this.#grow();
    const at = 3 * this.count;
    const xyz = this.#xyz;
    xyz[at] = values[0] as number;
    xyz[at + 1] = values[1] as number;
    xyz[at + 2] = values[2] as number;
    if (hasNormal) {
      this.#normals ??= new Float64Array(3 * this.#capacity);
      const normals = this.#normals;
      normals[at] = values[3] as number;
      normals[at + 1] = values[4] as number;
      normals[at + 2] = values[5] as number;
    }
    this.#lines[this.count] = line;
    this.count += 1;
  }

  /** The following belong to the point added last. */
  setRadius(radius: number): void {
    this.#radius ??= new Float64Array(this.#capacity);
    this.#radius[this.count - 1] = radius;
  }

  setSigma(sigma: number): void {
    this.#sigma ??= new Float64Array(this.#capacity);
    this.#sigma[this.count - 1] = sigma;
  }

  setTemperature(temperature: number): void {
    this.#temperature ??= new Float64Array(this.#capacity);
    this.#temperature[this.count - 1] = temperature;
  }

  setRun(run: number): void {
    this.#run ??= new Uint32Array(this.#capacity);
    this.#run[this.count - 1] = run;
  }

  setDirection(direction: Direction): void {
    this.#direction ??= new Int8Array(this.#capacity);
    this.#direction[this.count - 1] = direction;
  }

  /** Lines of the points, for the list of those that are left out. */
  lines(): Uint32Array {
    return this.#lines.subarray(0, this.count);
  }

  /** Where the points lie, from a sample of them: enough to tell one unit from another. */
  cloud(): Cloud {
    const sum: [number, number, number] = [0, 0, 0];
    const low: [number, number, number] = [Infinity, Infinity, Infinity];
    const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
    const step = 3 * Math.ceil(this.count / CLOUD_SAMPLE);
    let count = 0;
    for (let at = 0; at < 3 * this.count; at += step) {
      count += 1;
      for (let axis = 0; axis < 3; axis += 1) {
        const value = this.#xyz[at + axis] as number;
        sum[axis] = (sum[axis] as number) + value;
        if (value < (low[axis] as number)) low[axis] = value;
        if (value > (high[axis] as number)) high[axis] = value;
      }
    }
    return { station: this.station, sum, count, low, high };
  }

  /** The block for the mathematics, lengths multiplied by `scale` (mm in the file's unit). Called once, at the end. */
  finish(scale: number): PointBlock {
    return {
      station: this.station,
      feature: this.feature,
      xyz: scaled(this.#xyz, 3 * this.count, scale),
      normals: this.#normals?.subarray(0, 3 * this.count) ?? null,
      tipRadius: this.#radius === null ? null : scaled(this.#radius, this.count, scale),
      sigma: this.#sigma === null ? null : scaled(this.#sigma, this.count, scale),
      temperature: this.#temperature?.subarray(0, this.count) ?? null,
      run: this.#run?.subarray(0, this.count) ?? null,
      direction: this.#direction?.subarray(0, this.count) ?? null,
    };
  }

  #grow(): void {
    this.#capacity *= 2;
    this.#xyz = grown(this.#xyz, 3 * this.#capacity);
    this.#lines = grownInto(this.#lines, new Uint32Array(this.#capacity));
    if (this.#run !== null) this.#run = grownInto(this.#run, new Uint32Array(this.#capacity));
    if (this.#direction !== null) this.#direction = grownInto(this.#direction, new Int8Array(this.#capacity));
    if (this.#normals !== null) this.#normals = grown(this.#normals, 3 * this.#capacity);
    if (this.#radius !== null) this.#radius = grown(this.#radius, this.#capacity);
    if (this.#sigma !== null) this.#sigma = grown(this.#sigma, this.#capacity);
    if (this.#temperature !== null) this.#temperature = grown(this.#temperature, this.#capacity);
  }
}

function grown(values: Float64Array, length: number): Float64Array<ArrayBuffer> {
  return grownInto(values, new Float64Array(length));
}

function grownInto<T extends Float64Array | Uint32Array | Int8Array>(
  values: ArrayLike<number>,
  larger: T,
): T {
  larger.set(values);
  return larger;
}

/** The first values, multiplied in place. */
function scaled(values: Float64Array, length: number, scale: number): Float64Array {
  const used = values.subarray(0, length);
  if (scale !== 1) for (let at = 0; at < length; at += 1) used[at] = (used[at] as number) * scale;
  return used;
}
