/** What bad plans get from the real command line: exit 2 and a message with file, line, path, value, expectation, remedy. */
import { describe, expect, it } from 'vitest';
import { readPlan } from '../../src-main/plan/read-plan.ts';
import { RefusedInput } from '../../src-main/problems.ts';
import { hubtrue } from '../support/command-line.ts';
import { conformingDisc, csv, type LoosePlan, writeDisc } from '../support/disc-files.ts';

/** Line on which a text stands. */
function lineOf(plan: string, marker: string): number {
  expect(plan).toContain(marker);
  return plan.slice(0, plan.indexOf(marker)).split('\n').length;
}

/** Refused by the reader of plans with a message that has all parts and names the line of `marker`. */
async function expectUnreadable(
  plan: string,
  marker: string | null,
  ...parts: readonly string[]
): Promise<void> {
  const refusal = await readPlan(writeDisc('', plan).plan).then(
    () => 'not refused',
    (error: unknown) => error,
  );
  expect(refusal).toBeInstanceOf(RefusedInput);
  const messages = (refusal as RefusedInput).message;
  for (const part of parts) expect(messages).toContain(part);
  if (marker !== null) expect(messages).toContain(`plan.json, line ${lineOf(plan, marker)}`);
}

/** Refused by the command line, likewise. */
function expectRefusal(plan: string, marker: string | null, ...parts: readonly string[]): void {
  const disc = conformingDisc();
  const files = writeDisc(csv(disc), plan);
  const { status, stdout, stderr } = hubtrue('reduce', files.points, '--plan', files.plan, '--json');
  for (const part of ['plan.json', ...parts]) expect(stderr).toContain(part);
  if (marker !== null) expect(stderr).toContain(`plan.json, line ${lineOf(plan, marker)}`);
  expect(stderr).not.toContain('fault of Hubtrue');
  expect(stdout).toBe('');
  expect(status).toBe(2);
}

// biome-ignore lint/suspicious/noExplicitAny: tests spoil any value of the plan
type Spoil = (plan: any) => void;

/** The conforming plan, spoilt. */
function spoilt(spoil: Spoil): string {
  const plan: LoosePlan = conformingDisc().plan;
  spoil(plan);
  return JSON.stringify(plan, null, 2);
}

/** The first two datums of a list as the members of a pattern that takes the label of the first. */
function patternOf(datums: LoosePlan[], more: object) {
  const members = datums.slice(0, 2).map(({ label: _, ...member }) => member);
  return { label: 'A', type: 'pattern', members, ...more };
}

describe('misspelt keys', () => {
  it.each<[string, string, Spoil, string, string]>([
    [
      'at the top',
      '"titel"',
      (p) => {
        p.titel = p.title;
      },
      'a plan has no such key',
      'write "title" if that is meant',
    ],
    [
      'in the disc',
      '"sens"',
      (p) => {
        p.disc.sens = p.disc.sense;
      },
      '"disc" has no such key',
      'write "sense"',
    ],
    [
      'in a datum',
      '"materiel"',
      (p) => {
        p.disc.datums[1].materiel = 'positive';
      },
      'disc.datums[1].materiel',
      'write "material"',
    ],
    [
      'in a nominal feature',
      '"halfangle"',
      (p) => {
        p.blade.datums[0].nominal.halfangle = 3;
      },
      'blade.datums[0].nominal.halfangle',
      'write "halfAngle"',
    ],
    [
      'in a check point',
      '"tolerence"',
      (p) => {
        p.blade.position.checkPoints[1].tolerence = 0.1;
      },
      'blade.position.checkPoints[1].tolerence',
      'write "tolerance"',
    ],
    [
      'in an override',
      '"limit"',
      (p) => {
        p.overrides = { 3: { limit: {} } };
      },
      'overrides.3.limit',
      'write "limits"',
    ],
    [
      'in the import',
      '"delimeter"',
      (p) => {
        p.import = { delimeter: ';' };
      },
      'import.delimeter',
      'write "delimiter"',
    ],
    [
      'in the columns',
      '"statoin"',
      (p) => {
        p.import = { columns: { statoin: 'S' } };
      },
      'import.columns.statoin',
      'write "station"',
    ],
    [
      'far from any',
      '"qqqqqqqq"',
      (p) => {
        p.qqqqqqqq = 1;
      },
      'expected one of',
      'take it out',
    ],
  ])('%s', (_, marker, spoil, ...parts) => {
    expectRefusal(spoilt(spoil), marker, ...parts);
  });
});

