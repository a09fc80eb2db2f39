/**
 * When a session file was saved, as it says itself: the clock of the disk it lies on may be another than that of this machine.
 * Its first bytes hold it; a session of hundreds of megabytes need not be read for it.
 */
import { closeSync, openSync, readSync } from 'node:fs';

/** Enough of a session file to hold its first keys. */
const HEAD_BYTES = 4096;

/** Null where the file cannot be read, or does not say. */
export function savedStatedIn(path: string): string | null {
  return /"saved":\s*"([^"]+)"/.exec(headOf(path))?.[1] ?? null;
}

function headOf(path: string): string {
  const head = Buffer.alloc(HEAD_BYTES);
  try {
    const descriptor = openSync(path, 'r');
    try {
      return head.toString('utf8', 0, readSync(descriptor, head, 0, HEAD_BYTES, 0));
    } finally {
      closeSync(descriptor);
    }
  } catch {
    return '';
  }
}
