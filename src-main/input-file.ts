/** Opening what people name: absent, unreadable and directory paths become clear problems. */
import { closeSync, fstatSync, openSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { refuse } from './problems.ts';

/** Words of the file's role, for messages. */
export type InputRole = 'point file' | 'plan' | 'welds file' | 'session';

export interface OpenInput {
  readonly descriptor: number;
  /** Name without its folder, as results and messages show it. */
  readonly name: string;
  readonly bytes: number;
}

/** Opens a file for reading; the caller closes the descriptor. */
export function openInput(path: string, role: InputRole): OpenInput {
  const name = basename(path);
  let descriptor: number;
  try {
    descriptor = openSync(path, 'r');
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === 'ENOENT' || code === 'ENOTDIR')
      refuse({
        code: 'file-absent',
        file: path,
        says: `there is no such ${role}`,
        expected: 'the path of an existing file',
        remedy: 'check the name and the folder',
      });
    refuse({
      code: 'file-unreadable',
      file: path,
      says: `the ${role} cannot be opened (${code ?? 'unknown reason'})`,
      expected: 'a file that this account may read',
      remedy: 'check its permissions, or copy it to a folder of your own',
    });
  }
  try {
    const facts = fstatSync(descriptor);
    if (facts.isDirectory())
      refuse({
        code: 'file-is-directory',
        file: path,
        says: `this is a folder, not a ${role}`,
        expected: 'the path of a file',
        remedy: 'name a file inside it',
      });
    return { descriptor, name, bytes: facts.size };
  } catch (error) {
    closeSync(descriptor);
    throw error;
  }
}

/** The bytes of a file that is small by its nature (plan, welds); larger ones are refused unread. */
export function readSmallInput(
  path: string,
  role: InputRole,
  mostBytes: number,
): { bytes: Buffer; name: string } {
  const { descriptor, name, bytes } = openInput(path, role);
  try {
    if (bytes > mostBytes)
      refuse({
        code: 'file-too-large',
        file: name,
        says: `this is too large for a ${role}`,
        value: `${bytes} bytes`,
        expected: `at most ${mostBytes} bytes`,
        remedy: `check that the files are not swapped: this one was given as the ${role}`,
      });
    return { bytes: readFileSync(descriptor), name };
  } finally {
    closeSync(descriptor);
  }
}
