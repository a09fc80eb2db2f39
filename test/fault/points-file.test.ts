/** What bad point files get from the real command line: a clear message, and exit 2 only where nothing can be reduced. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { ResultDocument } from '../../shared-math/result.ts';
import { type Ended, hubtrue } from '../support/command-line.ts';
import {
  conformingDisc,
  csv,
  type DiscText,
  rowOf,
  temporaryFolder,
  writeDisc,
} from '../support/disc-files.ts';

function reduceText(points: string | Uint8Array, plan: unknown = conformingDisc().plan): Ended {
  const files = writeDisc(points, plan);
  return hubtrue('reduce', files.points, '--plan', files.plan, '--json');
}

const reduceDisc = (disc: DiscText): Ended => reduceText(csv(disc), disc.plan);

/** Refused: exit 2, nothing on standard output, and a message with all of these. */
function expectRefusal({ status, stdout, stderr }: Ended, ...parts: readonly string[]): void {
  for (const part of parts) expect(stderr).toContain(part);
  expect(stderr).not.toContain('fault of Hubtrue');
  expect(stdout).toBe('');
  expect(status).toBe(2);
}

/** The rest is reduced, and this station is listed with all of these in its reason. */
function expectGap(ended: Ended, station: number, line: number, ...parts: readonly string[]): ResultDocument {
  expect(ended.status).toBe(1);
  const result = JSON.parse(ended.stdout) as ResultDocument;
  const { summary, source } = result;
  expect(summary.missing.map((entry) => entry.station)).toEqual([station]);
  expect(summary.conforming + summary.nonconforming + summary.unproven).toBe(17);
  const reason = summary.missing[0]?.reason ?? '';
  for (const part of ['points.csv', `line ${line}`, ...parts]) expect(reason).toContain(part);
  const excluded = source.points.excluded.find((entry) => entry.line === line);
  for (const part of parts) expect(excluded?.reason).toContain(part);
  // All rows of the station are accounted for, with or without fault.
  expect(source.points.used + source.points.excluded.length).toBe(source.points.rows);
  expect(ended.stderr).toContain(`station ${station}`);
  return result;
}

describe('a row that cannot be read', () => {
  it.each([
    [
      'text in a number',
      'abc',
      ['column y', 'found "abc"', 'expected a number such as 12.345', 'correct the cell'],
    ],
    ['a unit in a number', '12.5 mm', ['column y', 'found "12.5 mm"', 'not a number']],
    [
      'a decimal comma',
      '"12,5"',
      ['column y', 'decimal comma found', 'found "12,5"', 'expected a number such as 12.345'],
    ],
    [
      'thousands separators',
      '"1,234.5"',
      ['column y', 'grouped', 'found "1,234.5"', 'without thousands separators'],
    ],
    ['not a number', 'NaN', ['column y', 'no finite number', 'found "NaN"', 'expected a finite number']],
    ['infinity', '-Infinity', ['column y', 'no finite number', 'found "-Infinity"']],
    ['an overflow', '1e999', ['column y', 'too large', 'found "1e999"']],
    ['an empty cell', '', ['column y', 'the cell is empty', 'fill it or take the row out']],
    ['a hexadecimal number', '0x10', ['column y', 'not a number', 'found "0x10"']],
    ['a dash for a minus sign', '\u221212.5', ['column y', 'the minus sign is a dash']],
  ])('with %s leaves its station out and names the cell', (_, cell, parts) => {
    const disc = conformingDisc();
    const { row, line } = rowOf(disc, '7', 'EDGE', 3);
    row[3] = cell;
    const result = expectGap(reduceDisc(disc), 7, line, ...parts);
    expect(result.source.points.used).toBe(
      result.source.points.rows - disc.rows.filter(([s]) => s === '7').length,
    );
  });

  it('with too few cells leaves its station out', () => {
    const disc = conformingDisc();
    const { row, line } = rowOf(disc, '3', 'SEAT');
    row.length = 4;
    expectGap(
      reduceDisc(disc),
      3,
      line,
      'the row ends after 4 cells',
      'expected 8 cells',
      'complete the row',
    );
  });

  it('that was cut off at the end of the file leaves its station out', () => {
    const disc = conformingDisc();
    const text = csv(disc);
    const ended = reduceText(`${text}18,SEA`, disc.plan);
    expectGap(ended, 18, disc.rows.length + 2, 'the row ends after 2 cells', 'found "18,SEA"');
  });

  it('with too many cells, as an unquoted decimal comma makes them, leaves its station out', () => {
    const disc = conformingDisc();
    const { row, line } = rowOf(disc, '3', 'SEAT');
    row[2] = '621,88154';
    expectGap(reduceDisc(disc), 3, line, 'the row has 9 cells', 'expected 8 cells', 'decimal comma');
  });

  it('with a normal that is no unit vector leaves its station out', () => {
    const disc = conformingDisc();
    const { row, line } = rowOf(disc, '5', 'FLANK');
    row[5] = '2.5';
    expectGap(reduceDisc(disc), 5, line, 'column i', 'not a unit normal', 'expected length 1 within 1 %');
  });

  it('without a normal among points that have one leaves its station out', () => {
    const disc = conformingDisc();
    const { row, line } = rowOf(disc, '5', 'FLANK', 2);
    row.splice(5, 3, '', '', '');
    expectGap(reduceDisc(disc), 5, line, 'differ in what they state', 'a surface normal');
  });

  it('of the hub refuses the file', () => {
    const disc = conformingDisc();
    const { row, line } = rowOf(disc, '', 'HUB-FACE', 4);
    row[2] = '12.x';
    expectRefusal(
      reduceDisc(disc),
      'points.csv',
      `line ${line}`,
      'column x',
      'found "12.x"',
      'expected a number',
    );
  });

  it('everywhere refuses the file, showing the first faults and their number', () => {
    const disc = conformingDisc();
    disc.plan.import = { decimal: ',' };
    const ended = reduceDisc(disc);
    expectRefusal(ended, 'decimal point found where the plan says comma', 'line 2', 'import.decimal');
    expect(ended.stderr).toContain(
      `rows with faults (${disc.rows.filter(([station]) => station === '').length} in all)`,
    );
    expect(ended.stderr.trim().split('\n').length).toBe(21);
  });
});

