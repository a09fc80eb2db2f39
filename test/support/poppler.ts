/** Poppler's command line tools: a reader of PDF that shares nothing with the libraries that write and read it elsewhere. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export function hasPoppler(): boolean {
  try {
    for (const tool of ['pdftotext', 'pdftoppm', 'pdfinfo']) execFileSync(tool, ['-v'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}

/** The lines of a file as pdftotext finds them on its pages, blanks as single blanks. */
export function popplerLines(path: string): readonly string[] {
  return execFileSync('pdftotext', ['-layout', path, '-'], { encoding: 'utf8', maxBuffer: 2 ** 26 })
    .split('\n')
    .map((line) => line.replaceAll(/\s+/g, ' ').trim())
    .filter((line) => line !== '');
}

/** The share of each page that is not white, as pdftoppm draws it. */
export function inkOfPages(path: string): readonly number[] {
  const folder = mkdtempSync(join(tmpdir(), 'hubtrue-pages-'));
  try {
    execFileSync('pdftoppm', ['-gray', '-r', '40', path, join(folder, 'page')]);
    return readdirSync(folder)
      .sort()
      .map((name) => {
        const picture = readFileSync(join(folder, name));
        // P5, width, height, greatest value, then one byte for each point.
        const [, width = 0, height = 0] = picture.subarray(0, 40).toString('latin1').split(/\s+/).map(Number);
        const points = picture.subarray(picture.length - width * height);
        return points.filter((grey) => grey < 250).length / points.length;
      });
  } finally {
    rmSync(folder, { recursive: true });
  }
}
