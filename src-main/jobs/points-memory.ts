/**
 * Points of the last files as read, so that a repeat with other exclusions, or with another plan of the same import, need
 * not read the file again. A file that has changed on the disk, or that the plan understands differently, is read anew.
 */
import { statSync } from 'node:fs';
import { type ReadPoints, type ReadPointsOptions, readPoints } from '../points/read-points.ts';
import { throwIfCancelled } from '../problems.ts';
import { createKept } from './kept.ts';

/** `readPoints`, or something that saves calling it. */
export type PointsReader = (path: string, options: ReadPointsOptions) => Promise<ReadPoints>;

/** A comparison needs two files; a third is the one that a person goes back to. */
const MOST_FILES = 3;
/** A million points with normals take 80 MB. */
const MOST_BYTES = 400 * 1024 ** 2;

export function createPointsMemory(): PointsReader {
  const kept = createKept<ReadPoints>({
    mostEntries: MOST_FILES,
    mostBytes: MOST_BYTES,
    bytesOf: pointBytes,
  });
  return async (path, options) => {
    const key = keyOf(path, options);
    const known = key === null ? undefined : kept.get(key);
    if (known !== undefined) {
      throwIfCancelled(options.signal);
      options.onProgress?.(1);
      return known;
    }
    const points = await readPoints(path, options);
    // A file that somebody wrote to meanwhile is not kept under the facts it had before.
    if (key !== null && key === keyOf(path, options)) kept.set(key, points);
    return points;
  };
}

/** Bytes of the arrays of all points. */
export function pointBytes({ blocks, lines }: Pick<ReadPoints, 'blocks' | 'lines'>): number {
  const arrays = [...blocks.flatMap((block) => Object.values(block) as unknown[]), ...lines];
  return arrays.reduce<number>((sum, value) => sum + (ArrayBuffer.isView(value) ? value.byteLength : 0), 0);
}

/**
 * The file as the disk knows it (time in nanoseconds), and everything of the plan that decides how a row is read. Null where
 * the file cannot be looked at: its reader says why.
 */
function keyOf(
  path: string,
  { definition, planImport, partTemperatureKnown }: ReadPointsOptions,
): string | null {
  const facts = statSync(path, { bigint: true, throwIfNoEntry: false });
  if (facts === undefined) return null;
  const { dev, ino, size, mtimeNs, ctimeNs } = facts;
  return JSON.stringify([
    path,
    ...[dev, ino, size, mtimeNs, ctimeNs].map(String),
    planImport ?? null,
    partTemperatureKnown ?? null,
    definition.temperature?.applied ?? null,
    definition.hubDatums.map(({ features }) => features),
    definition.bladeDatums.map(({ features }) => features),
    definition.stations.map(({ station, angle, seat }) => [station, angle, seat.radius, seat.axial]),
  ]);
}
