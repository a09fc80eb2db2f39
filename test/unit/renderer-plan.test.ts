import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { DISC_AXES } from '../../shared-math/frame/axis-names.ts';
import { describeDatumSystem } from '../../shared-math/frame/describe-datum-system.ts';
import type { PointsPreview } from '../../src-main/api.ts';
import { planProblems } from '../../src-main/plan/check-plan.ts';
import { differences } from '../../src-renderer/views/plan/compare.ts';
import {
  blankDraft,
  type Draft,
  parseDraft,
  parsePath,
  pathText,
  planText,
  valueAt,
  withValue,
} from '../../src-renderer/views/plan/draft.ts';
import { clearAlong } from '../../src-renderer/views/plan/drawings/shapes.ts';
import { parseNumber, parseQuantity } from '../../src-renderer/views/plan/fields/number-text.ts';
import { allFields } from '../../src-renderer/views/plan/fields.ts';
import { changed, historyOf, redone, undone } from '../../src-renderer/views/plan/history.ts';
import { datumSketches, stationAngles } from '../../src-renderer/views/plan/nominal.ts';
import { applyTable, readTable } from '../../src-renderer/views/plan/nominal-table.ts';
import { faultWords, placeWords } from '../../src-renderer/views/plan/place-words.ts';
import { sectionOf } from '../../src-renderer/views/plan/sections.ts';
import { nextLabel, startedFrom, startingPoints } from '../../src-renderer/views/plan/starting-points.ts';
import { samplePath } from '../support/sample-results.ts';

const sample = (name: string): Draft =>
  JSON.parse(readFileSync(samplePath(name, 'plan.json'), 'utf8')) as Draft;
const started = (id: string): Draft =>
  startedFrom(blankDraft, startingPoints.find((point) => point.id === id)!, null);

describe('a draft', () => {
  test('is changed by path without touching what it was made from', () => {
    const before: Draft = { disc: { datums: [{ label: 'A' }, { label: 'B' }] } };
    const after = withValue(before, ['disc', 'datums', 1, 'nominal', 'point'], [1, 2, 3]);
    expect(valueAt(after, ['disc', 'datums', 1])).toEqual({ label: 'B', nominal: { point: [1, 2, 3] } });
    expect(before).toEqual({ disc: { datums: [{ label: 'A' }, { label: 'B' }] } });
    expect(withValue(after, ['disc', 'datums', 0], undefined)).toMatchObject({
      disc: { datums: [{ label: 'B' }] },
    });
    expect(withValue({ a: 1, b: 2 }, ['a'], undefined)).toEqual({ b: 2 });
  });

  test('keeps every value when written and read again', () => {
    for (const name of ['conforming', 'off-centre', 'drifting']) {
      const plan = sample(name);
      expect(parseDraft(planText(plan))).toEqual({ draft: plan });
      expect(differences(plan, sample(name))).toEqual([]);
    }
  });

  test('paths are written as the checks write them', () => {
    const path = ['disc', 'datums', 1, 'nominal', 'point', 0];
    expect(pathText(path)).toBe('disc.datums[1].nominal.point[0]');
    expect(parsePath(pathText(path))).toEqual(path);
  });
});

test('the direction of a zone can be set only where some zone is planar, and says why where none is', () => {
  const field = allFields.find(({ path }) => path === 'blade.position.direction');
  if (field?.idle === undefined) throw new Error('The field says when it is idle.');
  const blade = (position: Draft) => ({ blade: { position } });
  expect(field.idle(blade({ zone: 'cylindrical', checkPoints: [{ name: 'tip' }] }))).toContain(
    'no zone is planar',
  );
  expect(field.idle({})).toContain('no zone is planar');
  expect(field.idle(blade({ zone: 'planar' }))).toBeNull();
  // Both take the direction of the blade where they have none.
  const own = { zone: 'cylindrical', checkPoints: [{ name: 'tip', zone: 'planar' }] };
  expect(field.idle(blade(own))).toBeNull();
  expect(field.idle({ overrides: { 3: { position: { zone: 'planar' } } } })).toBeNull();
});

