/** Sessions that were lately saved or opened here, newest first. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { writeWholeFile } from '../whole-file.ts';
import { makeStateFolder } from './state-folder.ts';

const entrySchema = z.strictObject({
  path: z.string().min(1),
  used: z.string(),
  title: z.string(),
  summary: z
    .strictObject({
      stations: z.number(),
      conforming: z.number(),
      nonconforming: z.number(),
      unproven: z.number(),
      missing: z.number(),
    })
    .nullable(),
});
export type RecentEntry = z.infer<typeof entrySchema>;

export interface RecentList {
  /** Those whose file is still there. */
  entries(): readonly RecentEntry[];
  add(entry: RecentEntry): void;
  forget(path: string): void;
}

/** As many as a list shows without scrolling. */
const MOST_ENTRIES = 12;

export function createRecentList(stateFolder: string): RecentList {
  const file = join(stateFolder, 'recent.json');
  const read = (): readonly RecentEntry[] => {
    try {
      return z.array(entrySchema).parse(JSON.parse(readFileSync(file, 'utf8')));
    } catch {
      // Absent or damaged: a list of conveniences starts anew.
      return [];
    }
  };
  const write = (entries: readonly RecentEntry[]): void => {
    makeStateFolder(stateFolder);
    writeWholeFile(file, `${JSON.stringify(entries.slice(0, MOST_ENTRIES), null, 2)}\n`);
  };
  return {
    entries: () => read().filter(({ path }) => existsSync(path)),
    add: (entry) => write([entry, ...read().filter(({ path }) => path !== entry.path)]),
    forget: (path) => write(read().filter((entry) => entry.path !== path)),
  };
}