describe('rows that the plan does not know', () => {
  it('of an unknown station are excluded, counted and listed', () => {
    const disc = conformingDisc();
    disc.rows.push(
      ['19', 'SEAT', '1', '2', '3', '0', '0', '1'],
      ['X4', 'SEAT', '1', '2', '3', '0', '0', '1'],
    );
    const ended = reduceDisc(disc);
    expect(ended.status).toBe(0);
    const { points } = (JSON.parse(ended.stdout) as ResultDocument).source;
    expect(points.excluded).toEqual([
      {
        line: disc.rows.length,
        reason: expect.stringContaining('station "19" is not in the plan (stations 1 to 18)'),
      },
      { line: disc.rows.length + 1, reason: expect.stringContaining('station "X4" is not in the plan') },
    ]);
    expect(points.used).toBe(points.rows - 2);
    expect(ended.stderr).toContain('1 row is left out: station "19" is not in the plan');
  });

  it('of an unknown feature are excluded with the nearest name, and the station is missing', () => {
    const disc = conformingDisc();
    for (const row of disc.rows) if (row[0] === '4' && row[1] === 'EDGE') row[1] = 'EDEG';
    const ended = reduceDisc(disc);
    expect(ended.status).toBe(1);
    const { summary, source } = JSON.parse(ended.stdout) as ResultDocument;
    expect(source.points.excluded).toHaveLength(16);
    expect(source.points.excluded[0]?.reason).toContain(
      'blade feature "EDEG" is not in the plan (did you mean "EDGE"?)',
    );
    expect(summary.missing).toEqual([
      expect.objectContaining({ station: 4, reason: expect.stringContaining('EDGE') }),
    ]);
  });

  it('alone make a refusal that says what the file and the plan have', () => {
    const disc = conformingDisc();
    for (const row of disc.rows) row[0] = '99';
    expectRefusal(
      reduceDisc(disc),
      'no point of this file belongs to the plan',
      'expected stations 1 to 18',
      'plan and point file belong together',
    );
  });
});