describe('values', () => {
  it.each<[string, string | null, Spoil, readonly string[]]>([
    [
      'a missing key',
      '"seat"',
      (p) => {
        delete p.blade.seat.radius;
      },
      ['blade.seat.radius', 'the key "radius" is missing', 'expected a number', 'add "radius"'],
    ],
    [
      'a missing block',
      '"blade"',
      (p) => {
        p.blade = { seat: p.blade.seat };
      },
      ['blade.datums', 'is missing', 'blade.position'],
    ],
    [
      'two budget lines of one name',
      '" Deflection"',
      (p) => {
        p.budget.others = ['Deflection', ' Deflection'].map((name) => ({ name, allocated: 0.004 }));
      },
      ['budget.others[1].name', 'another line of the budget has this name', 'found "Deflection"', 'rename'],
    ],
    [
      'a further budget line named as one of the plan',
      '"name": "wear"',
      (p) => {
        p.budget.others = [{ name: 'wear', found: 0.004 }];
      },
      ['budget.others[0].name', 'another line of the budget has this name'],
    ],
    [
      'a further budget line without a figure',
      '{\n        "name": "Clamp"',
      (p) => {
        p.budget.others = [{ name: 'Clamp' }];
      },
      ['budget.others[0]', 'neither "allocated" nor "found"', 'mm of position', 'take the line out'],
    ],
    [
      'a negative allocation',
      '"allocated"',
      (p) => {
        p.budget.others = [{ name: 'Clamp', allocated: -0.001 }];
      },
      ['budget.others[0].allocated', 'found "-0.001"', 'not below 0'],
    ],
    [
      'a freedom that no tool has',
      '"laterl"',
      (p) => {
        p.adjustments = { tool: { laterl: {} } };
      },
      ['adjustments.tool', 'no such key', 'write "lateral"'],
    ],
    [
      'a step beyond the limit',
      '"step"',
      (p) => {
        p.adjustments = { hub: { y: { limit: 0.01, step: 0.02 } } };
      },
      ['adjustments.hub.y.step', 'one step goes beyond the limit', 'found "0.02"', 'not above 0.01'],
    ],
    [
      'a limit of nothing',
      '"limit"',
      (p) => {
        p.adjustments = { index: { limit: 0 } };
      },
      ['adjustments.index.limit', 'found "0"', 'above 0'],
    ],
    [
      'a number in quotes',
      '"axial"',
      (p) => {
        p.blade.seat.axial = '12';
      },
      ['blade.seat.axial', 'found "12"', 'expected a number', 'without quotes'],
    ],
    [
      'a tolerance of nothing',
      '"tolerance"',
      (p) => {
        p.blade.position.tolerance = 0;
      },
      ['found "0"', 'a number above 0'],
    ],
    [
      'a negative limit',
      '"upset"',
      (p) => {
        p.blade.limits.upset = -0.1;
      },
      ['blade.limits.upset', 'a number above 0'],
    ],
    [
      'a word of no list',
      '"type"',
      (p) => {
        p.disc.datums[0].type = 'plain';
      },
      ['found "plain"', 'write "plane"'],
    ],
    [
      'other units',
      '"units"',
      (p) => {
        p.units = 'inch';
      },
      ['found "inch"', 'expected "mm"'],
    ],
    [
      'half a station',
      '"stations"',
      (p) => {
        p.disc.stations = 17.5;
      },
      ['disc.stations', 'found "17.5"', 'a whole number'],
    ],
    [
      'no check point',
      '"checkPoints"',
      (p) => {
        p.blade.position.checkPoints = [];
      },
      ['at least one'],
    ],
    [
      'two coordinates',
      '"point"',
      (p) => {
        p.disc.datums[0].nominal = { point: [0, 0], direction: [0, 0, 1] };
      },
      ['disc.datums[0].nominal.point', 'three numbers'],
    ],
    [
      'a zero direction',
      '"direction"',
      (p) => {
        p.disc.datums[0].nominal.direction = [0, 0, 0];
      },
      ['disc.datums[0].nominal.direction', 'this is no direction', '[0,0,0]'],
    ],
    [
      'a plane without direction',
      '"nominal"',
      (p) => {
        p.disc.datums[0].nominal = { point: [0, 0, 0] };
      },
      ['a plane needs the key "direction"', 'datum A'],
    ],
    [
      'a cylinder without radius',
      null,
      (p) => {
        delete p.disc.datums[1].nominal.radius;
      },
      ['disc.datums[1].nominal.radius', 'a cylinder needs the key "radius"'],
    ],
    [
      'a cone without half angle',
      null,
      (p) => {
        p.disc.datums[1].type = 'cone';
      },
      ['a cone needs the key "halfAngle"'],
    ],
    [
      'a plane with a radius',
      null,
      (p) => {
        p.disc.datums[0].nominal.radius = 4;
      },
      ['a plane has no "radius"'],
    ],
    [
      'a midplane with one feature',
      null,
      (p) => {
        p.disc.datums[2] = { ...p.disc.datums[2], features: undefined, feature: 'HUB-SLOT-LEFT' };
      },
      ['a midplane needs the key "features"'],
    ],
    [
      'an association that its type does not have',
      '"association"',
      (p) => {
        p.disc.datums[0].association = 'maximum-inscribed';
      },
      [
        'disc.datums[0].association',
        'there is no plane by this association',
        'found "maximum-inscribed"',
        'for a plane: gaussian, gaussian-outer, minimax',
      ],
    ],
    [
      'an association of the whole plan that one datum does not have',
      null,
      (p) => {
        p.association = 'minimax';
      },
      [
        'disc.datums[2]',
        'does not exist for a midplane (datum C)',
        'add "association": "gaussian" to datum C',
      ],
    ],
    [
      'an outer cylinder without side',
      null,
      (p) => {
        p.disc.datums[1].association = 'gaussian-outer';
        delete p.disc.datums[1].side;
      },
      ['disc.datums[1].side', 'touches its material from outside', 'add "side" to datum B'],
    ],
    [
      'a screen of a mid-plane',
      '"screen"',
      (p) => {
        p.disc.datums[2].screen = { method: 'huber' };
      },
      [
        'disc.datums[2].screen',
        'no robust screen for a midplane',
        'plane, line, circle, sphere, cylinder only',
      ],
    ],
    [
      'a screen of the whole plan that one datum does not have',
      null,
      (p) => {
        p.screen = { method: 'biweight', cutoff: 4, exclude: true };
      },
      ['disc.datums[2]', 'add "screen": null to datum C'],
    ],
    [
      'a screen by an unknown method',
      '"method"',
      (p) => {
        p.disc.datums[0].screen = { method: 'tukey' };
      },
      ['disc.datums[0].screen.method', 'found "tukey"'],
    ],
    [
      'a midplane of three features',
      '"features"',
      (p) => {
        p.disc.datums[2].features = ['P', 'Q', 'R'];
      },
      ['disc.datums[2].features', 'a midplane has two faces', '3 features'],
    ],
    [
      'a datum with one feature and several',
      null,
      (p) => {
        p.disc.datums[0].features = ['P', 'Q'];
      },
      ['disc.datums[0].feature', '"features" already names the features'],
    ],
    [
      'a common datum that names a feature twice',
      null,
      (p) => {
        p.disc.datums[0].features = ['HUB-FACE', 'HUB-FACE'];
        delete p.disc.datums[0].feature;
      },
      ['disc.datums[0]', 'datum A names feature "HUB-FACE" twice'],
    ],
    [
      'a pattern without members',
      null,
      (p) => {
        p.disc.datums[2] = { label: 'C', type: 'pattern' };
      },
      ['disc.datums[2].members', 'a pattern needs the key "members"', 'datum C'],
    ],
    [
      'a pattern of one member',
      '"members"',
      (p) => {
        const { label, ...face } = p.disc.datums[0];
        p.disc.datums[0] = { label, type: 'pattern', members: [face] };
      },
      ['disc.datums[0].members', 'a list of two or more members'],
    ],
    [
      'a pattern with a nominal place of its own',
      null,
      (p) => {
        p.disc.datums[0] = patternOf(p.disc.datums, { nominal: { point: [0, 0, 0] } });
        p.disc.datums.splice(1, 1);
      },
      ['disc.datums[0].nominal', 'a pattern has no "nominal"', 'on its members'],
    ],
    [
      'a pattern with a clocking',
      '"clocking"',
      (p) => {
        p.disc.datums[0] = patternOf(p.disc.datums, { clocking: 'direction' });
        p.disc.datums.splice(1, 1);
      },
      ['disc.datums[0].clocking', 'a pattern has no "clocking"'],
    ],
    [
      'a pattern by minimum zone',
      '"association"',
      (p) => {
        p.disc.datums[0] = patternOf(p.disc.datums, { association: 'minimax' });
        p.disc.datums.splice(1, 1);
      },
      ['disc.datums[0].association', 'there is no pattern by this association', 'for a pattern: gaussian'],
    ],
    [
      'a member without radius',
      null,
      (p) => {
        delete p.disc.datums[1].nominal.radius;
        p.disc.datums[0] = patternOf(p.disc.datums, {});
        p.disc.datums.splice(1, 1);
      },
      ['disc.datums[0].members[1].nominal.radius', 'a cylinder needs the key', 'member 2 of datum A'],
    ],
    [
      'a misspelt key of a member',
      '"sides"',
      (p) => {
        p.disc.datums[1].sides = 'inside';
        p.disc.datums[0] = patternOf(p.disc.datums, {});
        p.disc.datums.splice(1, 1);
      },
      ['disc.datums[0].members[1]', 'found "sides"', 'expected "side"'],
    ],
    [
      'members of a plane',
      '"members"',
      (p) => {
        p.disc.datums[0].members = patternOf(p.disc.datums, {}).members;
      },
      ['disc.datums[0].members', 'a plane has no "members"', 'on a pattern only'],
    ],
    [
      'a feature without nominal place',
      null,
      (p) => {
        delete p.disc.datums[0].nominal;
      },
      ['disc.datums[0].nominal', 'a plane needs the key "nominal"'],
    ],
    [
      'two datums of one letter',
      null,
      (p) => {
        p.disc.datums[1].label = 'A';
      },
      ['disc.datums[1].label', 'the same label', 'found "A"'],
    ],
    [
      'two datums of one feature',
      null,
      (p) => {
        p.disc.datums[1].feature = 'HUB-FACE';
      },
      ['disc.datums[1]', 'already belongs to datum A'],
    ],
    [
      'too few angles',
      '"angles"',
      (p) => {
        p.disc.angles = [0, 20, 40];
      },
      ['3 angles', 'expected 18, one a station'],
    ],
    [
      'an angle twice, a turn apart',
      null,
      (p) => {
        p.disc.angles = Array.from({ length: 18 }, (_, k) => (k === 17 ? 380 : 20 * k));
      },
      ['stations 2 and 18 have the same angle', 'disc.angles[17]'],
    ],
    [
      'neither sense nor angles',
      '"disc"',
      (p) => {
        delete p.disc.sense;
      },
      ['disc.sense', 'the key "sense" is missing', '"counterclockwise" or "clockwise"'],
    ],
    [
      'an override of no station',
      '"19"',
      (p) => {
        p.overrides = { 19: { seat: { radius: 1 } } };
      },
      ['there is no such station', 'from 1 to 18'],
    ],
    [
      'a planar zone without direction',
      '"position"',
      (p) => {
        p.blade.position.zone = 'planar';
      },
      ['blade.position.direction', 'needs a direction'],
    ],
    [
      'two check points of one name',
      null,
      (p) => {
        p.blade.position.checkPoints[1].name = 'root';
      },
      ['blade.position.checkPoints[1].name', 'another check point has this name'],
    ],
    [
      'temperature without "applied"',
      '"temperature"',
      (p) => {
        p.temperature = { part: 22, expansion: 1e-5 };
      },
      ['temperature.applied', 'is missing'],
    ],
    [
      'scaling without expansion',
      '"temperature"',
      (p) => {
        p.temperature = { applied: false, part: 22 };
      },
      ['temperature.expansion', '1/K'],
    ],
    [
      'a label pattern without groups',
      '"label": "B(',
      (p) => {
        p.import = { label: 'B(\\d+)_(.+)' };
      },
      ['import.label', 'lacks a named group', '(?<station>'],
    ],
    [
      'a label pattern for the station alone, without a column of stations',
      '"label": "B(',
      (p) => {
        p.import = { label: 'B(?<station>\\d+)' };
      },
      ['import.label', 'lacks a named group', '(?<feature>'],
    ],
    [
      'a label pattern that is none',
      '"label": "B(',
      (p) => {
        p.import = { label: 'B(' };
      },
      ['import.label', 'no regular expression'],
    ],
    [
      'one column for two roles',
      null,
      (p) => {
        p.import = { columns: { x: 'A', y: 'A' } };
      },
      ['import.columns.y', 'already serves as x'],
    ],
    [
      'a coverage that leaves the value out of its own interval',
      '"coverage"',
      (p) => {
        p.uncertainty = { probing: 0.001, coverage: 0.05 };
      },
      ['uncertainty.coverage', 'found "0.05"', 'not below 0.5'],
    ],
    [
      'a probability and a factor at once',
      null,
      (p) => {
        p.decision = { rule: 'guarded', probability: 0.95, factor: 1 };
      },
      ['decision.factor', 'both a probability and a factor', 'remove'],
    ],
    [
      'a factor without a guard band',
      null,
      (p) => {
        p.decision = { rule: 'simple', factor: 1 };
      },
      ['decision.factor', 'knows no factor'],
    ],
    [
      'a free motion twice',
      null,
      (p) => {
        p.blade.position.featureRelating = { tolerance: 0.03, free: ['x', 'x'] };
      },
      ['blade.position.featureRelating.free[1]', 'named twice', 'found "x"'],
    ],
  ])('%s', async (_, marker, spoil, parts) => {
    await expectUnreadable(spoilt(spoil), marker, ...parts);
  });

  it('a temperature column that the file does not have', () => {
    const disc = conformingDisc();
    disc.plan.temperature = { applied: false, expansion: 8.6e-6 };
    const files = writeDisc(csv(disc), disc.plan);
    const { status, stderr } = hubtrue('reduce', files.points, '--plan', files.plan);
    expect(stderr).toContain('temperature.part');
    expect(status).toBe(2);
  });
});

