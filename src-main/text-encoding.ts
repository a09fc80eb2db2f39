/**
 * Telling text from other files, and which encoding it is in, from its first bytes.
 *
 * Order of evidence: byte-order mark; zero bytes at every other place (UTF-16 without a mark); signatures and
 * control characters of files that are not text; validity as UTF-8; else Latin-1, in its Windows form, whose printable
 * characters contain those of ISO 8859-1.
 */
import { type Fault, refuse } from './problems.ts';

export type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'latin1';

export interface DetectedEncoding {
  readonly encoding: Encoding;
  /** Bytes of the byte-order mark. */
  readonly mark: number;
}

/** Label that `TextDecoder` knows. */
export function decoderLabel(encoding: Encoding): string {
  return encoding === 'latin1' ? 'windows-1252' : encoding;
}

/** Encoding for people, e.g. `UTF-16 (little endian)`. */
export function encodingName(encoding: Encoding): string {
  return {
    'utf-8': 'UTF-8',
    'utf-16le': 'UTF-16 (little endian)',
    'utf-16be': 'UTF-16 (big endian)',
    latin1: 'Latin-1',
  }[encoding];
}

/** Spellings that a plan may use. */
const SPELLINGS: Readonly<Record<string, Encoding>> = {
  'utf-8': 'utf-8',
  utf8: 'utf-8',
  'utf-16': 'utf-16le',
  'utf-16le': 'utf-16le',
  'utf-16be': 'utf-16be',
  latin1: 'latin1',
  'latin-1': 'latin1',
  'iso-8859-1': 'latin1',
  'windows-1252': 'latin1',
};
export const encodingSpellings: readonly string[] = Object.keys(SPELLINGS);

export function encodingOf(spelling: string): Encoding | null {
  return SPELLINGS[spelling.toLowerCase()] ?? null;
}

/** The mark at the start of the bytes, if there is one. */
export function byteOrderMark(head: Uint8Array): DetectedEncoding | null {
  if (head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf) return { encoding: 'utf-8', mark: 3 };
  if (head[0] === 0xff && head[1] === 0xfe) return { encoding: 'utf-16le', mark: 2 };
  if (head[0] === 0xfe && head[1] === 0xff) return { encoding: 'utf-16be', mark: 2 };
  return null;
}

/** First bytes of files that people mistake for a text export. */
const SIGNATURES: readonly {
  readonly bytes: readonly number[];
  readonly kind: string;
  readonly remedy: string;
}[] = [
  {
    bytes: [0x50, 0x4b, 0x03, 0x04],
    kind: 'a spreadsheet or another zip archive',
    remedy: 'open it in the program that made it and export it as CSV text',
  },
  {
    bytes: [0xd0, 0xcf, 0x11, 0xe0],
    kind: 'an old spreadsheet or office document',
    remedy: 'open it in the program that made it and export it as CSV text',
  },
  { bytes: [0x25, 0x50, 0x44, 0x46], kind: 'a PDF document', remedy: 'export the points as CSV text' },
  { bytes: [0x1f, 0x8b], kind: 'a compressed file (gzip)', remedy: 'unpack it first' },
  { bytes: [0x89, 0x50, 0x4e, 0x47], kind: 'a picture (PNG)', remedy: 'export the points as CSV text' },
  { bytes: [0xff, 0xd8, 0xff], kind: 'a picture (JPEG)', remedy: 'export the points as CSV text' },
];

/** Share of zero bytes at odd (or even) places from which bytes are read as UTF-16: Latin text has nearly all. */
const UTF16_ZERO_SHARE = 0.7;
/** Share of control characters that no text export reaches; a few stray ones are left to the reader of the rows. */
const MOST_CONTROL_SHARE = 0.02;

/**
 * Encoding of a file from its head.
 *
 * @param head first bytes, at most some tens of kilobytes
 * @param whole true where `head` is the entire file, so that a cut character at its end is an error
 * @throws RefusedInput where the file is not text
 */
export function detectEncoding(
  head: Uint8Array,
  whole: boolean,
  file: string,
  what: string,
): DetectedEncoding {
  const mark = byteOrderMark(head);
  if (mark !== null) return mark;
  const fault: Fault = {
    code: 'binary-file',
    file,
    says: `this is not a text file`,
    expected: `${what} as text`,
  };
  for (const signature of SIGNATURES)
    if (signature.bytes.every((byte, index) => head[index] === byte))
      refuse({ ...fault, value: signature.kind, remedy: signature.remedy });

  let zerosAtEven = 0;
  let zerosAtOdd = 0;
  let controls = 0;
  for (let i = 0; i < head.length; i += 1) {
    const byte = head[i] as number;
    if (byte === 0) {
      if (i % 2 === 0) zerosAtEven += 1;
      else zerosAtOdd += 1;
    } else if (byte < 9 || (byte > 13 && byte < 32)) controls += 1;
  }
  const pairs = Math.max(1, Math.floor(head.length / 2));
  if (head.length >= 4 && zerosAtOdd > UTF16_ZERO_SHARE * pairs && zerosAtEven === 0)
    return { encoding: 'utf-16le', mark: 0 };
  if (head.length >= 4 && zerosAtEven > UTF16_ZERO_SHARE * pairs && zerosAtOdd === 0)
    return { encoding: 'utf-16be', mark: 0 };
  if (zerosAtEven + zerosAtOdd > 0 || controls > MOST_CONTROL_SHARE * head.length)
    refuse({
      ...fault,
      value: `${zerosAtEven + zerosAtOdd} zero bytes and ${controls} control characters in the first ${head.length} bytes`,
      remedy: `check that this is the ${what}, and export it as text`,
    });
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(head, { stream: !whole });
    return { encoding: 'utf-8', mark: 0 };
  } catch {
    return { encoding: 'latin1', mark: 0 };
  }
}

/** Text of a whole small file in any of the encodings. */
export function decodeText(bytes: Uint8Array, file: string, what: string): string {
  const { encoding, mark } = detectEncoding(bytes, true, file, what);
  return new TextDecoder(decoderLabel(encoding), { ignoreBOM: true }).decode(bytes.subarray(mark));
}
