/** The points of a sample disc as another machine would have written them: nothing is as Hubtrue's own format has it. */
import { readFileSync } from 'node:fs';
import { samplePath } from './sample-results.ts';

export interface UnfamiliarOptions {
  /** `7 FLANK`: rows of that station and feature are left out. */
  readonly without?: string;
  /** Further lines at the end, cells parted by semicolons. */
  readonly more?: readonly string[];
}

/**
 * Semicolons, decimal commas, Latin-1, carriage returns, title lines, headers in another language, station and feature
 * in one label.
 */
export function unfamiliarPoints(sample: string, { without, more = [] }: UnfamiliarOptions = {}): Buffer {
  const [header = '', ...rows] = readFileSync(samplePath(sample, 'points.csv'), 'utf8').trimEnd().split('\n');
  const names = header.split(',');
  const at = (row: readonly string[], name: string): string => row[names.indexOf(name)] ?? '';
  const lines = rows
    .map((line) => line.split(','))
    .filter((row) => `${at(row, 'station')} ${at(row, 'feature')}` !== without)
    .map((row, index) => {
      const station = at(row, 'station');
      const label =
        station === '' ? at(row, 'feature') : `B${station.padStart(2, '0')}_${at(row, 'feature')}`;
      const numbers = ['x', 'y', 'z', 'i', 'j', 'k'].map((name) => at(row, name).replace('.', ','));
      return [index + 1, label, ...numbers].join(';');
    });
  const text = [
    'Messprotokoll;Prüfplan 7',
    'Datum;2026-03-12',
    '',
    'Nr;Punkt;X-Ist;Y-Ist;Z-Ist;NX;NY;NZ',
    ...lines,
    ...more,
    '',
  ].join('\r\n');
  return Buffer.from(text, 'latin1');
}
