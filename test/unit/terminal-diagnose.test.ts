/** What `hubtrue diagnose` prints, from the diagnosis of the sample discs. */
import { describe, expect, it } from 'vitest';
import { readArguments } from '../../src-main/hosts/terminal/arguments.ts';
import { diagnosisText } from '../../src-main/hosts/terminal/diagnose-command.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { samplePath } from '../support/disc-files.ts';

const disc = await runReduction({
  pointsPath: samplePath('off-centre', 'points.csv'),
  planPath: samplePath('off-centre', 'plan.json'),
  weldsPath: samplePath('off-centre', 'welds.csv'),
});
const diagnosis = disc.result.diagnosis!;
const text = diagnosisText(diagnosis, { length: 'µm', angle: 'arcsec' });
const lines = text.split('\n');
const read = (shown: string): number => Number(shown.replace('−', '-'));

describe('hubtrue diagnose', () => {
  it('begins with the leading cause and numbers its sentences', () => {
    expect(lines[0]).toMatch(
      /^1\. The ring of blades sits \d+ µm \(\d+ to \d+ µm\) off the hub axis towards station 5 and is tilted/,
    );
    for (let i = 0; i < diagnosis.sentences.length; i++)
      expect(lines.some((line) => line.startsWith(`${i + 1}. `))).toBe(true);
  });

  it('keeps prose within 110 columns', () => {
    const prose = lines.filter((line) => /^(\d+\. | {3}|- )/.test(line));
    expect(prose.length).toBeGreaterThan(10);
    for (const line of prose) expect([...line].length).toBeLessThanOrEqual(110);
  });

  it('has a line for each component, with size, interval, share, p and budget', () => {
    for (const c of diagnosis.components) {
      const line = lines.find((l) => l.startsWith(c.title) && !l.includes('.:'))!;
      expect(line, c.title).toBeDefined();
      expect(line).toContain((100 * c.share).toFixed(1));
      if (c.size !== null) expect(line).toContain((1000 * c.size.value).toFixed(1));
      if (c.notExamined !== null) expect(line).toMatch(/not examined$/);
    }
    expect(lines.find((l) => l.startsWith('Ring shift'))).toMatch(/<0\.001 +10\.0 +\d+ +significant$/);
  });

  it('shows error found and setting change of opposite sign', () => {
    const rows = lines.flatMap((l) => {
      const found = /^hub +x +([+−][\d.]+) µm +([+−][\d.]+) µm/.exec(l);
      return found === null ? [] : [[read(found[1]!), read(found[2]!)] as const];
    });
    expect(rows.length).toBeGreaterThan(0);
    for (const [found, change] of rows) expect(change).toBeCloseTo(-found, 6);
  });

  it('lists the index of each station that is changed, several in a line', () => {
    const { settings } = diagnosis.corrections.find((c) => c.kind === 'index')!;
    const from = lines.findIndex((l) => l.startsWith('Index offsets: '));
    const listed = lines.slice(from).join(' ');
    for (const { of, change } of settings.filter((s) => Math.abs(s.change) > 3e-7)) {
      const found = new RegExp(`[ ,]${of}\u00a0([+−][\\d.]+)″`).exec(listed)!;
      expect(read(found[1]!)).toBeCloseTo((change * 648000) / Math.PI, 0);
    }
    expect(lines.filter((l) => l.startsWith('index ')).length).toBe(0);
  });

  it('has one minus sign, in tables as in sentences', () => {
    expect(text).not.toMatch(/(^|\s)-\d/m);
    expect(text).toMatch(/(^|\s)−\d/m);
  });

  it('follows the units that were asked for', () => {
    const inches = diagnosisText(diagnosis, { length: 'inch', angle: 'deg' });
    const ring = diagnosis.components[0]!;
    expect(inches).toContain((ring.size!.value / 25.4).toFixed(6));
  });

  it('takes no output folder', () => {
    expect(() => readArguments(['diagnose', 'p.csv', '--plan', 'p.json', '--out', 'x'])).toThrow(
      /diagnose writes no files/,
    );
    expect(readArguments(['diagnose', 'p.csv', '--plan', 'p.json', '--json'])).toMatchObject({
      command: 'diagnose',
      json: true,
    });
  });
});
