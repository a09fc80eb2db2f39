/** The real command line on the sample discs and on rewritten ones. */
import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { ResultDocument, StationResult } from '../../shared-math/result.ts';
import { hubtrue } from '../support/command-line.ts';
import {
  conformingDisc,
  csv,
  type DiscText,
  samplePath,
  temporaryFolder,
  writeDisc,
} from '../support/disc-files.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const launcher = join(root, 'src-main/hosts/terminal/hubtrue.mjs');

const filesOf = (disc: 'conforming' | 'off-centre' | 'drifting'): string[] => [
  samplePath(disc, 'points.csv'),
  '--plan',
  samplePath(disc, 'plan.json'),
];

function reduceJson(disc: DiscText, text = csv(disc)): ResultDocument {
  const files = writeDisc(text, disc.plan);
  const { status, stdout, stderr } = hubtrue('reduce', files.points, '--plan', files.plan, '--json');
  expect(status, stderr).toBeLessThan(2);
  return JSON.parse(stdout) as ResultDocument;
}

describe('exit status', () => {
  it('0 where every planned station conforms', () => {
    expect(hubtrue('reduce', ...filesOf('conforming')).status).toBe(0);
  });
  it('1 where one does not, or is missing', () => {
    expect(hubtrue('reduce', ...filesOf('off-centre')).status).toBe(1);
    const disc = conformingDisc();
    disc.rows = disc.rows.filter(([station]) => station !== '5');
    const files = writeDisc(csv(disc), disc.plan);
    const { status, stdout } = hubtrue('reduce', files.points, '--plan', files.plan);
    expect(status).toBe(1);
    expect(stdout).toMatch(/^ +5 +80\.00 +– missing: /m);
    expect(stdout).toContain('18 stations: 17 conforming, 0 nonconforming, 1 missing.');
  });
  it('the same for diagnose, which says what causes the errors', () => {
    const good = hubtrue('diagnose', ...filesOf('conforming'));
    expect(good.status).toBe(0);
    const { status, stdout } = hubtrue('diagnose', ...filesOf('off-centre'));
    expect(status).toBe(1);
    expect(stdout).toMatch(
      /^1\. The ring of blades sits 2\d µm .* off the hub axis towards station 5 and is tilted/m,
    );
    expect(stdout).toMatch(/^Ring shift .* significant$/m);
    expect(stdout).toContain('Station 13 stands apart');
  });
  it('2 for diagnose with an output folder: it writes no files', () => {
    const { status, stdout, stderr } = hubtrue('diagnose', ...filesOf('conforming'), '--out', 'anywhere');
    expect(status).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toContain('diagnose writes no files');
  });
});

