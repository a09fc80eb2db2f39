import type { FileRole, OpenedFile, Problem } from '../../src-main/api.ts';

export type GivenFiles = Partial<Record<FileRole, OpenedFile>>;

export const roleTitles: Record<FileRole, string> = {
  points: 'Points',
  plan: 'Plan',
  welds: 'Welds',
  session: 'Session',
};

export const roleHints: Record<FileRole, string> = {
  points: 'CSV export of the measured points',
  plan: 'JSON plan of the disc',
  welds: 'CSV of the weld order, optional',
  session: 'Session saved by this program',
};

/**
 * The files given so far with those just opened. A new pair of points and plan is another disc, so welds of the
 * old one are let go; two files of one role are refused, since nobody could say which was meant.
 */
export function mergeFiles(
  given: GivenFiles,
  opened: readonly OpenedFile[],
): { readonly files: GivenFiles; readonly problems: readonly Problem[] } {
  const fresh: GivenFiles = {};
  for (const file of opened) {
    const twin = fresh[file.role];
    if (twin !== undefined) {
      return {
        files: given,
        problems: [
          {
            code: 'two-files-of-one-role',
            message: `These are both ${roleTitles[file.role].toLowerCase()} files: ${twin.name} and ${file.name}.`,
            file: file.name,
            expected: 'one file of each kind at a time',
            remedy: 'Open one disc at a time.',
          },
        ],
      };
    }
    fresh[file.role] = file;
  }
  const anotherDisc = fresh.points !== undefined && fresh.plan !== undefined;
  return { files: anotherDisc ? fresh : { ...given, ...fresh }, problems: [] };
}

/** What must still be given before anything can be reduced. */
export function stillMissing(files: GivenFiles): readonly FileRole[] {
  return (['points', 'plan'] as const).filter((role) => files[role] === undefined);
}

export function withoutRole(files: GivenFiles, role: FileRole): GivenFiles {
  return Object.fromEntries(Object.entries(files).filter(([name]) => name !== role));
}
