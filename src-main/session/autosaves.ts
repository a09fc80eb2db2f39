/**
 * Autosaves: a session file for each piece of work at hand, in the account's own folder, with a note beside it of whose it
 * is. One that is left behind belongs to a program that did not end in order.
 */
import { randomBytes } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { hostname, uptime } from 'node:os';
import { join } from 'node:path';
import { z } from 'zod';
import { ownerOfUnfinished, writeWholeFile } from '../whole-file.ts';
import { makeStateFolder } from './state-folder.ts';
import { savedStatedIn } from './stated-time.ts';

/** What stands beside an autosave. */
const noteSchema = z.strictObject({
  /** File name or title. */
  name: z.string(),
  autosaved: z.string(),
  /** The saved file, or null where there is none. */
  path: z.string().nullable(),
  saved: z.string().nullable(),
  owner: z.strictObject({ host: z.string(), pid: z.int(), started: z.number() }),
});
export type AutosaveNote = Omit<z.infer<typeof noteSchema>, 'owner'>;

export interface LeftAutosave extends AutosaveNote {
  readonly id: string;
  /** The session file. */
  readonly file: string;
  readonly perhapsOpen: boolean;
}

export interface Autosaves {
  newId(): string;
  /** Where the session file of an id lies. */
  fileOf(id: string): string;
  keep(id: string, text: string, note: AutosaveNote): void;
  remove(id: string): void;
  /** Autosaves of others, newest first: those of this program at work are left out. */
  left(mine: ReadonlySet<string>): readonly LeftAutosave[];
}

/** Starts of the system are known to this many seconds; a process number of an earlier start means nothing. */
const BOOT_SLACK = 120;

export function createAutosaves(stateFolder: string): Autosaves {
  const folder = join(stateFolder, 'autosave');
  const fileOf = (id: string): string => join(folder, `${id}.hubtrue`);
  const noteOf = (id: string): string => join(folder, `${id}.json`);
  return {
    newId: () => randomBytes(9).toString('hex'),
    fileOf,
    keep(id, text, note) {
      makeStateFolder(folder);
      writeWholeFile(fileOf(id), text);
      const owner = { host: hostname(), pid: process.pid, started: bootTime() };
      writeWholeFile(noteOf(id), `${JSON.stringify({ ...note, owner }, null, 2)}\n`);
    },
    remove(id) {
      rmSync(fileOf(id), { force: true });
      rmSync(noteOf(id), { force: true });
    },
    left(mine) {
      if (!existsSync(folder)) return [];
      const entries = readdirSync(folder);
      sweep(folder, entries);
      return entries
        .flatMap((entry) => /^([0-9a-f]+)\.hubtrue$/.exec(entry)?.[1] ?? [])
        .filter((id) => !mine.has(id))
        .map((id) => leftOne(id, fileOf(id), noteOf(id)))
        .filter(({ needed }) => needed)
        .sort((a, b) => (a.autosaved < b.autosaved ? 1 : -1));
    },
  };
}

/** Removes what programs left half written when they were ended in the middle of it. */
function sweep(folder: string, entries: readonly string[]): void {
  for (const entry of entries) {
    const owner = ownerOfUnfinished(entry);
    if (owner !== null && !runs(owner)) rmSync(join(folder, entry), { force: true });
  }
}

/** With whether the saved file lacks what is in it. An autosave without a readable note is still somebody's work. */
function leftOne(id: string, file: string, noteFile: string): LeftAutosave & { readonly needed: boolean } {
  try {
    const note = noteSchema.parse(JSON.parse(readFileSync(noteFile, 'utf8')));
    const { owner, ...rest } = note;
    const isThere = rest.path !== null && existsSync(rest.path);
    const stated = rest.path === null ? null : savedStatedIn(rest.path);
    const saved = isThere ? (stated ?? rest.saved) : null;
    // The file that this work began with was saved before it, whatever the clock has done since; another one by its time.
    const needed = saved === null || saved === rest.saved || saved < rest.autosaved;
    return { ...rest, id, file, saved, perhapsOpen: isAlive(owner), needed };
  } catch {
    const autosaved = statSync(file, { throwIfNoEntry: false })?.mtime ?? new Date(0);
    return {
      id,
      file,
      name: 'Unnamed work',
      autosaved: autosaved.toISOString(),
      path: null,
      saved: null,
      perhapsOpen: false,
      needed: true,
    };
  }
}

function isAlive(owner: { readonly host: string; readonly pid: number; readonly started: number }): boolean {
  if (owner.host !== hostname()) return true;
  return Math.abs(owner.started - bootTime()) <= BOOT_SLACK && runs(owner.pid);
}

/** Whether a program of this number runs on this machine. */
function runs(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // A process of another account exists too.
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** Start of the system, seconds since 1970. */
function bootTime(): number {
  return Math.round(Date.now() / 1000 - uptime());
}
