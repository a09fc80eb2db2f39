/** Files that the page hands over: streamed into a private folder that lives no longer than the server. */
import { randomBytes } from 'node:crypto';
import { createWriteStream, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import type { IncomingMessage } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';

export class TooLarge extends Error {}

export interface Uploads {
  /** Path of the stored file; its last part is the given name, made harmless. */
  store(request: IncomingMessage, name: string): Promise<string>;
  close(): void;
}

export function createUploads(mostBytes: number): Uploads {
  // mkdtemp gives a folder that only this account may enter.
  const folder = mkdtempSync(join(tmpdir(), 'hubtrue-'));
  return {
    async store(request, name) {
      if (Number(request.headers['content-length'] ?? 0) > mostBytes) throw new TooLarge();
      const place = join(folder, randomBytes(8).toString('hex'));
      mkdirSync(place, { mode: 0o700 });
      const path = join(place, harmlessName(name));
      let bytes = 0;
      const limit = new Transform({
        transform(chunk: Buffer, _encoding, done) {
          bytes += chunk.length;
          done(bytes > mostBytes ? new TooLarge() : null, chunk);
        },
      });
      try {
        await pipeline(request, limit, createWriteStream(path, { mode: 0o600, flags: 'wx' }));
      } catch (error) {
        rmSync(place, { recursive: true, force: true });
        throw error;
      }
      return path;
    },
    close: () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** Last part of the name, without anything that a file system or a terminal could mind. */
export function harmlessName(name: string): string {
  const last = name.split(/[\\/]/).at(-1) ?? '';
  const clean = last
    .replaceAll(/[\p{C}<>:"|?*]/gu, '_')
    .replace(/^\.+/, '')
    .slice(-120)
    .trim();
  return clean === '' ? 'file' : clean;
}
