/** Files that the page hands over: streamed into a private folder that lives no longer than the server. */
import { randomBytes } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { open } from 'node:fs/promises';
import type { IncomingMessage } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

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
      try {
        await writeUpTo(mostBytes, request, path);
      } catch (error) {
        rmSync(place, { recursive: true, force: true });
        throw error;
      }
      return path;
    },
    close: () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** Written at once: most files of points are a single write, for which no chain of streams has to be set up. */
const BATCH_BYTES = 1024 * 1024;

/** @throws TooLarge */
async function writeUpTo(mostBytes: number, request: AsyncIterable<Buffer>, path: string): Promise<void> {
  const file = await open(path, 'wx', 0o600);
  try {
    let bytes = 0;
    let held = 0;
    let batch: Buffer[] = [];
    for await (const chunk of request) {
      bytes += chunk.length;
      if (bytes > mostBytes) throw new TooLarge();
      held += chunk.length;
      batch.push(chunk);
      if (held < BATCH_BYTES) continue;
      await file.writeFile(Buffer.concat(batch, held));
      held = 0;
      batch = [];
    }
    await file.writeFile(Buffer.concat(batch, held));
  } finally {
    await file.close();
  }
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
