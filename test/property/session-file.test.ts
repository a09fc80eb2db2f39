/**
 * A session file with any byte or any value changed either opens as it was, or says what is wrong; it never brings the program
 * down, and results that were touched are not shown. One that was sealed again after the change may hold other numbers, but only
 * such as every export can bear, and as the file states them.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { qifResults } from '../../src-main/exchange/qif-results.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { stationsCsv } from '../../src-main/outputs/stations-csv.ts';
import { RESULT_UNITS, resultJson } from '../../src-main/outputs/write-outputs.ts';
import { readPlan } from '../../src-main/plan/read-plan.ts';
import { RefusedInput } from '../../src-main/problems.ts';
import { reportHtml } from '../../src-main/report/index.ts';
import { composeSession } from '../../src-main/session/compose-session.ts';
import { fingerprintOf } from '../../src-main/session/fingerprints.ts';
import { answersPlan } from '../../src-main/session/kept-results.ts';
import { parseSession, type ReadSession } from '../../src-main/session/read-session.ts';
import { sealOf } from '../../src-main/session/seal.ts';
import { sessionText } from '../../src-main/session/write-session.ts';
import { samplePath } from '../support/disc-files.ts';

const seed = 20260506;
const [pointsPath, planPath, weldsPath] = (['points.csv', 'plan.json', 'welds.csv'] as const).map((name) =>
  samplePath('drifting', name),
) as [string, string, string];

let text = '';
let bytes: Buffer;
let whole: ReadSession;
beforeAll(async () => {
  const exclusions = [{ line: 40, reason: 'chip under the tip' }];
  const place = (path: string) => ({ path, temporary: false });
  const disc = await runReduction({ pointsPath, planPath, weldsPath, exclusions });
  const { document } = await composeSession(
    {
      title: 'A disc',
      plan: place(planPath),
      points: place(pointsPath),
      welds: place(weldsPath),
      exclusions,
      excludedFeatures: [],
      notes: { disc: 'first article', stations: [{ station: 3, text: 'ü ″ ⌀' }] },
      reduction: {
        disc,
        exclusions,
        excludedFeatures: [],
        weldsSha256: (await fingerprintOf(weldsPath)).sha256,
      },
      before: null,
    },
    null,
    new Date('2026-04-05T06:07:08.009Z'),
    fingerprintOf,
  );
  text = sessionText(document);
  bytes = Buffer.from(text, 'utf8');
  whole = parseSession(text, 'work.hubtrue');
  expect(whole.document.reduced).not.toBe(null);
});

/** What opening gives; null where it was refused, with every problem naming the file and what to do. */
function opened(content: string): ReadSession | null {
  try {
    return parseSession(content, 'work.hubtrue');
  } catch (error) {
    if (!(error instanceof RefusedInput)) throw error;
    for (const problem of error.problems) {
      expect(problem.file).toBe('work.hubtrue');
      expect(problem.message).toMatch(/^work\.hubtrue/);
      expect(problem.remedy).toBeTruthy();
    }
    expect(error.problems.length).toBeGreaterThan(0);
    return null;
  }
}

/** Opened as it was, refused, or opened without its results and with a warning that names the file. */
function expectNothingSilent(content: string): void {
  const read = opened(content);
  if (read === null) return;
  if (read.warnings.length === 0) expect(read).toEqual(whole);
  else {
    expect(read.document.reduced).toBe(null);
    for (const warning of read.warnings) expect(warning).toMatch(/^work\.hubtrue: /);
  }
}

/** Steps into a document: which of the keys or entries, as a share of their number. */
const steps = fc.array(fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }), {
  minLength: 1,
  maxLength: 9,
});
type Container = Record<string, unknown>;

/** The place that the steps lead to: as deep as they go, or as the document does. */
function placeAt(document: Container, path: readonly number[]): { holder: Container; key: string } {
  let holder = document;
  let key = '';
  for (const step of path) {
    const inner = key === '' ? document : holder[key];
    if (typeof inner !== 'object' || inner === null || Object.keys(inner).length === 0) break;
    const keys = Object.keys(inner);
    holder = inner as Container;
    key = keys[Math.floor(step * keys.length)] as string;
  }
  return { holder, key };
}

