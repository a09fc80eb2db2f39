/** Fingerprints of the files that a session names: name, size and SHA-256. */
import { createHash } from 'node:crypto';
import { createReadStream, statSync } from 'node:fs';
import { basename } from 'node:path';
import { pipeline } from 'node:stream/promises';
import type { Fingerprint } from './session-schema.ts';

/** @throws the system's error where the file cannot be read */
export async function fingerprintOf(path: string): Promise<Omit<Fingerprint, 'path'>> {
  const hash = createHash('sha256');
  await pipeline(createReadStream(path), hash);
  return { name: basename(path), bytes: statSync(path).size, sha256: hash.digest('hex') };
}
