/** Fingerprints of the files that a session names: name, size and SHA-256. */
import { createHash } from 'node:crypto';
import { createReadStream, statSync } from 'node:fs';
import { basename } from 'node:path';
import { pipeline } from 'node:stream/promises';
import type { Fingerprint } from './session-schema.ts';

export type FileFingerprint = Omit<Fingerprint, 'path'>;

/** @throws the system's error where the file cannot be read */
export async function fingerprintOf(path: string): Promise<FileFingerprint> {
  const hash = createHash('sha256');
  await pipeline(createReadStream(path), hash);
  return { name: basename(path), bytes: statSync(path).size, sha256: hash.digest('hex') };
}

/** Files whose fingerprint is remembered: an autosave every few seconds must not read a large file each time. */
const MOST_REMEMBERED = 50;

/** `fingerprintOf` that reads a file again only when the disk says that it has changed. */
export function rememberFingerprints(): typeof fingerprintOf {
  const known = new Map<string, FileFingerprint>();
  return async (path) => {
    const { dev, ino, size, mtimeNs, ctimeNs } = statSync(path, { bigint: true });
    const key = [path, dev, ino, size, mtimeNs, ctimeNs].join('\n');
    const remembered = known.get(key);
    if (remembered !== undefined) return remembered;
    const fresh = await fingerprintOf(path);
    known.set(key, fresh);
    const [oldest] = known.keys();
    if (known.size > MOST_REMEMBERED && oldest !== undefined) known.delete(oldest);
    return fresh;
  };
}
