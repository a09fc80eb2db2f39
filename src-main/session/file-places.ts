/** Where a session says its files lie, and where they are looked for again. */
import { statSync } from 'node:fs';
import { dirname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import { fingerprintOf } from './fingerprints.ts';
import type { Fingerprint } from './session-schema.ts';

/** The path to keep: relative to the session's folder with `/`, absolute where there is no way or no folder. */
export function storedPath(path: string, sessionFolder: string | null): string {
  if (sessionFolder === null) return path;
  const way = relative(sessionFolder, path);
  return isAbsolute(way) ? path : way.split(sep).join('/');
}

export type Finding =
  | { readonly state: 'found'; readonly path: string }
  | { readonly state: 'absent' }
  /** A file of that name with another content. */
  | { readonly state: 'different'; readonly path: string };

/**
 * Looks for a file by its fingerprint: among files opened together with the session, in the session's own folder, and at
 * the stored place. Size first, since hashing a large file takes time.
 */
export async function findFile(
  wanted: Fingerprint,
  sessionPath: string | null,
  candidates: readonly string[],
): Promise<Finding> {
  const folder = sessionPath === null ? null : dirname(sessionPath);
  const places = [
    ...candidates,
    ...(folder === null ? [] : [join(folder, wanted.name)]),
    ...storedPlace(wanted.path, folder),
  ];
  let different: string | null = null;
  for (const place of new Set(places.map((path) => resolve(path)))) {
    const state = await stateOf(place, wanted);
    if (state === 'found') return { state, path: place };
    // A file offered beside the session for another purpose is no other version of this one.
    if (state === 'different' && !candidates.some((path) => resolve(path) === place)) different ??= place;
  }
  return different === null ? { state: 'absent' } : { state: 'different', path: different };
}

function storedPlace(path: string | null, folder: string | null): readonly string[] {
  if (path === null || leadsElsewhere(path, folder)) return [];
  if (isAbsolute(path)) return [path];
  return folder === null ? [] : [join(folder, ...path.split('/'))];
}

/**
 * Whether a stored path leads to another machine (`\\server\share`, or a device) than the session lies on. Merely looking
 * there would tell that machine who is asking, and whoever made the session chooses it; such a file has to be given by hand.
 */
export function leadsElsewhere(path: string, sessionFolder: string | null): boolean {
  const server = (place: string): string | undefined => /^[\\/]{2}([^\\/]+)/.exec(place)?.[1]?.toLowerCase();
  const wanted = server(path);
  return wanted !== undefined && (sessionFolder === null || wanted !== server(sessionFolder));
}

/** The name as the present system can write it: what Windows does not allow in a name becomes a low line there. */
export function writableName(name: string, platform: NodeJS.Platform = process.platform): string {
  if (platform !== 'win32') return name;
  const allowed = name.replaceAll(/[<>:"|?*]/g, '_').replace(/[ .]+$/, '_');
  return /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i.test(allowed) ? `_${allowed}` : allowed;
}

async function stateOf(path: string, wanted: Fingerprint): Promise<Finding['state']> {
  try {
    const facts = statSync(path, { throwIfNoEntry: false });
    if (facts === undefined || !facts.isFile()) return 'absent';
    if (facts.size !== wanted.bytes) return 'different';
    return (await fingerprintOf(path)).sha256 === wanted.sha256 ? 'found' : 'different';
  } catch {
    // A place that this account may not look at holds nothing for it.
    return 'absent';
  }
}