test('letters of datums move out along their rays until none covers another', () => {
  const slanted = (out: number) => [out * Math.SQRT1_2, out * Math.SQRT1_2] as const;
  expect(clearAlong(slanted, 15, [], 16)).toBe(15);
  const out = clearAlong(slanted, 15, [slanted(15)], 16);
  expect((out - 15) * Math.SQRT1_2).toBeGreaterThanOrEqual(16);
  // The next step is a pixel wide.
  expect((out - 16) * Math.SQRT1_2).toBeLessThan(16);
  expect(clearAlong(slanted, 15, [[100, 100]], 16)).toBe(15);
});

describe('undo and redo', () => {
  test('go back and forth; typing in one field is one step; a change after undo ends the way forward', () => {
    let history = historyOf({ a: 0 });
    history = changed(history, { a: 1 }, 'a', true);
    history = changed(history, { a: 12 }, 'a', true);
    history = changed(history, { a: 12, b: 1 }, 'b', true);
    expect(undone(history).present).toEqual({ a: 12 });
    expect(undone(undone(history)).present).toEqual({ a: 0 });
    expect(redone(undone(history)).present).toEqual({ a: 12, b: 1 });
    expect(undone(undone(undone(history)))).toEqual(undone(undone(history)));
    expect(redone(changed(undone(history), { a: 5 }, 'a', false)).present).toEqual({ a: 5 });
  });
});

test.each([
  ['5,5', 5.5],
  ['−18', -18],
  ['2.5e-6', 2.5e-6],
  [' 1 000.5 ', 1000.5],
  ['', undefined],
  ['1,2,3', null],
  ['0x10', null],
  ['five', null],
])('the number "%s"', (text, value) => {
  expect(parseNumber(text)).toBe(value);
});

test.each([
  ['1.5', 'mm', 1.5],
  ['25 µm', 'mm', 0.025],
  ['25μm', 'mm', 0.025],
  ['0,5 in', 'mm', 12.7],
  ['180°', 'rad', Math.PI],
  ['1,72′', 'rad', 1.72 * (Math.PI / 10_800)],
  ["60'", 'rad', Math.PI / 180],
  ['-3600 ″', 'rad', -Math.PI / 180],
  ['2 mrad', 'rad', 0.002],
  ['', 'rad', undefined],
  ['°', 'rad', null],
  ['3 °', 'mm', null],
  ['3 µm', '', null],
])('the quantity "%s" in a field of %s', (text, unit, value) => {
  const read = parseQuantity(text, unit);
  if (typeof value === 'number') expect(read).toBeCloseTo(value, 11);
  else expect(read).toBe(value);
});

/** Parts of the plan with an editor of their own, where the catalogue of fields ends. */
const ownEditors = [
  '$schema',
  'format',
  'units',
  'import',
  'disc.datums',
  'disc.angles',
  'blade.datums',
  'blade.position.checkPoints',
  'blade.position.featureRelating.free',
  'overrides',
  'characteristics',
  'budget.others',
];

interface SchemaNode {
  readonly properties?: Readonly<Record<string, SchemaNode>>;
  readonly anyOf?: readonly SchemaNode[];
}

test('every value that a plan can hold has a field or an editor of its own, and every field is one of the plan', () => {
  const schema = JSON.parse(
    readFileSync(new URL('../../src-main/plan/plan.schema.json', import.meta.url), 'utf8'),
  ) as SchemaNode;
  const leaves: string[] = [];
  const walk = (node: SchemaNode, path: string): void => {
    if (ownEditors.includes(path)) return;
    const block =
      node.properties ?? node.anyOf?.find(({ properties }) => properties !== undefined)?.properties;
    if (block === undefined) leaves.push(path);
    else for (const [key, inner] of Object.entries(block)) walk(inner, path === '' ? key : `${path}.${key}`);
  };
  walk(schema, '');
  expect([...new Set(allFields.map(({ path }) => path))].sort()).toEqual(leaves.sort());
});

