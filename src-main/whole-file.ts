/** A file that appears whole or not at all: written beside its place, forced to the disk, renamed. */
import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { refuse } from './problems.ts';

/** @throws RefusedInput where the place cannot be written to; what was there before is as it was */
export function writeWholeFile(path: string, content: string | Uint8Array): void {
  const name = basename(path);
  const unfinished = join(dirname(path), `.${name}.${process.pid}.part`);
  try {
    const descriptor = openSync(unfinished, 'w', 0o666);
    try {
      const bytes = typeof content === 'string' ? Buffer.from(content, 'utf8') : content;
      for (let at = 0; at < bytes.length; ) at += writeSync(descriptor, bytes, at);
      fsyncSync(descriptor);
    } finally {
      closeSync(descriptor);
    }
    renameSync(unfinished, path);
  } catch (error) {
    rmSync(unfinished, { force: true });
    const { code, message } = error as NodeJS.ErrnoException;
    refuse({
      code: 'cannot-save',
      file: name,
      says: `the file cannot be written there (${code ?? message})`,
      expected: 'a folder that this account may write to, with room on the disk',
      remedy: 'choose another folder',
    });
  }
}
