/** A file that appears whole or not at all: written beside its place, forced to the disk, renamed. */
import { createHash, randomBytes } from 'node:crypto';
import { closeSync, fsyncSync, openSync, realpathSync, renameSync, rmSync, writeSync } from 'node:fs';
import { hostname } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { refuse } from './problems.ts';

/** A short word for this machine: accounts may lie on a disk that several machines share, each with process numbers of its own. */
const machine = createHash('sha256').update(hostname()).digest('hex').slice(0, 8);

/**
 * A name for a file that is not finished, in the same folder, so that the rename stays on one disk. It is as short for every
 * name, names machine and program that write it, and no two are alike.
 */
export function unfinishedIn(folder: string): string {
  return join(folder, `.hubtrue-${machine}-${process.pid}-${randomBytes(6).toString('hex')}.part`);
}

/** Number of the program of this machine that left an unfinished file; null for any other file. */
export function ownerOfUnfinished(name: string): number | null {
  const [, where, pid] = /^\.hubtrue-([0-9a-f]+)-(\d+)-[0-9a-f]+\.part$/.exec(name) ?? [];
  return where === machine && pid !== undefined ? Number(pid) : null;
}

/** Writes a new file and forces it to the disk. @throws the system's error */
export function writeThrough(path: string, content: string | Uint8Array): void {
  const descriptor = openSync(path, 'wx', 0o666);
  try {
    const bytes = typeof content === 'string' ? Buffer.from(content, 'utf8') : content;
    for (let at = 0; at < bytes.length; ) at += writeSync(descriptor, bytes, at);
    fsyncSync(descriptor);
  } finally {
    closeSync(descriptor);
  }
}

/** @throws RefusedInput where the place cannot be written to; what was there before is as it was */
export function writeWholeFile(path: string, content: string | Uint8Array): void {
  const place = behindLinks(path);
  const folder = dirname(place);
  const unfinished = unfinishedIn(folder);
  try {
    writeThrough(unfinished, content);
    renameSync(unfinished, place);
    forceFolder(folder);
  } catch (error) {
    rmSync(unfinished, { force: true });
    const { code, message } = error as NodeJS.ErrnoException;
    refuse({
      code: 'cannot-save',
      file: basename(path),
      says: `the file cannot be written there (${code ?? message})`,
      expected: 'a folder that this account may write to, with room on the disk',
      remedy: 'choose another folder',
    });
  }
}

/** The file that a link stands for: it is to be replaced, and the link to stay. */
function behindLinks(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    // Nothing is there yet.
    return path;
  }
}

/** The new name of a file is safe from a loss of power only when its folder is. */
function forceFolder(folder: string): void {
  try {
    const descriptor = openSync(folder, 'r');
    try {
      fsyncSync(descriptor);
    } finally {
      closeSync(descriptor);
    }
  } catch {
    // Windows opens no folders, and does not need it; some network disks refuse.
  }
}