describe('what datums fix', () => {
  test('is told for a list that is not complete yet, and what stays open', () => {
    const sketches = datumSketches(sample('conforming'), 'disc');
    const datums = sketches.map(({ datum }) => datum!);
    const two = describeDatumSystem(datums.slice(0, 2), DISC_AXES);
    expect(two.datums.map(({ fixes }) => fixes)).toEqual([
      ['translation along the disc axis Z', 'the two rotations that tilt the disc axis Z'],
      ['translation along disc X and disc Y'],
    ]);
    expect(two.openWords).toEqual(['rotation about the disc axis Z']);
    expect(two.open).toEqual({ translations: [0, 0, 0], rotations: [0, 0, 1] });
    expect(two.datums[1]?.takes).toEqual({ translations: [1, 1, 0], rotations: [0, 0, 0] });
    expect(describeDatumSystem(datums, DISC_AXES).openWords).toEqual([]);
    // The same face once more adds nothing.
    expect(describeDatumSystem([datums[0]!, datums[0]!], DISC_AXES).datums[1]?.fixes).toEqual([]);
    expect(describeDatumSystem([], DISC_AXES).open).toEqual({
      translations: [1, 1, 1],
      rotations: [1, 1, 1],
    });
  });

  test('a datum without its direction is left out until it has one', () => {
    const draft = withValue(sample('conforming'), ['disc', 'datums', 0, 'nominal', 'direction'], undefined);
    expect(datumSketches(draft, 'disc').map(({ datum }) => datum?.label)).toEqual([undefined, 'B', 'C']);
  });
});

test('station angles follow first angle and sense, or the list', () => {
  const disc = { stations: 4, firstAngle: 10, sense: 'clockwise' };
  expect(stationAngles({ disc })).toEqual([10, -80, -170, -260]);
  expect(stationAngles({ disc: { ...disc, angles: [0, 91, 180, 271] } })).toEqual([0, 91, 180, 271]);
  expect(stationAngles({ disc: { ...disc, stations: 2.5 } })).toBeNull();
});

describe('starting points', () => {
  const preview = {
    shapes: [{ feature: 'ODD', looks: ['cylinder'], radius: 72 }],
    counts: [
      ['HUB-FACE', null],
      ['HUB-BORE', null],
      ['SLOT-L', null],
      ['SLOT-R', null],
      ['FLANK', 3],
      ['EDGE', 3],
      ['SEAT', 18],
    ].map(([feature, station]) => ({
      feature,
      station,
      count: 9,
      line: 1,
      standing: 'planned',
      reason: null,
    })),
  } as unknown as PointsPreview;

  test.each(startingPoints.filter(({ id }) => id !== 'blank'))(
    '$title: all freedoms are fixed once the drawing has given its numbers',
    ({ id }) => {
      // Any radius does: what a datum fixes depends on its lever, not on its size.
      const filled = JSON.parse(JSON.stringify(started(id)).replaceAll('null', '60')) as Draft;
      for (const owner of ['disc', 'blade'] as const) {
        const datums = datumSketches(filled, owner).map(({ datum }) => datum!);
        const system = describeDatumSystem(datums, DISC_AXES);
        expect(system.openWords).toEqual([]);
        for (const { fixes, label } of system.datums) expect(fixes, label).not.toEqual([]);
      }
    },
  );

  test('go by the shape of the points where no name fits', () => {
    const odd = JSON.parse(JSON.stringify(preview).replace('HUB-BORE', 'ODD')) as PointsPreview;
    expect(valueAt(startedFrom(blankDraft, startingPoints[0]!, odd), ['disc', 'datums', 1])).toMatchObject({
      feature: 'ODD',
      type: 'cylinder',
      nominal: { point: [0, 0, 0], direction: [0, 0, 1] },
    });
  });

  test('put the names of the file where they fit, and its stations', () => {
    const draft = startedFrom(blankDraft, startingPoints[0]!, preview);
    expect(valueAt(draft, ['disc', 'stations'])).toBe(18);
    expect(valueAt(draft, ['disc', 'datums', 0, 'feature'])).toBe('HUB-FACE');
    expect(valueAt(draft, ['disc', 'datums', 2, 'features'])).toEqual(['SLOT-L', 'SLOT-R']);
    expect(valueAt(draft, ['blade', 'datums', 2, 'feature'])).toBe('SEAT');
    expect(nextLabel(draft)).toBe('G');
  });
});