type Change = 'remove' | 'double' | { readonly put: unknown };
const changes: fc.Arbitrary<Change> = fc.oneof(
  fc.constant('remove' as const),
  fc.constant('double' as const),
  fc.jsonValue({ maxDepth: 2 }).map((put) => ({ put })),
  fc.oneof(fc.double({ noNaN: true, noDefaultInfinity: true }), fc.string()).map((put) => ({ put })),
);

function changed(path: readonly number[], change: Change, from = text, inResult = false): Container {
  const document = JSON.parse(from) as Container;
  const start = inResult ? ((document['reduced'] as Container)['result'] as Container) : document;
  const { holder, key } = placeAt(start, path);
  if (change === 'remove') {
    if (Array.isArray(holder)) holder.splice(Number(key), 1);
    else delete holder[key];
  } else if (change === 'double') {
    if (Array.isArray(holder)) holder.push(structuredClone(holder[Number(key)]));
    else holder[`${key} `] = holder[key];
  } else Object.defineProperty(holder, key, { value: change.put, enumerable: true });
  return document;
}

describe('a session file', () => {
  it('with any byte changed, added or missing', () => {
    const edit = fc.record({
      at: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
      with: fc.uint8Array({ maxLength: 3 }),
      over: fc.integer({ min: 0, max: 3 }),
    });
    fc.assert(
      fc.property(edit, ({ at, with: put, over }) => {
        const place = Math.floor(at * bytes.length);
        const content = Buffer.concat([bytes.subarray(0, place), put, bytes.subarray(place + over)]);
        expectNothingSilent(content.toString('utf8'));
      }),
      { seed, numRuns: 60 },
    );
  });

  it('cut off anywhere', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }), (share) => {
        const cut = text.slice(0, Math.floor(share * text.trimEnd().length));
        expect(opened(cut)).toBe(null);
      }),
      { seed, numRuns: 25 },
    );
  });

  it('with any value changed', () => {
    fc.assert(
      fc.property(steps, changes, (path, change) => {
        expectNothingSilent(JSON.stringify(changed(path, change)));
      }),
      { seed, numRuns: 60 },
    );
  });

  it('with any value changed and sealed again: opens as it says, in a shape that every export can bear', async () => {
    const { summary: plan, definition } = await readPlan(planPath);
    let shown = 0;
    fc.assert(
      fc.property(steps, changes, fc.boolean(), (path, change, inResult) => {
        const forged = changed(path, change, text, inResult);
        forged['seal'] = sealOf(forged);
        const read = opened(JSON.stringify(forged));
        if (read === null) return;
        const { reduced } = read.document;
        if (reduced === null) {
          if (forged['reduced'] !== null)
            expect(read.warnings.join()).toMatch(/^work\.hubtrue: .* not shown/);
          return;
        }
        expect(reduced).toEqual(JSON.parse(JSON.stringify(forged['reduced'])));
        if (!answersPlan(reduced.result, definition)) return;
        shown += 1;
        const disc = { ...reduced, plan, definition };
        expect(stationsCsv(reduced.result)).toContain('station,');
        expect(JSON.parse(resultJson(reduced.result))).toEqual({ ...reduced.result, units: RESULT_UNITS });
        expect(qifResults(disc, new Date(0))).toContain('</QIFDocument>');
        const report = reportHtml({
          result: reduced.result,
          plan,
          welds: reduced.welds,
          language: 'de',
          paper: 'a4',
          length: 'mm',
          time: new Date(0),
        });
        expect(report).toContain('</html>');
      }),
      { seed, numRuns: 100 },
    );
    // Otherwise nothing would have been looked at.
    expect(shown).toBeGreaterThan(5);
  });
});

