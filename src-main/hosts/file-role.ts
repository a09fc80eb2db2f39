/** What a file is, told from its name and its first bytes. Its reader judges the rest. */
import { closeSync, openSync, readSync } from 'node:fs';
import { extname } from 'node:path';
import type { FileRole } from '../api.ts';
import { decoderLabel, detectEncoding } from '../text-encoding.ts';

/** Enough for the header line of any export. */
const HEAD_BYTES = 16 * 1024;

/** @throws RefusedInput where the file is not text */
export function roleOfFile(path: string, name: string): FileRole {
  const head = readHead(path);
  const { encoding, mark } = detectEncoding(head.bytes, head.whole, name, 'points, plan or weld order');
  const text = new TextDecoder(decoderLabel(encoding)).decode(head.bytes.subarray(mark));
  return roleOfText(text, name);
}

/**
 * A session says so in its name. Other JSON is a plan, whether or not it is a good one: the plan's reader says best what
 * is wrong with it. A table with a `sequence` column and none for coordinates is a weld order. Everything else is points.
 */
export function roleOfText(text: string, name: string): FileRole {
  if (extname(name).toLowerCase() === '.hubtrue') return 'session';
  if (extname(name).toLowerCase() === '.json' || text.trimStart().startsWith('{')) return 'plan';
  const header = text.split(/\r\n|\n|\r/).find((line) => line.trim() !== '' && !line.startsWith('#')) ?? '';
  const names = header.split(/[,;\t|]/).map((cell) => cell.trim().replaceAll('"', '').toLowerCase());
  return names.includes('sequence') && !names.includes('x') ? 'welds' : 'points';
}

function readHead(path: string): { readonly bytes: Uint8Array; readonly whole: boolean } {
  const descriptor = openSync(path, 'r');
  try {
    const buffer = new Uint8Array(HEAD_BYTES);
    const length = readSync(descriptor, buffer, 0, HEAD_BYTES, 0);
    return { bytes: buffer.subarray(0, length), whole: length < HEAD_BYTES };
  } finally {
    closeSync(descriptor);
  }
}