describe('a table of nominals', () => {
  test('in any order under a header, values equal to the blade’s own are no exception', () => {
    const table = readTable('Tolerance [mm];Station;Radius mm\n0,05;1;236\n0,08;2;236,5\n');
    expect(table).toMatchObject({ faults: [], columns: ['radius', 'tolerance'] });
    const draft = applyTable(sample('conforming'), table);
    expect(draft['overrides']).toEqual({ 2: { seat: { radius: 236.5 }, position: { tolerance: 0.08 } } });
  });

  test('angles become the list of angles, the others staying where they are', () => {
    const draft = applyTable(sample('conforming'), readTable('2\t\t\t\t\t21.5'));
    const angles = Array.from({ length: 18 }, (_, k) => (k === 1 ? 21.5 : 20 * k));
    expect(valueAt(draft, ['disc', 'angles'])).toEqual(angles);
    expect(planProblems(planText(draft), 'plan')).toEqual([]);
  });

  test('says what it cannot read', () => {
    expect(readTable('station\tcolour\n1\tred').faults).toEqual(['The column “colour” is not known.']);
    expect(readTable('1\t236\n1\t237').faults).toEqual(['Station 1 stands there twice.']);
    expect(readTable('one\t236').faults).toHaveLength(2);
  });
});

test('two plans differ by path', () => {
  const before = sample('conforming');
  const after = withValue(
    withValue(before, ['blade', 'seat', 'radius'], 240),
    ['disc', 'datums', 2],
    undefined,
  );
  expect(differences(before, after)).toEqual([
    { path: 'disc.datums[2]', before: expect.stringContaining('HUB-SLOT-LEFT'), after: null },
    { path: 'blade.seat.radius', before: '236', after: '240' },
  ]);
});

describe('problems', () => {
  test('of a blank plan ask for what is needed, in words and at their part of the editor', () => {
    const draft = started('face-bore-slot');
    const problems = planProblems(planText(draft), 'plan');
    const words = problems.map(
      (problem) => `${placeWords(problem.path ?? '', draft)}: ${faultWords(problem)}`,
    );
    expect(words).toContain('Hub datum C, place X: Needed: a number.');
    expect(words).toContain('Disc and stations: stations: Needed: a number.');
    expect(words).toContain('Blade seat: radius: Needed: a number.');
    expect(problems.map(({ path }) => sectionOf(path ?? ''))).not.toContain('text');
  });

  test('of datum systems name the list and the freedom', () => {
    const draft = withValue(sample('conforming'), ['disc', 'datums', 2], undefined);
    expect(planProblems(planText(draft), 'plan')).toMatchObject([
      { code: 'open-freedom', path: 'disc.datums' },
    ]);
    expect(planProblems('{', 'plan')).toMatchObject([{ code: 'json-syntax', line: 1 }]);
  });

  test.each([
    ['disc.datums[1].nominal.radius', 'hub'],
    ['disc.angles[3]', 'stations'],
    ['disc.stations', 'disc'],
    ['blade.limits.upset', 'limits'],
    ['temperature.applied', 'measurement'],
    ['import.columns.x', 'text'],
    ['discs', 'text'],
  ])('%s belongs to %s', (path, section) => {
    expect(sectionOf(path)).toBe(section);
  });
});