describe('the table', () => {
  const { stdout, stderr } = hubtrue('reduce', ...filesOf('off-centre'));
  const json = hubtrue('reduce', ...filesOf('off-centre'), '--json');
  const result = JSON.parse(json.stdout) as ResultDocument;
  const lines = stdout.split('\n');
  const start = lines.findIndex((line) => line.startsWith('─')) + 1;
  const body = lines.slice(start, start + 20);

  it('has a line for each station with its errors in µm and arc-seconds, position with U and P, and verdict', () => {
    expect(body).toHaveLength(20);
    result.stations.forEach((station, n) => {
      const words = (body[n] ?? '').trim().split(/\s+/);
      const { error, position } = station;
      const seconds = (180 * 3600) / Math.PI;
      const shown = [
        ...[error.oscillation, error.lateral, error.upset].map((value) => 1000 * (value ?? 0)),
        ...[error.rotOscillation, error.rotLateral, error.rotUpset].map((value) => seconds * (value ?? 0)),
        1000 * (position.value ?? 0),
        1000 * (position.expanded ?? 0),
      ];
      expect(words[0]).toBe(String(station.station));
      expect(words.slice(2, 10).map((word) => Number(word.replace('−', '-')))).toEqual(
        shown.map((value) => Number(value.toFixed(1)) + 0),
      );
      const chance = 100 * (position.probability ?? 0);
      if (words[10] === '>99.9%') expect(chance).toBeGreaterThanOrEqual(99.95);
      else if (words[10] === '<0.1%') expect(chance).toBeLessThan(0.05);
      else expect(words[10]).toBe(`${chance.toFixed(1)}%`);
      expect(words[11]).toBe(position.at);
      expect(words.slice(12).join(' ')).toContain(
        station.verdict === 'conforming' ? '✓ conforming' : '✗ nonconforming: ',
      );
    });
  });

  it('is aligned and has units in its header', () => {
    const header = lines.find((line) => line.startsWith('St ')) ?? '';
    const units = lines[lines.indexOf(header) + 1] ?? '';
    const at = [...header].join('').indexOf('Verdict');
    for (const line of body) expect([...line][at]).toMatch(/[✓✗]/u);
    expect(units.trim().split(/\s+/)).toEqual(['°', 'µm', 'µm', 'µm', '″', '″', '″', 'µm', 'µm']);
  });

  it('is at most 130 columns wide but for lists of what is exceeded', () => {
    for (const line of lines.slice(0, start + 20)) {
      const [columns = ''] = line.split(': ');
      expect([...columns].length).toBeLessThanOrEqual(130);
    }
  });

  it('is followed by the rule and what U and P are', () => {
    expect(lines[start + 20]).toMatch(/^Rule: value against limit\. Position \+ U .* coverage 95 %; P is /);
  });

  it('marks what is not proven on a guarded disc, and hands on what would settle it', () => {
    const guarded = hubtrue('reduce', ...filesOf('drifting')).stdout;
    const { stations } = JSON.parse(
      hubtrue('reduce', ...filesOf('drifting'), '--json').stdout,
    ) as ResultDocument;
    expect(guarded).toContain('Rule: guarded, conformity to be proven at 95 %.');
    const unproven = stations.filter(({ verdict }) => verdict === 'unproven');
    expect(unproven.length).toBeGreaterThan(0);
    for (const { station } of unproven)
      expect(guarded).toMatch(new RegExp(`^ *${station} .*\\? not proven: `, 'm'));
    const settle = stations.flatMap(({ station, position, limits }) =>
      [{ name: 'position', settle: position.settle }, ...limits].flatMap((entry) =>
        entry.settle === null ? [] : [`Station ${station}, ${entry.name}: ${entry.settle}`],
      ),
    );
    expect(guarded.split('\n').filter((line) => /^Station \d+, /.test(line))).toEqual(settle);
  });

  it('names what a station exceeds', () => {
    for (const [n, station] of result.stations.entries())
      for (const { name, verdict } of station.limits)
        if (verdict === 'nonconforming') expect(body[n]).toContain(name);
  });

  it('ends with one line that sums up', () => {
    const { summary } = result;
    expect(lines.at(-2)).toContain(
      `20 stations: ${summary.conforming} conforming, ${summary.nonconforming} nonconforming.`,
    );
    expect(lines.at(-2)).toContain(`at station ${summary.worst?.station}`);
    expect(lines.at(-2)).toContain('(limit 50.0 µm)');
  });

  it('holds no colour codes where it is no terminal, and nothing of what the import took', () => {
    expect(stdout).not.toContain('\u001b');
    expect(stdout).not.toContain('Read as');
    expect(stderr).toContain('decimal comma');
    expect(stderr).not.toContain('\r');
  });

  it('shows other units on request', () => {
    const inches = hubtrue('reduce', ...filesOf('conforming'), '--length', 'inch', '--angle', 'deg').stdout;
    const first = JSON.parse(hubtrue('reduce', ...filesOf('conforming'), '--json').stdout) as ResultDocument;
    const line = inches.split('\n').find((one) => /^ +1 /.test(one)) ?? '';
    const { error } = first.stations[0] as StationResult;
    expect(line).toContain(((error.oscillation ?? 0) / 25.4).toFixed(6));
    expect(line).toContain((((error.rotLateral ?? 0) * 180) / Math.PI).toFixed(5));
  });
});

describe('--json', () => {
  const { stdout, stderr, status } = hubtrue('reduce', ...filesOf('drifting'), '--json');
  const result = JSON.parse(stdout) as ResultDocument;

  it('prints the result document and nothing else on standard output', () => {
    expect(Object.keys(result).slice(0, 7)).toEqual([
      'format',
      'units',
      'source',
      'frame',
      'stations',
      'summary',
      'diagnosis',
    ]);
    expect(result.format).toBe('hubtrue-result/1');
    expect(result.diagnosis?.components).toHaveLength(9);
    const { summary, source } = result;
    expect(summary.conforming + summary.nonconforming + summary.unproven + summary.missing.length).toBe(
      summary.stations,
    );
    expect(source.points.used + source.points.excluded.length).toBe(source.points.rows);
    expect(source.software).toBe(JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).version);
    expect(source.points.sha256).toMatch(/^[0-9a-f]{64}$/);
    expect(status).toBe(1);
  });

  it('leaves warnings to standard error: exclusions by reason', () => {
    expect(stderr).toContain('4 rows are left out: hub feature "REFERENCE-BALL" is not in the plan');
  });

  it('states the rule in force with its risk', () => {
    const { decision } = JSON.parse(readFileSync(samplePath('drifting', 'plan.json'), 'utf8'));
    expect(result.decision).toMatchObject({ ...decision, factor: null, coverage: 0.95 });
    expect(result.decision.risk).toContain('consumer');
  });
});

