/** Pieces of a file in any encoding as pieces of UTF-8 with line feeds, untouched wherever they are that already. */
import { isAscii } from 'node:buffer';
import { decoderLabel, type Encoding } from '../text-encoding.ts';
import { tidyLineEnds } from './line-ends.ts';

export class Utf8Stream {
  readonly #encoding: Encoding;
  readonly #loneReturns: boolean;
  readonly #decoder: InstanceType<typeof TextDecoder>;
  /** Half of a pair of carriage return and line feed, kept back until the other half is seen. */
  #held = '';
  #onlyAscii = true;

  /** @param loneReturns whether single carriage returns end lines */
  constructor(encoding: Encoding, loneReturns: boolean) {
    this.#encoding = encoding;
    this.#loneReturns = loneReturns;
    this.#decoder = new TextDecoder(decoderLabel(encoding), { fatal: true, ignoreBOM: true });
  }

  /** The next piece, without the byte-order mark. @throws TypeError where the bytes do not fit the encoding */
  next(piece: Uint8Array, last: boolean): Uint8Array {
    const plain = this.#encoding === 'utf-8' || this.#encoding === 'latin1';
    if (plain && !this.#loneReturns && this.#onlyAscii && isAscii(piece)) return piece;
    this.#onlyAscii = false;
    const text = this.#decoder.decode(piece, { stream: !last });
    // Valid UTF-8 needs no other form; a character cut by the piece's end is joined again by the scanner.
    if (this.#encoding === 'utf-8' && !this.#loneReturns) return piece;
    if (!this.#loneReturns) return Buffer.from(text);
    const joined = this.#held + text;
    this.#held = !last && joined.endsWith('\r') ? '\r' : '';
    return Buffer.from(tidyLineEnds(this.#held === '' ? joined : joined.slice(0, -1)));
  }
}
