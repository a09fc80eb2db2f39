/**
 * Reading a point file: once through, in memory that grows with the points only. What the plan's `import` states is
 * taken; everything else is detected from the first part of the file and said in the import summary.
 */
import { createHash } from 'node:crypto';
import { closeSync, readSync } from 'node:fs';
import type { PartDefinition } from '../../shared-math/definition.ts';
import type { Note } from '../../shared-math/notes/notes.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import type { ExcludedPoint, ExclusionReason } from '../../shared-math/result.ts';
import type { ImportSummary } from '../api.ts';
import { openInput } from '../input-file.ts';
import type { PlanImport } from '../plan/plan-schema.ts';
import { type Cancellation, refuse, throwIfCancelled } from '../problems.ts';
import { byteOrderMark, decoderLabel, detectEncoding, type Encoding, encodingOf } from '../text-encoding.ts';
import { Utf8Stream } from './byte-stream.ts';
import { finishPoints } from './finish-points.ts';
import { hasLoneReturns } from './line-ends.ts';
import { prepareImport } from './prepare-import.ts';
import { RowScanner } from './row-scanner.ts';

export interface ReadPointsOptions {
  readonly definition: PartDefinition;
  readonly planImport?: PlanImport | undefined;
  /** False where the plan leaves the part temperature to a column of the file. */
  readonly partTemperatureKnown?: boolean;
  /** Share of the file read, 0 … 1. */
  readonly onProgress?: (fraction: number) => void;
  readonly signal?: Cancellation | undefined;
}

export interface ReadPoints {
  readonly blocks: readonly PointBlock[];
  /** Line of each point, block by block. */
  readonly lines: readonly Uint32Array[];
  /** Data rows of the file; used + excluded. */
  readonly rows: number;
  readonly used: number;
  readonly excluded: readonly ExcludedPoint[];
  /** Stations that must not be reduced, and why. */
  readonly gaps: readonly { readonly station: number; readonly reason: string; readonly note: Note }[];
  /** Line of the first point of a feature (station null: of the hub). */
  readonly firstLineOf: (station: number | null, feature: string) => number | undefined;
  readonly import: ImportSummary;
  readonly warnings: readonly string[];
  /** One for each of `warnings`. */
  readonly notes: readonly Note[];
  /** Each different reason of `excluded`. */
  readonly reasons: readonly ExclusionReason[];
  readonly name: string;
  readonly sha256: string;
}

/** Bytes at a time: small enough to stay in the processor's cache from the disk to the numbers. */
const PIECE = 64 * 1024;
/** Pieces between two looks at the world outside (progress, cancel). */
const PIECES_PER_TURN = 16;

/** Thrown where bytes turn out not to be UTF-8 after the head was. */
class NotUtf8 extends Error {}

/** Reads and checks a point file. @throws RefusedInput @throws Cancelled */
export async function readPoints(path: string, options: ReadPointsOptions): Promise<ReadPoints> {
  try {
    return await readOnce(path, options, null);
  } catch (error) {
    if (!(error instanceof NotUtf8)) throw error;
    // So far all bytes were ASCII or happened to be valid UTF-8: only Latin-1 explains the whole file.
    return await readOnce(path, options, 'latin1');
  }
}

async function readOnce(
  path: string,
  options: ReadPointsOptions,
  forced: Encoding | null,
): Promise<ReadPoints> {
  const { descriptor, name, bytes } = openInput(path, 'point file');
  try {
    const hash = createHash('sha256');
    const buffer = new Uint8Array(PIECE);
    const first = fill(descriptor, buffer);
    const whole = first < PIECE;
    const head = buffer.subarray(0, first);
    hash.update(head);
    if (first === 0)
      refuse({
        code: 'empty-file',
        file: name,
        says: 'the point file is empty',
        expected: 'a header and one row a point',
        remedy: 'export the points again',
      });

    const stated = encodingOf(options.planImport?.encoding ?? '');
    const mark = byteOrderMark(head);
    const detected = mark ?? (stated === null ? detectEncoding(head, whole, name, 'point file (CSV)') : null);
    const encoding = forced ?? detected?.encoding ?? stated ?? 'utf-8';
    const body = head.subarray(mark?.mark ?? 0);
    // A character or line that the head cuts in two is left to the stream.
    const headText = new TextDecoder(decoderLabel(encoding), { ignoreBOM: true }).decode(body, {
      stream: !whole,
    });
    const prepared = prepareImport(wholeLines(headText, whole), { ...options, file: name, encoding });
    const scanner = new RowScanner(
      prepared.dialect.delimiter,
      prepared.dialect.decimal,
      name,
      prepared.collector.row,
    );
    const stream = new Utf8Stream(encoding, hasLoneReturns(whole ? headText : headText.slice(0, -1)));
    const push = (piece: Uint8Array, last: boolean): void => {
      let utf8: Uint8Array;
      try {
        utf8 = stream.next(piece, last);
      } catch {
        if (stated === null && encoding === 'utf-8' && mark === null) throw new NotUtf8();
        refuse({
          code: 'wrong-encoding',
          file: name,
          says: 'the bytes do not fit the encoding',
          value: encoding,
          expected: 'text in one encoding throughout',
          remedy: 'export as UTF-8, or correct import.encoding in the plan',
        });
      }
      scanner.push(utf8, last);
    };

    push(body, whole);
    let read = first;
    for (let turn = 1; !whole; turn += 1) {
      if (turn % PIECES_PER_TURN === 0) {
        options.onProgress?.(bytes > 0 ? Math.min(1, read / bytes) : 0);
        await new Promise(setImmediate);
        throwIfCancelled(options.signal);
      }
      const length = fill(descriptor, buffer);
      const piece = buffer.subarray(0, length);
      hash.update(piece);
      read += length;
      const last = length < PIECE;
      push(piece, last);
      if (last) break;
    }
    throwIfCancelled(options.signal);
    options.onProgress?.(1);
    return {
      ...finishPoints(prepared, { ...options, file: name, encoding }),
      name,
      sha256: hash.digest('hex'),
    };
  } finally {
    closeSync(descriptor);
  }
}

/** Fills the buffer as far as the file goes. */
function fill(descriptor: number, buffer: Uint8Array): number {
  let length = 0;
  while (length < buffer.length) {
    const count = readSync(descriptor, buffer, length, buffer.length - length, null);
    if (count === 0) break;
    length += count;
  }
  return length;
}

/** The text up to its last line end; all of it where no line ends or nothing follows. */
function wholeLines(text: string, whole: boolean): string {
  if (whole) return text;
  const end = Math.max(text.lastIndexOf('\n'), text.lastIndexOf('\r'));
  return end < 0 ? text : text.slice(0, end + 1);
}