describe('--out', () => {
  it('writes the result, the stations and the report beside the table', () => {
    const folder = join(temporaryFolder(), 'out');
    const { stdout, stderr } = hubtrue('reduce', ...filesOf('conforming'), '--out', folder);
    expect(stdout).toContain('18 stations');
    expect(readdirSync(folder).sort()).toEqual(['report.html', 'report.pdf', 'result.json', 'stations.csv']);
    const printed = hubtrue('reduce', ...filesOf('conforming'), '--json').stdout;
    expect(readFileSync(join(folder, 'result.json'), 'utf8')).toBe(printed);
    expect(stderr).toContain('result.json, stations.csv, report.html, report.pdf');
  });

  it('refuses a file in its place before anything is reduced', () => {
    const files = writeDisc('', '');
    const { status, stderr, stdout } = hubtrue('reduce', ...filesOf('conforming'), '--out', files.points);
    expect(status).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toContain('this is a file');
  });
});

describe('the same disc in another form gives the same result', () => {
  const disc = conformingDisc();
  const expected = reduceJson(disc);

  function expectSame(found: ResultDocument, lengthSlack = 1e-9, angleSlack = 1e-11): void {
    expect(found.stations).toHaveLength(expected.stations.length);
    expected.stations.forEach(({ error, position, verdict }, n) => {
      const other = found.stations[n];
      for (const [name, value] of Object.entries(error)) {
        const difference = Math.abs((other?.error[name as keyof typeof error] ?? Number.NaN) - (value ?? 0));
        expect(difference, `station ${n + 1} ${name}`).toBeLessThan(
          name.startsWith('rot') ? angleSlack : lengthSlack,
        );
      }
      expect(Math.abs((other?.position.value ?? Number.NaN) - (position.value ?? 0))).toBeLessThan(
        10 * lengthSlack,
      );
      expect(other?.verdict).toBe(verdict);
    });
  }

  it('semicolons with decimal commas, packed labels, UTF-16', () => {
    const rows = disc.rows.map(([station, feature, ...numbers]) => [
      station === '' ? `${feature}` : `B${station}_${feature}`,
      ...numbers.map((cell) => cell.replace('.', ',')),
    ]);
    const text = csv({ header: ['Label', 'X', 'Y', 'Z', 'I', 'J', 'K'], rows }, ';', '\r\n');
    const files = writeDisc(Buffer.from(`\ufeff${text}`, 'utf16le'), disc.plan);
    expectSame(JSON.parse(hubtrue('reduce', files.points, '--plan', files.plan, '--json').stdout));
  });

  it('inches, found by size', () => {
    const inch = disc.rows.map((row) =>
      row.map((cell, n) => (n >= 2 && n <= 4 ? String(Number(cell) / 25.4) : cell)),
    );
    expectSame(reduceJson({ ...disc, rows: inch }));
  });

  it('tip-centre data with normals', () => {
    const rows = disc.rows.map(([station, feature, x, y, z, i, j, k]) => {
      const [nx, ny, nz] = [Number(i), Number(j), Number(k)];
      const length = Math.hypot(nx, ny, nz);
      const centre = [x, y, z].map((cell, axis) =>
        String(Number(cell) + (1.5 * ([nx, ny, nz][axis] ?? 0)) / length),
      );
      return [station ?? '', feature ?? '', ...centre, i ?? '', j ?? '', k ?? '', '1.5'];
    });
    expectSame(reduceJson({ ...disc, header: [...disc.header, 'r'], rows }));
  });

  it('points in the opposite order', () => {
    expectSame(reduceJson({ ...disc, rows: [...disc.rows].reverse() }));
  });
});