describe('points that determine nothing', () => {
  it('too few on a blade feature: that station is missing with the reason', () => {
    const disc = conformingDisc();
    let kept = 0;
    disc.rows = disc.rows.filter(
      ([station, feature]) => station !== '6' || feature !== 'FLANK' || ++kept <= 2,
    );
    const { status, stdout } = reduceDisc(disc);
    expect(status).toBe(1);
    const { summary } = JSON.parse(stdout) as ResultDocument;
    expect(summary.missing).toEqual([
      expect.objectContaining({ station: 6, reason: expect.stringMatching(/FLANK.*points/) }),
    ]);
  });

  it('coincident on a blade feature: that station is missing with the reason', () => {
    const disc = conformingDisc();
    const { row } = rowOf(disc, '6', 'FLANK');
    for (const other of disc.rows)
      if (other[0] === '6' && other[1] === 'FLANK') other.splice(2, 3, ...row.slice(2, 5));
    const { status, stdout } = reduceDisc(disc);
    expect(status).toBe(1);
    const { summary } = JSON.parse(stdout) as ResultDocument;
    expect(summary.missing).toEqual([
      expect.objectContaining({ station: 6, reason: expect.stringContaining('FLANK') }),
    ]);
  });

  it('too few on a hub feature: the file is refused', () => {
    const disc = conformingDisc();
    let kept = 0;
    disc.rows = disc.rows.filter(([, feature]) => feature !== 'HUB-BORE' || ++kept <= 2);
    const { line } = rowOf(disc, '', 'HUB-BORE');
    expectRefusal(
      reduceDisc(disc),
      `points.csv, line ${line}`,
      'HUB-BORE',
      'at least',
      'got 2',
      'measure more points',
    );
  });

  it('collinear on the primary hub plane: the file is refused', () => {
    const disc = conformingDisc();
    const face = disc.rows.filter(([, feature]) => feature === 'HUB-FACE');
    const [a, b] = [face[0]?.slice(2, 5).map(Number) ?? [], face[7]?.slice(2, 5).map(Number) ?? []];
    face.forEach((row, n) => {
      row.splice(2, 3, ...a.map((value, axis) => (value + ((b[axis] ?? 0) - value) * (n / 7)).toFixed(5)));
    });
    expectRefusal(
      reduceDisc(disc),
      'points.csv, line 2',
      'datum A',
      'HUB-FACE',
      'lie on one line',
      'add points away',
    );
  });

  it('a hub feature without any points: the file is refused', () => {
    const disc = conformingDisc();
    disc.rows = disc.rows.filter(([, feature]) => feature !== 'HUB-BORE');
    expectRefusal(
      reduceDisc(disc),
      'points.csv',
      'the hub has no points of feature HUB-BORE',
      'measure the feature',
    );
  });
});

describe('columns', () => {
  it('a missing one is named with those that the file has', () => {
    const disc = conformingDisc();
    disc.header[4] = 'height';
    expectRefusal(
      reduceDisc(disc),
      'points.csv',
      'line 1',
      'column z',
      'the column z is missing',
      'station, feature, x, y, height',
      'import.columns.z',
    );
  });

  it('one that the plan names and the file lacks is named with the nearest', () => {
    const disc = conformingDisc();
    disc.header[2] = 'x_coord';
    disc.plan.import = { columns: { x: 'xcoord' } };
    expectRefusal(
      reduceDisc(disc),
      'points.csv',
      'line 1',
      'found "xcoord"',
      'write "x_coord" in import.columns.x',
    );
  });

  it('two of the same name are not chosen between', () => {
    const disc = conformingDisc();
    disc.header.push('x');
    for (const row of disc.rows) row.push('1');
    expectRefusal(
      reduceDisc(disc),
      'column x',
      'more than one column could be x',
      'x (column 3), x (column 9)',
      'give its number in import.columns.x',
    );
  });

  it('a wrong delimiter in the plan is suspected', () => {
    const disc = conformingDisc();
    disc.plan.import = { delimiter: ';' };
    expectRefusal(reduceDisc(disc), 'the columns x, y and z are missing', 'semicolon was taken');
  });
});

