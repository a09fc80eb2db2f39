/**
 * Result files on disk. Each is written under a temporary name beside its place, forced to the disk and renamed, so
 * that a reader finds a whole file or none; the renames come last, when every file has been written.
 */
import { existsSync, mkdirSync, renameSync, rmdirSync, rmSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { ResultDocument } from '../../shared-math/result.ts';
import { refuse } from '../problems.ts';
import type { Report } from '../report/index.ts';
import { unfinishedIn, writeThrough } from '../whole-file.ts';
import { stationsCsv } from './stations-csv.ts';

export interface OutputFile {
  readonly name: string;
  readonly content: string | Uint8Array;
}

/** The files of a reduction. */
export function outputFiles(result: ResultDocument): readonly OutputFile[] {
  return [
    { name: 'result.json', content: resultJson(result) },
    { name: 'stations.csv', content: stationsCsv(result) },
  ];
}

/** The files of a report. */
export function reportFiles({ html, pdf }: Report): readonly OutputFile[] {
  return [
    { name: 'report.html', content: html },
    { name: 'report.pdf', content: pdf },
  ];
}

/** What every number of a result document is in, unless its name says otherwise. */
export const RESULT_UNITS = { length: 'mm', rotation: 'rad', stationAngle: 'degree' } as const;

/** The result document as text, its units stated in it: two blanks of indent, a line feed at the end. */
export function resultJson({ format, ...result }: ResultDocument): string {
  return `${JSON.stringify({ format, units: RESULT_UNITS, ...result }, null, 2)}\n`;
}

/** Refuses a place where no folder can be, before any work is done. @throws RefusedInput */
export function checkOutputFolder(folder: string): void {
  if (existsSync(folder) && !statSync(folder).isDirectory())
    refuse({
      code: 'output-not-a-folder',
      file: folder,
      says: 'the outputs cannot be written there, because this is a file',
      expected: 'the path of a folder, which may be new',
      remedy: 'name another folder',
    });
}

/** Makes a folder and those above it, level by level: Node's own recursive call never returns below some virtual folders. */
function makeFolder(folder: string): void {
  if (existsSync(folder)) return;
  makeFolder(dirname(folder));
  mkdirSync(folder);
}

/** Writes the files into the folder, making it where it is absent. @throws RefusedInput, with nothing left behind */
export function writeOutputs(folder: string, files: readonly OutputFile[]): void {
  checkOutputFolder(folder);
  const existed = existsSync(folder);
  const temporary: string[] = [];
  const placed: string[] = [];
  try {
    makeFolder(folder);
    for (const { content } of files) {
      const path = unfinishedIn(folder);
      temporary.push(path);
      writeThrough(path, content);
    }
    for (const [index, { name }] of files.entries()) {
      const path = join(folder, name);
      const fresh = !existsSync(path);
      renameSync(temporary[index] as string, path);
      if (fresh) placed.push(path);
    }
  } catch (error) {
    for (const path of [...temporary, ...placed]) rmSync(path, { force: true });
    if (!existed) removeIfEmpty(folder);
    const reason = (error as NodeJS.ErrnoException).code ?? (error as Error).message;
    refuse({
      code: 'output-failed',
      file: folder,
      says: `the outputs could not be written (${reason}); nothing was left there`,
      expected: 'a folder that this account may write to, with room on the disk',
      remedy: 'name another folder',
    });
  }
}

function removeIfEmpty(folder: string): void {
  try {
    rmdirSync(folder);
  } catch {
    // It never came to be, or somebody else has put something there meanwhile.
  }
}
