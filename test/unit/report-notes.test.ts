/** The sentences of the result in the languages of the report: every one of them, and reports in which no English is left. */
import { beforeAll, describe, expect, it } from 'vitest';
import { sentenceOf } from '../../shared-math/notes/english.ts';
import type { NoteCode } from '../../shared-math/notes/notes.ts';
import type { ReducedDisc } from '../../src-main/api.ts';
import { hasGlyph } from '../../src-main/report/fonts/fonts.ts';
import { numberFormat } from '../../src-main/report/format/numbers.ts';
import { reportDocument } from '../../src-main/report/index.ts';
import { sayRecorded } from '../../src-main/report/messages/notes/index.ts';
import { exampleDiagnosis } from '../support/example-diagnosis.ts';
import { exampleDisc } from '../support/example-disc.ts';
import { noteExamples } from '../support/note-examples.ts';
import { handWords, sparseDisc, spoiltDisc } from '../support/provoked-discs.ts';
import { reportCases } from '../support/report-cases.ts';
import { inputOf } from '../support/reports.ts';

const translations = ['de', 'fr'] as const;
const f = numberFormat(',', 'µm');

/** Runs of so many words in common are no accident of two languages. */
const RUN = 4;

/** All runs of four words of a text, in small letters; what stands in quotes is from files and keys of the plan. */
function runsOf(text: string): readonly string[] {
  const words = text.toLowerCase().match(/[\p{L}]{2,}|[^\p{L}\s]+/gu) ?? [];
  return words.flatMap((_, i) => {
    const run = words.slice(i, i + RUN);
    return run.length === RUN && run.every((word) => /\p{L}/u.test(word)) ? [run.join(' ')] : [];
  });
}

