/**
 * What the points of a file look like before any plan is there: the shapes of the hub features and the size of the ring
 * of blades. Hints for a person who writes a plan beside the drawing; no result rests on them.
 */
import { associateCircle, associateCylinder, associatePlane } from '../../shared-math/association/index.ts';
import { ReductionError } from '../../shared-math/errors.ts';
import type { FeatureShape, RingShape } from '../api.ts';

/** Points kept of a feature: enough for a shape, and few enough to be quick. */
const KEPT = 300;
/** Residuals below this share of the size mean that the shape fits: far above form errors, far below any other shape. */
const FITS = 5e-4;
/** Fewer stations than this make no ring worth a hint. */
const FEWEST_STATIONS = 5;

/** Every so many points of a feature that has any number of them, spread over all of it. */
export class SpacedPoints {
  #kept: number[] = [];
  #stride = 1;
  #seen = 0;

  add(x: number, y: number, z: number): void {
    if (this.#seen % this.#stride === 0) this.#kept.push(x, y, z);
    this.#seen += 1;
    if (this.#kept.length < 6 * KEPT) return;
    this.#stride *= 2;
    this.#kept = this.#kept.filter((_, index) => Math.floor(index / 3) % 2 === 0);
  }

  /** Interleaved coordinates times a factor. */
  scaled(factor: number): Float64Array {
    return Float64Array.from(this.#kept, (value) => value * factor);
  }
}

/** @param xyz interleaved, mm */
export function shapeOf(feature: string, xyz: Float64Array): FeatureShape {
  const unknown: FeatureShape = { feature, looks: [], radius: null };
  if (xyz.length < 3 * 5) return unknown;
  const size = sizeOf(xyz);
  const free = { kind: 'free', start: null } as const;
  const plane = attempt(() => associatePlane({ xyz }, free));
  if (plane !== null && plane.rms < FITS * size) {
    const circle = attempt(() => associateCircle({ xyz }, free));
    const isRound = circle !== null && circle.radius !== null && circle.rms < FITS * circle.radius;
    // A face that was measured along one ring and the section of a bore cannot be told apart.
    return {
      feature,
      looks: isRound ? ['plane', 'circle'] : ['plane'],
      radius: isRound ? circle.radius : null,
    };
  }
  const cylinder = attempt(() => associateCylinder({ xyz }, free));
  const fits = cylinder !== null && cylinder.radius !== null && cylinder.rms < FITS * size;
  return fits ? { feature, looks: ['cylinder'], radius: cylinder.radius } : unknown;
}

/** The circle through the middles of the stations. @param centres interleaved, mm */
export function ringOf(centres: Float64Array): RingShape | null {
  if (centres.length < 3 * FEWEST_STATIONS) return null;
  const circle = attempt(() => associateCircle({ xyz: centres }, { kind: 'free', start: null }));
  if (circle === null || circle.radius === null || circle.rms > 0.01 * circle.radius) return null;
  return { radius: circle.radius, stations: centres.length / 3 };
}

function attempt<T>(associate: () => T): T | null {
  try {
    return associate();
  } catch (error) {
    if (error instanceof ReductionError) return null;
    throw error;
  }
}

function sizeOf(xyz: Float64Array): number {
  let size = 0;
  for (const axis of [0, 1, 2]) {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let at = axis; at < xyz.length; at += 3) {
      low = Math.min(low, xyz[at]!);
      high = Math.max(high, xyz[at]!);
    }
    size = Math.max(size, high - low);
  }
  return size;
}