it('a session of the first draft with any value changed opens or is refused', () => {
  const draft = readFileSync(
    fileURLToPath(new URL('../unit/kept-sessions/session-0.hubtrue', import.meta.url)),
    'utf8',
  );
  fc.assert(
    fc.property(steps, changes, (path, change) => {
      const read = opened(JSON.stringify(changed(path, change, draft)));
      if (read !== null) expect(read.document.reduced).toBe(null);
    }),
    { seed, numRuns: 300 },
  );
});

describe('results of a session that was sealed again after a change', () => {
  // biome-ignore lint/suspicious/noExplicitAny: a document is forged
  const forge = (change: (document: any) => void): ReadSession => {
    const document = JSON.parse(text);
    change(document);
    document.seal = sealOf(document);
    return parseSession(JSON.stringify(document), 'work.hubtrue');
  };

  it.each([
    [
      'of other points',
      (d: Container) => ((d['points'] as Container)['sha256'] = '0'.repeat(64)),
      'other files',
    ],
    [
      'of another plan',
      (d: Container) => {
        const plan = d['plan'] as Container;
        plan['content'] = String(plan['content']).replace('"tolerance"', ' "tolerance"');
      },
      'has been changed',
    ],
    [
      'with a summary that its stations contradict',
      // biome-ignore lint/suspicious/noExplicitAny: a document is forged
      (d: any) => (d.reduced.result.summary.conforming += 1),
      'contradict themselves',
    ],
    [
      'with a station twice',
      // biome-ignore lint/suspicious/noExplicitAny: a document is forged
      (d: any) => (d.reduced.result.stations[1].station = d.reduced.result.stations[0].station),
      'contradict themselves',
    ],
    [
      'with words in the place of a number',
      // biome-ignore lint/suspicious/noExplicitAny: a document is forged
      (d: any) => (d.reduced.result.stations[2].error.upset = 'little'),
      'cannot be read (reduced.result.stations[2].error.upset',
    ],
    [
      'with a number beyond all numbers',
      // biome-ignore lint/suspicious/noExplicitAny: a document is forged
      (d: any) => (d.reduced.result.stations[2].position.tolerance = 'INFINITE'),
      'cannot be read (reduced.result.stations[2].position.tolerance',
    ],
  ])('%s are not shown, and the rest opens', (_, change, words) => {
    const { document, warnings } = forge(change);
    expect(document.reduced).toBe(null);
    expect(warnings.join()).toContain(words);
    expect(document.exclusions).toEqual(whole.document.exclusions);
    expect(document.notes).toEqual(whole.document.notes);
  });

  it('that were judged by other requirements than the plan are known for it', async () => {
    const { definition } = await readPlan(planPath);
    const result = whole.document.reduced?.result;
    if (result === undefined) throw new Error('no results');
    expect(answersPlan(result, definition)).toBe(true);
    // biome-ignore lint/suspicious/noExplicitAny: a document is forged
    const judgedBy = (change: (forged: any) => void): boolean => {
      const forged = structuredClone(result);
      change(forged);
      return answersPlan(forged, definition);
    };
    expect(judgedBy((r) => (r.stations[0].position.checkPoints[0].tolerance *= 2))).toBe(false);
    expect(judgedBy((r) => (r.stations[0].position.checkPoints[0].name = 'elsewhere'))).toBe(false);
    expect(judgedBy((r) => r.stations[0].limits.pop())).toBe(false);
    expect(judgedBy((r) => (r.stations[0].limits[0].limit *= 2))).toBe(false);
    expect(judgedBy((r) => r.stations.pop())).toBe(true);
    expect(judgedBy((r) => (r.stations[0].station = 99))).toBe(false);
  });
});

it('a number that JSON cannot hold does not slip through as infinite', () => {
  const huge = text.replace(/"tolerance": [\d.]+/, '"tolerance": 1e999');
  expect(huge).not.toBe(text);
  const document = JSON.parse(huge);
  const read = parseSession(
    huge.replace(/"seal": "[0-9a-f]+"/, `"seal": "${sealOf(document)}"`),
    'work.hubtrue',
  );
  expect(read.document.reduced).toBe(null);
});