describe.each(translations)('every sentence of the result in %s', (language) => {
  const say = sayRecorded(language, f);

  it('is put in its own words, with its numbers in the signs of the language', () => {
    expect(noteExamples.length).toBeGreaterThan(200);
    for (const note of noteExamples) {
      const english = sentenceOf(note);
      const said = say(note, english);
      const about = `${english}\n${said}`;
      expect(said, about).not.toBe(english);
      const runs = new Set(runsOf(english));
      expect(
        runsOf(said).filter((run) => runs.has(run)),
        about,
      ).toEqual([]);
      expect(said, about).not.toMatch(/\b(the|is|are|of|and|which|has|not|its)\b(?! \w*\.)/);
      expect(said, about).not.toMatch(/\b(?:undefined|NaN|null)\b|\[object/);
      for (const [number] of english.matchAll(/-?\d+\.\d+(?= (?:mm|K)\b)/g))
        expect(said, about).toContain(`${number.replace('.', ',').replace('-', '−')}\u00a0`);
      for (const sign of said)
        expect(hasGlyph('regular', sign.codePointAt(0) as number) || sign === '\u00a0', sign).toBe(true);
    }
  });

  it('is told from every other', () => {
    const said = noteExamples.map((note) => say(note, ''));
    const english = noteExamples.map(sentenceOf);
    // What English tells apart is told apart; kinds of other failures have one English sentence here.
    expect(new Set(said).size).toBeGreaterThanOrEqual(new Set(english).size);
  });
});

describe('a result', () => {
  let spoilt: ReducedDisc;
  let sparse: ReducedDisc;
  beforeAll(async () => {
    [spoilt, sparse] = await Promise.all([spoiltDisc(), sparseDisc()]);
  });

  it('has a note for each warning, each missing station and each reason, from which its sentence is made', () => {
    for (const { result } of [spoilt, sparse]) {
      expect(result.notes?.map(sentenceOf)).toEqual(result.warnings);
      for (const { note, reason } of result.summary.missing) expect(note && sentenceOf(note)).toBe(reason);
      const { excluded, reasons = [] } = result.source.points;
      expect(new Set(reasons.map(({ reason }) => reason))).toEqual(
        new Set(excluded.map(({ reason }) => reason)),
      );
      for (const { note, reason } of reasons) expect(sentenceOf(note)).toBe(reason);
      for (const { position, limits } of result.stations)
        for (const { settle, settlement } of [position, ...limits])
          expect(settlement === null).toBe(settle === null);
    }
  });

  it('is provoked to say all but what a sound plan and file cannot make it say', () => {
    const said = [spoilt, sparse].flatMap(({ result }) => [
      ...(result.notes ?? []),
      ...result.summary.missing.flatMap(({ note }) => note ?? []),
      ...(result.source.points.reasons ?? []).map(({ note }) => note),
      ...(result.diagnosis?.components ?? []).flatMap(({ notExaminedNote }) => notExaminedNote ?? []),
    ]);
    const codes = new Set<NoteCode>(said.map(({ code }) => code));
    const unprovoked = [...new Set(noteExamples.map(({ code }) => code))].filter((code) => !codes.has(code));
    // Of the reasons for which a cause is not examined two discs have one.
    expect(unprovoked.sort()).toEqual([
      'cause-not-separable',
      'causes-undetermined',
      'hub-datum-off',
      'hub-uncertainty-unknown',
      'mean-uncertainty',
      'no-uncertainty',
      'not-in-diagnosis',
      'one-tool',
      'one-weld-a-tool',
      'scatter-unknown',
      'too-few-for-cause',
      'unit-contradicts-size',
      'unit-unknown',
      'unreadable-cell',
      'welds-lack-many',
      'welds-lack-stations',
      'welds-name-no-tool',
    ]);
    const faults = new Set(
      said.flatMap(({ code, values }) => (code === 'unreadable-row' ? [values.fault.code] : [])),
    );
    expect(faults.size).toBe(14);
    const failures = said.flatMap(({ code, values }) =>
      code === 'station-failed' ? [values.failure.code] : [],
    );
    expect(failures.sort()).toEqual(['degenerate', 'feature-without-points', 'too-few-points']);
  });
});

describe('reports in German and French', () => {
  const discs: { name: string; disc: ReducedDisc; length: 'µm' | 'mm' | 'inch' }[] = [];
  beforeAll(async () => {
    const example = exampleDisc();
    const diagnosed = { ...example.result, diagnosis: exampleDiagnosis(example) };
    discs.push(
      // A hundred stations have no other words than ten.
      ...(await reportCases())
        .filter(({ name }) => name !== '120-stations')
        .map((one) => ({ ...one, disc: withoutInvented(one.disc) })),
      { name: 'spoilt', disc: await spoiltDisc(), length: 'µm' },
      { name: 'sparse', disc: await sparseDisc(), length: 'mm' },
      { name: 'diagnosed', disc: withoutInvented({ ...example, result: diagnosed }), length: 'µm' },
    );
  }, 60_000);

  it('hold no run of four English words, but in what people and files wrote', () => {
    expect(discs.length).toBeGreaterThanOrEqual(15);
    for (const { name, disc, length } of discs) {
      const texts = (language: 'en' | 'de' | 'fr'): readonly string[] => textsOf(disc, { language, length });
      const written = new Set(writtenIn(disc).flatMap(runsOf));
      const english = new Set(texts('en').flatMap(runsOf));
      for (const language of translations) {
        const left = texts(language)
          .flatMap(runsOf)
          .filter((run) => english.has(run) && !written.has(run));
        expect([...new Set(left)], `${name}, ${language}`).toEqual([]);
      }
    }
  }, 120_000);

  it('write inches in the word of the language', () => {
    const { disc } = discs.find(({ name }) => name === 'inches')!;
    for (const [language, word] of [
      ['de', 'Zoll'],
      ['fr', 'pouce'],
    ] as const) {
      const text = textsOf(disc, { language, length: 'inch' }).join('\n');
      expect(text).toMatch(new RegExp(`\\d,\\d+\u00a0${word}`));
      expect(text).not.toMatch(/\binch\b/);
    }
  });

  it('cite the words of a person and say whose they are', () => {
    const { disc } = discs.find(({ name }) => name === 'spoilt')!;
    const say = (language: 'en' | 'de' | 'fr') => textsOf(disc, { language }).join('\n');
    expect(say('de')).toContain(`von Hand ausgeschlossen: „${handWords}“`);
    expect(say('de')).toContain('ist der Wortlaut der Person');
    expect(say('fr')).toContain(`exclusion à la main\u00a0: «\u00a0${handWords}\u00a0»`);
    expect(say('en')).toContain(`excluded by hand: ${handWords}`);
    expect(say('en')).toContain('are the words of the person');
  });

  it('keep the English of a result without notes, and say so', () => {
    const { disc } = discs.find(({ name }) => name === 'spoilt')!;
    const { notes: _, ...result } = disc.result;
    const text = textsOf({ ...disc, result }, { language: 'de' }).join('\n');
    expect(text).toContain('their mean is used.');
    expect(text).toContain('im englischen Wortlaut');
  });
});

/** Invented results have English sentences that no part of the program says, so no notes either: without them. */
function withoutInvented(disc: ReducedDisc): ReducedDisc {
  const { result } = disc;
  if (result.notes !== undefined) return disc;
  const { points } = result.source;
  return {
    ...disc,
    result: {
      ...result,
      warnings: [],
      source: { ...result.source, points: { ...points, excluded: [] } },
      summary: {
        ...result.summary,
        missing: result.summary.missing.map((station) => ({
          ...station,
          note: { code: 'no-points-of-station', values: {} } as const,
        })),
      },
      stations: result.stations.map((station) => ({
        ...station,
        position: { ...station.position, settle: null },
        limits: station.limits.map((limit) => ({ ...limit, settle: null })),
        features: station.features.map((feature) => ({ ...feature, fixes: [] })),
      })),
      frame: {
        ...result.frame,
        datums: result.frame.datums.map((datum) => ({ ...datum, fixes: [] })),
      },
      diagnosis: result.diagnosis && {
        ...result.diagnosis,
        warnings: [],
        components: result.diagnosis.components.map((component) => ({
          ...component,
          parameters: component.parameters.filter(({ key }) => key !== 'rest'),
        })),
      },
    },
  };
}

/** All texts of the document, those of figures included. */
function textsOf(disc: ReducedDisc, options: Parameters<typeof inputOf>[1]): readonly string[] {
  const texts = (part: unknown): readonly string[] =>
    typeof part === 'string'
      ? [part]
      : typeof part === 'object' && part !== null
        ? Object.values(part).flatMap(texts)
        : [];
  return texts(reportDocument(inputOf(disc, options)).blocks);
}

/** What stands in the plan and in the files: names, titles, characteristics, words of a person. */
function writtenIn({ plan, result, welds }: ReducedDisc): readonly string[] {
  return [
    plan.title,
    ...Object.values(plan.part),
    ...Object.values(plan.inspection),
    ...plan.details.characteristics.flatMap((of) => Object.values(of)),
    ...(welds ?? []).map(({ tool }) => tool),
    result.source.points.name,
    result.source.plan.name,
    ...(result.source.points.reasons ?? []).flatMap(({ note }) =>
      note.code === 'by-hand' ? [note.values.reason] : [],
    ),
    // Invented by tests without a note.
    ...result.warnings.slice(result.notes?.length ?? 0),
    ...result.source.points.excluded
      .map(({ reason }) => reason)
      .filter((reason) => reason.startsWith('excluded by hand')),
    ...result.stations.flatMap(({ features, position }) => [
      ...features.map(({ feature }) => feature),
      ...position.checkPoints.map(({ name }) => name),
    ]),
  ];
}