describe('words', () => {
  it('--help and --version', () => {
    const help = hubtrue('--help');
    expect(help.status).toBe(0);
    expect(help.stdout).toContain(
      'hubtrue reduce   POINTS.csv --plan PLAN.json [--welds WELDS.csv] [--out DIR] [--json]',
    );
    expect(hubtrue('reduce', '--help').stdout).toBe(help.stdout);
    expect(hubtrue('--version').stdout).toBe(
      `${JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).version}\n`,
    );
  });

  it.each<[string, string[], string[]]>([
    ['none', [], ['no command is given', 'reduce or diagnose']],
    ['an unknown command', ['reduse', 'a.csv'], ['found "reduse"', 'write "reduce"']],
    ['an unknown option', ['reduce', 'a.csv', '--pln', 'p.json'], ['found "--pln"', 'write --plan']],
    ['no points', ['reduce', '--plan', 'p.json'], ['no point file is given']],
    ['no plan', ['reduce', 'a.csv'], ['no plan is given', '--plan PLAN.json']],
    [
      'two point files',
      ['reduce', 'a.csv', 'b.csv', '--plan', 'p.json'],
      ['more than one point file', 'found "b.csv"'],
    ],
    ['an option without its value', ['reduce', 'a.csv', '--plan'], ['--plan needs a value']],
    ['an option in the place of a value', ['reduce', 'a.csv', '--plan', '--json'], ['--plan needs a value']],
    ['a value too many', ['reduce', 'a.csv', '--plan', 'p.json', '--json=yes'], ['--json takes no value']],
    [
      'an unknown unit',
      ['reduce', 'a.csv', '--plan', 'p.json', '--length', 'ell'],
      ['found "ell"', 'µm, mm, inch'],
    ],
    [
      'an absent plan',
      ['reduce', 'a.csv', '--plan', 'no-plan.json'],
      ['no-plan.json', 'there is no such plan'],
    ],
  ])('%s', (_, words, parts) => {
    const { status, stdout, stderr } = hubtrue(...words);
    for (const part of parts) expect(stderr).toContain(part);
    expect(stdout).toBe('');
    expect(status).toBe(2);
  });
});

describe('as a process among others', () => {
  function ended(child: ChildProcess): Promise<{ code: number | null; stderr: string }> {
    let stderr = '';
    child.stderr?.on('data', (piece) => {
      stderr += piece;
    });
    return new Promise((resolve) => child.on('close', (code) => resolve({ code, stderr })));
  }

  it('a reader that stops early is no fault', async () => {
    const child = spawn(process.execPath, [launcher, 'reduce', ...filesOf('conforming'), '--json'], {
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    child.stdout.once('data', () => child.stdout.destroy());
    const { stderr, code } = await ended(child);
    expect(stderr).not.toContain('EPIPE');
    expect(code).toBe(0);
  });

  it('an interrupt while reading ends it with nothing written', async () => {
    const disc = conformingDisc();
    const files = writeDisc(csv(disc), disc.plan);
    const out = join(files.folder, 'out');
    // A pipe that is filled for ever: the reading cannot end by itself.
    const pipe = join(files.folder, 'pipe.csv');
    execFileSync('mkfifo', [pipe]);
    const feeder = spawn(process.execPath, ['-e', feed, pipe, files.points], {
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    const child = spawn(
      process.execPath,
      [launcher, 'reduce', pipe, '--plan', files.plan, '--out', out, '--json'],
      { stdio: ['ignore', 'pipe', 'pipe'] },
    );
    const end = ended(child);
    feeder.stdout.once('data', () => child.kill('SIGINT'));
    const { code, stderr } = await end;
    feeder.kill();
    expect(stderr).toContain('Cancelled; nothing was written.');
    expect(code).toBe(130);
    expect(existsSync(out)).toBe(false);
  });

  it('npx finds it in the checkout without any registry', () => {
    const printed = execFileSync(
      'npx',
      ['--offline', 'hubtrue', 'reduce', ...filesOf('conforming'), '--json'],
      {
        cwd: root,
        encoding: 'utf8',
        stdio: ['ignore', 'pipe', 'ignore'],
        env: {
          ...process.env,
          npm_config_cache: temporaryFolder(),
          npm_config_registry: 'http://127.0.0.1:9',
          // npx would build the checkout anew, while other tests run what is built.
          npm_config_ignore_scripts: 'true',
        },
      },
    );
    expect(JSON.parse(printed).summary.conforming).toBe(18);
  });

  it('a checkout without a build says how to make one', () => {
    const folder = join(temporaryFolder(), 'src-main/hosts/terminal');
    mkdirSync(folder, { recursive: true });
    copyFileSync(launcher, join(folder, 'hubtrue.mjs'));
    const { status, stderr } = spawnSync(process.execPath, [join(folder, 'hubtrue.mjs')], {
      encoding: 'utf8',
    });
    expect(stderr).toContain('npm run build');
    expect(status).toBe(2);
  });

  it('the launcher is executable', () => {
    expect(statSync(launcher).mode & 0o111).not.toBe(0);
  });
});

/** Writes the point file into the pipe over and over, and says so once its reader is well under way. */
const feed = `
const { openSync, readFileSync, writeSync } = require('node:fs');
const [pipe, points] = process.argv.slice(1);
const text = readFileSync(points);
const descriptor = openSync(pipe, 'w');
for (let times = 1; ; times += 1) {
  writeSync(descriptor, text);
  if (times === 5) writeSync(1, 'under way');
}
`;
