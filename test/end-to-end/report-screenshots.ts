/**
 * Takes the pictures of report pages that the README shows: `npm run build && npx tsx test/end-to-end/report-screenshots.ts`.
 * Not a test. Needs pdftoppm (Debian: apt-get install poppler-utils).
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { messagesIn } from '../../src-main/report/messages/messages.ts';
import { hubtrue } from '../support/command-line.ts';
import { readPdf } from '../support/pdf-text.ts';
import { repackPng } from '../support/png.ts';
import { samplePath } from '../support/sample-results.ts';

const screenshots = fileURLToPath(new URL('./screenshots/', import.meta.url));
const sample = 'off-centre';
const [en, de] = [messagesIn('en'), messagesIn('de')];
/** Which page of which language, by what stands on it. */
const pictures = [
  { language: 'en', name: 'report-en-summary', shows: en.summary.title },
  { language: 'en', name: 'report-en-station', shows: en.station.title(13, en.verdicts.nonconforming) },
  { language: 'de', name: 'report-de-summary', shows: de.summary.title },
  { language: 'de', name: 'report-de-stations', shows: de.stations.table },
] as const;

const folder = mkdtempSync(join(tmpdir(), 'hubtrue-report-'));
for (const language of ['en', 'de'] as const) {
  const out = join(folder, language);
  const [points, plan, welds] = ['points.csv', 'plan.json', 'welds.csv'].map((name) =>
    samplePath(sample, name),
  );
  const { stderr } = hubtrue(
    ...['reduce', points!, '--plan', plan!, '--welds', welds!, '--out', out],
    ...['--language', language, '--report-time', '2026-05-21T08:00:00Z'],
  );
  if (!stderr.includes('report.pdf')) throw new Error(stderr);
  const file = join(out, 'report.pdf');
  const { pages } = await readPdf(readFileSync(file));
  for (const { name, shows } of pictures.filter((picture) => picture.language === language)) {
    const page = pages.findIndex(({ lines }) => lines.some((line) => line.endsWith(shows))) + 1;
    if (page === 0) throw new Error(`No page shows "${shows}".`);
    const root = join(folder, name);
    execFileSync('pdftoppm', [
      '-r',
      '100',
      '-f',
      `${page}`,
      '-l',
      `${page}`,
      '-singlefile',
      '-png',
      file,
      root,
    ]);
    writeFileSync(join(screenshots, `${name}.png`), repackPng(readFileSync(`${root}.png`)));
  }
}
rmSync(folder, { recursive: true });