describe('labels', () => {
  const packed = (disc: DiscText): void => {
    disc.header = ['label', 'x', 'y', 'z'];
    disc.rows = disc.rows.map(([station, feature, x, y, z]) => [
      station === '' ? (feature ?? '') : `B${station?.padStart(2, '0')}_${feature}`,
      x ?? '',
      y ?? '',
      z ?? '',
    ]);
    disc.plan.import = { columns: { label: 'label' }, label: 'B(?<station>\\d+)_(?<feature>.+)' };
  };

  it('that neither pattern nor hub explains refuse the file, naming the line', () => {
    const disc = conformingDisc();
    packed(disc);
    disc.rows.splice(10, 0, ['REFERENCE', '1', '2', '3']);
    expectRefusal(
      reduceDisc(disc),
      'points.csv',
      'line 12',
      'column label',
      'found "REFERENCE"',
      'import.label',
    );
  });

  it('are held against the whole pattern', () => {
    const disc = conformingDisc();
    packed(disc);
    const [label] = disc.rows.at(-1) ?? [];
    disc.rows.at(-1)?.splice(0, 1, `X${label}`);
    expectRefusal(reduceDisc(disc), `line ${disc.rows.length + 1}`, `found "X${label}"`);
  });
});

it('a wrong unit in the plan is suspected where nothing fits', () => {
  const disc = conformingDisc();
  disc.plan.import = { unit: 'inch' };
  expectRefusal(reduceDisc(disc), 'the plan says inch, but the size of the coordinates fits mm');
});

describe('files that are no point files', () => {
  it('an empty one', () =>
    expectRefusal(reduceText(''), 'points.csv', 'is empty', 'export the points again'));
  it('blank lines', () => expectRefusal(reduceText('\n\n \r\n'), 'points.csv', 'blank lines only'));
  it('a header alone', () =>
    expectRefusal(
      reduceText('station,feature,x,y,z\n'),
      'points.csv',
      'a header and no points',
      'one row a point',
    ));
  it('zero bytes and noise', () =>
    expectRefusal(
      reduceText(Uint8Array.from({ length: 4000 }, (_, n) => (n * 7919) % 251)),
      'points.csv',
      'not a text file',
      'zero bytes',
    ));
  it('a spreadsheet', () =>
    expectRefusal(
      reduceText(Buffer.from('PK\u0003\u0004 sheet1.xml')),
      'points.csv',
      'spreadsheet',
      'export it as CSV',
    ));
  it('a PDF document', () =>
    expectRefusal(reduceText('%PDF-1.7\n'), 'points.csv', 'PDF', 'export the points as CSV'));
  it('prose', () =>
    expectRefusal(reduceText('It was a dark night.\nNothing was measured.\n'), 'points.csv', 'are missing'));
  it('a quote that is never closed', () => {
    const disc = conformingDisc();
    const { row, line } = rowOf(disc, '2', 'SEAT');
    row[1] = '"SEAT';
    expectRefusal(reduceDisc(disc), `line ${line}`, 'a quote is opened in this row and not closed');
  });
  it('a folder', () => {
    const files = writeDisc('', conformingDisc().plan);
    expectRefusal(
      hubtrue('reduce', files.folder, '--plan', files.plan),
      'this is a folder, not a point file',
    );
  });
  it('an absent one', () => {
    const files = writeDisc('', conformingDisc().plan);
    expectRefusal(
      hubtrue('reduce', `${files.points}x`, '--plan', files.plan),
      'points.csvx',
      'there is no such point file',
    );
  });
  it('points and plan swapped', () => {
    const disc = conformingDisc();
    const files = writeDisc(csv(disc), disc.plan);
    expectRefusal(
      hubtrue('reduce', files.plan, '--plan', files.points),
      'points.csv',
      'this is not a plan',
      'swapped',
    );
  });
});

it('a refusal leaves the output folder and what lies in it alone', () => {
  const out = join(temporaryFolder(), 'out');
  mkdirSync(out);
  writeFileSync(join(out, 'result.json'), 'earlier');
  const files = writeDisc('', conformingDisc().plan);
  expectRefusal(hubtrue('reduce', files.points, '--plan', files.plan, '--out', out), 'is empty');
  expect(readFileSync(join(out, 'result.json'), 'utf8')).toBe('earlier');
  expectRefusal(hubtrue('reduce', files.points, '--plan', files.plan, '--out', join(out, 'new')), 'is empty');
  expect(existsSync(join(out, 'new'))).toBe(false);
});