describe('datum systems', () => {
  it('that leave a freedom open name it', () => {
    expectRefusal(
      spoilt((p) => {
        p.disc.datums.pop();
      }),
      '"datums"',
      'disc.datums',
      'leaves open: rotation about the disc axis',
      'add a clocking datum',
    );
  });
  it('with a datum that adds nothing name it', () => {
    const plan = spoilt((p) => {
      p.disc.datums.splice(1, 0, {
        label: 'X',
        feature: 'HUB-SLOT-LEFT',
        type: 'plane',
        nominal: { point: [0, 0, 4], direction: [0, 0, 1] },
      });
      p.disc.datums[3].features = ['HUB-SLOT-RIGHT', 'HUB-SLOT-LEFT-2'];
    });
    expectRefusal(plan, null, 'disc.datums[1]', 'Datum X', 'fixes no freedom', 'remove it');
  });
});

describe('texts that are no plan', () => {
  it.each<[string, string, readonly string[]]>([
    ['an empty file', '', ['is empty', 'swapped']],
    [
      'a table',
      'station,feature,x,y,z\n1,SEAT,1,2,3\n',
      ['line 1', 'this is not a plan', 'found "station,feature,x,y,z"', 'swapped'],
    ],
    ['a list', '[]', ['this is not a plan', 'found "[]"']],
    [
      'another format',
      '{ "format": "hubtrue-result/1" }',
      ['line 1', 'format', 'found "hubtrue-result/1"', 'expected "hubtrue-plan/1"'],
    ],
    [
      'a missing comma',
      '{\n  "format": "hubtrue-plan/1"\n  "units": "mm"\n}',
      ['line 3', 'character 3', 'not valid JSON', 'a comma or a closing brace'],
    ],
    [
      'a comma too many',
      '{\n  "units": "mm",\n}',
      ['line 3', 'character 1', 'no comma stands before a closing brace'],
    ],
    ['single quotes', "{ 'units': 'mm' }", ['line 1', 'double quotes']],
    ['a comment', '{\n// units\n"units": "mm" }', ['line 2', 'found "/"', 'a key in double quotes']],
    ['a decimal comma', '{ "units": 1,5 }', ['line 1', 'a key in double quotes']],
    ['NaN', '{ "units": NaN }', ['found "NaN"', 'expected a value']],
    ['an end too early', '{ "units": "mm"', ['found "the end of the text"']],
    ['a key twice', '{ "units": "mm",\n "units": "mm" }', ['line 2', '"units" is given twice']],
    ['a bottomless nest', `{ "a": ${'['.repeat(5000)}`, ['at most 64 levels']],
  ])('%s', (_, plan, parts) => {
    expectRefusal(plan, null, ...parts);
  });
  it('a spreadsheet', () => {
    expectRefusal('PK\u0003\u0004 xl/workbook.xml', null, 'not a text file', 'spreadsheet');
  });
});
