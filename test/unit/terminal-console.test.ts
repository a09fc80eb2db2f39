/** Colours, progress and table of the terminal, with made streams. */
import { describe, expect, it } from 'vitest';
import { createConsole } from '../../src-main/hosts/terminal/console.ts';
import { angleUnits, inUnit, lengthUnits } from '../../src-main/hosts/terminal/display-units.ts';
import {
  decisionLine,
  settleLines,
  stationTable,
  summaryLine,
} from '../../src-main/hosts/terminal/station-table.ts';
import { exampleDisc, unprovenStation, unprovenWords } from '../support/example-disc.ts';

interface MadeStream {
  text: string;
  fail(error: { code: string }): void;
}

function madeProcess(terminal: boolean, env: Record<string, string> = {}) {
  const stream = (): MadeStream & Record<string, unknown> => {
    let listener: (error: { code: string }) => void = () => {};
    const made = {
      text: '',
      isTTY: terminal,
      on: (_: string, heard: typeof listener) => {
        listener = heard;
      },
      write: (piece: string) => {
        made.text += piece;
      },
      fail: (error: { code: string }) => listener(error),
    };
    return made;
  };
  const made = { stdout: stream(), stderr: stream(), env };
  return { ...made, console: createConsole(made as unknown as NodeJS.Process) };
}

describe('the console', () => {
  it.each([
    [true, {}, true],
    [false, {}, false],
    [true, { NO_COLOR: '1' }, false],
    [true, { NO_COLOR: '' }, true],
    [true, { TERM: 'dumb' }, false],
    [false, { FORCE_COLOR: '1' }, false],
  ])('terminal %s with %o: colours %s', (terminal, env, coloured) => {
    expect(madeProcess(terminal, env as Record<string, string>).console.coloured).toBe(coloured);
  });

  it('shows progress on a terminal only, and takes it away before anything else is said', () => {
    const shown = madeProcess(true);
    shown.console.progress('10 %');
    shown.console.error('A word.');
    expect(shown.stderr.text).toBe('\r\u001b[2K10 %\r\u001b[2KA word.\n');
    expect(shown.stdout.text).toBe('');
    const hidden = madeProcess(false);
    hidden.console.progress('10 %');
    hidden.console.clearProgress();
    expect(hidden.stderr.text).toBe('');
  });

  it('takes a reader that goes away, and nothing else, for no fault', () => {
    const { stdout } = madeProcess(false);
    expect(() => stdout.fail({ code: 'EPIPE' })).not.toThrow();
    expect(() => stdout.fail({ code: 'ENOSPC' })).toThrow();
  });
});

describe('the table', () => {
  const { result } = exampleDisc();
  const options = { length: 'µm', angle: 'arcsec' } as const;

  it('paints the verdict alone, and says it in words all the same', () => {
    const plain = stationTable(result, { ...options, paint: (text) => text });
    const painted = stationTable(result, { ...options, paint: (text, verdict) => `<${verdict}|${text}>` });
    expect(painted.replace(/<\w+\|([^>]*)>/g, '$1')).toBe(plain);
    expect(painted).toContain('<conforming|✓ conforming>');
    expect(painted).toContain('<nonconforming|✗ nonconforming>');
    expect(painted).toContain('<unproven|? not proven>');
    expect(painted).toContain('<missing|– missing>');
  });

  it('shows a dash for what was not observed, and missing stations in their place', () => {
    const lines = stationTable(result, { ...options, paint: (text) => text })
      .split('\n')
      .slice(3);
    const fourth = (lines[3] ?? '').trim().split(/\s+/);
    expect(fourth[0]).toBe('4');
    expect(fourth[7]).toBe('–');
    expect(lines.map((line) => Number(line.slice(0, 2))).slice(0, 18)).toEqual(
      Array.from({ length: 18 }, (_, n) => n + 1),
    );
  });

  const plain = (shown: typeof result): string => stationTable(shown, { ...options, paint: (text) => text });

  it('has U and the conformance probability after the position', () => {
    const [names = '', units = '', , first = ''] = plain(result).split('\n');
    expect(names.trim().split(/\s+/).slice(-5)).toEqual(['Position', 'U', 'P', 'At', 'Verdict']);
    expect(units.trim().split(/\s+/).slice(-2)).toEqual(['µm', 'µm']);
    const { position } = result.stations[0]!;
    expect(first).toContain(`${(1000 * (position.value ?? 0)).toFixed(1)}  4.2`);
    const chances = result.stations.map((station, n) => ({
      ...station,
      position: { ...station.position, probability: [0.0306, 1e-9, 1, 0.9996][n] ?? null, expanded: null },
    }));
    const rows = plain({ ...result, stations: chances })
      .split('\n')
      .slice(3);
    expect(rows.slice(0, 5).map((row) => /– +(\S+) +(?:root|tip)/.exec(row)?.[1])).toEqual([
      '3.1%',
      '<0.1%',
      '>99.9%',
      '>99.9%',
      '–',
    ]);
  });

  it('has a column of limits only where they differ', () => {
    expect(plain(result)).not.toContain('Limit');
    const [first, ...others] = result.stations;
    const wider = { ...first!, position: { ...first!.position, tolerance: 0.08 } };
    const lines = plain({ ...result, stations: [wider, ...others] }).split('\n');
    expect(lines[0]).toContain('Limit');
    expect(lines[3]).toMatch(/ 80\.0 {2}(root|tip)/);
    expect(lines[4]).toMatch(/ 50\.0 {2}(root|tip)/);
  });

  it('keeps angles within one turn, after rounding as well', () => {
    const [first, ...others] = result.stations;
    const angle = (degrees: number): string =>
      plain({ ...result, stations: [{ ...first!, angle: degrees }, ...others] }).split('\n')[3] ?? '';
    expect(angle(-9)).toMatch(/^ 1 +351\.00 /);
    expect(angle(359.999)).toMatch(/^ 1 +0\.00 /);
  });

  it('is followed by the rule, the coverage, and what would settle the unproven', () => {
    expect(decisionLine(result)).toBe(
      'Rule: guarded, conformity to be proven at 95 %. Position + U is its upper bound, coverage 95 %; P is the probability that it keeps its limit.\n',
    );
    const factor = { ...result.decision, probability: null, factor: 1, coverage: 0.9973 };
    expect(decisionLine({ ...result, decision: factor })).toContain('guarded by 1 U');
    expect(decisionLine({ ...result, decision: factor })).toContain('coverage 99.73 %');
    const bare = result.stations.map((station) => ({ ...station, uncertainty: null }));
    expect(decisionLine({ ...result, stations: bare })).toContain('Uncertainty not evaluated.');
    expect(settleLines(result)).toBe(`Station ${unprovenStation}, position: ${unprovenWords}\n`);
  });

  it('counts in the summary what is there', () => {
    expect(summaryLine(result, 'mm')).toMatch(
      /^18 stations: \d+ conforming, \d+ nonconforming, 2 not proven, 1 missing\. /,
    );
  });
});

describe('units', () => {
  it.each([
    [0.0012345, lengthUnits.µm, '1.2'],
    [-0.00001, lengthUnits.µm, '0.0'],
    [25.4, lengthUnits.inch, '1.000000'],
    [Math.PI, angleUnits.deg, '180.00000'],
    [Math.PI / 180, angleUnits.arcmin, '60.000'],
    [Math.PI / 180, angleUnits.arcsec, '3600.0'],
    [null, angleUnits.deg, '–'],
  ])('%s in %o is %s', (value, unit, text) => expect(inUnit(value, unit)).toBe(text));
});
