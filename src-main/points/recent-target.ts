/** Finding the target of a row: points of one feature mostly follow each other, so the row before is looked at first. */
import type { Columns } from './columns.ts';
import type { PointTarget, PointTargets } from './point-targets.ts';
import type { Row } from './row-scanner.ts';

export class RecentTarget {
  readonly #targets: PointTargets;
  readonly #packed: boolean;
  /** Cell of the label, else of the station. */
  readonly #first: number;
  /** Cell of the feature; none with a label. */
  readonly #second: number | null;
  #firstBytes: Buffer = Buffer.alloc(0);
  #secondBytes: Buffer = Buffer.alloc(0);
  #target: PointTarget | null = null;

  constructor(targets: PointTargets, { label, station, feature }: Columns['index']) {
    this.#targets = targets;
    this.#packed = label !== undefined;
    this.#first = label ?? station ?? 0;
    this.#second = this.#packed ? null : (feature ?? null);
  }

  /** The row has these cells. */
  of({ bytes, bounds }: Row): PointTarget {
    const start = bounds[2 * this.#first] as number;
    const end = bounds[2 * this.#first + 1] as number;
    const from = this.#second === null ? 0 : (bounds[2 * this.#second] as number);
    const to = this.#second === null ? 0 : (bounds[2 * this.#second + 1] as number);
    if (
      this.#target !== null &&
      sameBytes(this.#firstBytes, bytes, start, end) &&
      sameBytes(this.#secondBytes, bytes, from, to)
    )
      return this.#target;
    // Copies: the bytes are overwritten by the next piece.
    this.#firstBytes = Buffer.from(bytes.subarray(start, end));
    this.#secondBytes = Buffer.from(bytes.subarray(from, to));
    const first = this.#firstBytes.toString('utf8');
    this.#target = this.#packed
      ? this.#targets.byLabel(first)
      : this.#targets.byNames(first, this.#secondBytes.toString('utf8'));
    return this.#target;
  }
}

function sameBytes(known: Buffer, bytes: Buffer, start: number, end: number): boolean {
  if (end - start !== known.length) return false;
  for (let at = 0; at < known.length; at += 1) if (known[at] !== bytes[start + at]) return false;
  return true;
}
