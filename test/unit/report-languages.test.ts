/** The three languages: every glyph there, the decimal sign of the language, and what the result holds as data said in it. */
import { describe, expect, it } from 'vitest';
import { BLADE_AXES } from '../../shared-math/frame/axis-names.ts';
import { type Freedom, freedomWords } from '../../shared-math/frame/freedoms.ts';
import { ruleRisk } from '../../shared-math/uncertainty/decision.ts';
import { normalCdf } from '../../shared-math/uncertainty/distributions.ts';
import { whatWouldSettle } from '../../shared-math/uncertainty/what-would-settle.ts';
import { hasGlyph } from '../../src-main/report/fonts/fonts.ts';
import { numberFormat } from '../../src-main/report/format/numbers.ts';
import { reportDocument } from '../../src-main/report/index.ts';
import { languages } from '../../src-main/report/messages/languages.ts';
import { messagesIn } from '../../src-main/report/messages/messages.ts';
import { freedomIn, settlementIn } from '../../src-main/report/messages/recorded.ts';
import { exampleDiscOfTwoLevels } from '../support/example-disc.ts';
import { type ReadPdf, readPdf } from '../support/pdf-text.ts';
import { inputOf, reduceSample, reportOf } from '../support/reports.ts';

const disc = await reduceSample('drifting');
const read: Record<(typeof languages)[number], ReadPdf> = {
  en: await readPdf((await reportOf(disc)).pdf),
  de: await readPdf((await reportOf(disc, { language: 'de' })).pdf),
  fr: await readPdf((await reportOf(disc, { language: 'fr', paper: 'letter' })).pdf),
};

/** All strings of a document, those within its figures included. */
function textsIn(part: unknown): readonly string[] {
  if (typeof part === 'string') return [part];
  return part !== null && typeof part === 'object' ? Object.values(part).flatMap(textsIn) : [];
}

describe.each(languages)('the report in %s', (language) => {
  const { pages, text } = read[language];

  it('has a glyph for every character', () => {
    for (const { glyphs } of pages) {
      expect(glyphs.length).toBeGreaterThan(100);
      expect(glyphs).not.toContain(0);
    }
    expect(text).not.toContain('‹U+');
    expect(text).not.toContain('\ufffd');
    for (const sign of '⌀µ°″≤±−ρ') expect(text, sign).toContain(sign);
  });

  it('writes its own decimal sign and no other', () => {
    const [own, other] = language === 'en' ? ['.', ','] : [',', '.'];
    expect(text).toContain(`56${own}5 µm`);
    expect(text).not.toMatch(new RegExp(`\\d\\${other}\\d+ (µm|%|mm)`));
    expect(text).not.toMatch(new RegExp(`\\d\\${other}\\d+″`));
  });

  it('holds a number together with its unit and with the sign before it', () => {
    const texts = [disc, exampleDiscOfTwoLevels()].flatMap((each) => {
      // Sentences that a result without its codes can only be quoted for are not the report's own.
      const recorded = each.result.stations.flatMap(({ position }) => position.settle ?? []);
      return textsIn(reportDocument(inputOf(each, { language }))).filter(
        (text) => !recorded.some((sentence) => text.includes(sentence)),
      );
    });
    expect(
      texts.some((text) => text.includes(`U\u00a0`)) && texts.some((text) => text.includes(`P\u00a0`)),
    ).toBe(true);
    for (const text of texts) {
      expect(text).not.toMatch(/\d [µ°″%]|\d (?:mm|K|inch|Zoll|pouce)(?!\p{L})/u);
      expect(text).not.toMatch(/[⌀≤±×<>=] [−\d]|(?<!\p{L})[UPn] [=<>\d]/u);
    }
  });

  it('stays inside its margins', () => {
    for (const { width, items } of pages)
      for (const { text: words, x, width: own } of items) {
        expect(x, words).toBeGreaterThanOrEqual(55);
        expect(x + own, words).toBeLessThanOrEqual(width - 44);
      }
  });

  it('has the same sections', () => {
    expect(read[language].outline).toHaveLength(read.en.outline.length);
  });
});

describe('words that the result holds in English', () => {
  const f = numberFormat(',', 'µm');

  it('on what would settle a value are said from its numbers in each of their forms', () => {
    const forms = [
      { limit: 0.0506, shared: 0.002, own: 0.002 },
      { limit: 0.0506, shared: 0.0001, own: 0.003 },
      { limit: 0.0494, shared: 0.0001, own: 0.003 },
    ].map(({ limit, shared, own }) => settlement(0.05, limit, shared, own));
    expect(forms.map(({ words }) => /^(Non-c|C)onformity/.test(words))).toEqual([true, true, true]);
    const atLimit = settlement(0.05, 0.05, 0.002, 0.002);
    expect(atLimit.words).toContain('at its limit');
    for (const { words, ...settled } of [...forms, atLimit]) {
      for (const language of ['de', 'fr'] as const) {
        const translated = settlementIn(messagesIn(language), f, 'position', settled);
        expect(translated).not.toMatch(/\b(would|value|the)\b/);
        for (const number of words.match(/\d+\.?\d*/g) ?? [])
          expect(translated).toContain(number.replace('.', ','));
      }
      // In English it is the sentence itself.
      const english = settlementIn(messagesIn('en'), numberFormat('.', 'µm'), 'position', settled);
      expect(english.replaceAll('\u00a0', ' ')).toBe(words);
    }
  });

  it('on what would settle a value keep to the unit of the report, and angles to arc-seconds', () => {
    const { words: _, ...settled } = settlement(0.05, 0.0506, 0.0001, 0.003);
    const inInches = settlementIn(messagesIn('en'), numberFormat('.', 'inch'), 'position', settled);
    expect(inInches).toContain('instead of 0.00012\u00a0inch');
    const angle = { ...settled, standardUncertainty: 1e-5, present: 2e-5 };
    expect(settlementIn(messagesIn('de'), f, 'lean', angle)).toContain('von 2,1″ statt 4,1″');
  });

  it('on freedoms come out the same in English', () => {
    const { datums } = disc.result.frame;
    const features = disc.result.stations.flatMap((station) => station.features);
    const fixed = datums.flatMap(({ fixes, freedoms = [] }) =>
      fixes.map((words, i) => ({ words, freedom: freedoms[i] as Freedom })),
    );
    expect(fixed.length).toBeGreaterThan(2);
    for (const { words, freedom } of fixed) {
      expect(freedomIn(messagesIn('en'), numberFormat('.', 'µm'), freedom, 'disc')).toBe(words);
      expect(freedomIn(messagesIn('de'), f, freedom, 'disc')).not.toBe(words);
    }
    expect(features.every(({ fixes, freedoms }) => freedoms?.length === fixes.length)).toBe(true);
  });

  it('on freedoms spell a direction out with the signs of the language, and know every form', () => {
    const askew: Freedom = { kind: 'translation', along: [[0.6, 0.8, 0], 'z'] };
    const forms: readonly Freedom[] = [
      askew,
      { kind: 'rotations' },
      { kind: 'tilt', along: ['y'] },
      { kind: 'rotation', along: ['x'] },
      { kind: 'rotation', along: ['x', 'y', 'z'] },
    ];
    for (const freedom of forms)
      expect(freedomIn(messagesIn('en'), numberFormat('.', 'µm'), freedom, 'blade')).toBe(
        freedomWords(freedom, BLADE_AXES),
      );
    expect(freedomIn(messagesIn('de'), f, askew, 'blade')).toBe(
      'Verschiebung längs (0,600; 0,800; 0,000) und Stauchrichtung',
    );
    expect(freedomIn(messagesIn('fr'), f, { kind: 'rotation', along: ['z'] }, 'blade')).toBe(
      'rotation autour de l’axe de refoulement',
    );
    expect(freedomIn(messagesIn('fr'), f, { kind: 'tilt', along: ['z'] }, 'blade')).toBe(
      'les deux rotations qui inclinent l’axe de refoulement',
    );
  });

  it('agree in number', () => {
    expect(languages.map((language) => messagesIn(language).banner.counts(14, 0, 10, 0, 4))).toEqual([
      'Of 14 planned stations, none conforms, 10 do not conform, 4 are missing.',
      'Geplante Stationen: 14; konform: 0, nicht konform: 10, fehlend: 4.',
      'Sur 14 stations prévues, aucune n’est conforme, 10 ne sont pas conformes, 4 manquent.',
    ]);
    expect(languages.map((language) => messagesIn(language).banner.counts(11, 9, 1, 1, 0))).toEqual([
      'Of 11 planned stations, 9 conform, 1 does not conform, 1 is not proven.',
      'Geplante Stationen: 11; konform: 9, nicht konform: 1, nicht nachgewiesen: 1.',
      'Sur 11 stations prévues, 9 sont conformes, 1 n’est pas conforme, 1 n’est pas démontrée.',
    ]);
    expect(languages.map((language) => messagesIn(language).banner.all(1))).toEqual([
      'The one planned station was reduced and conforms.',
      'Die eine geplante Station wurde ausgewertet und ist konform.',
      'La seule station prévue a été évaluée et est conforme.',
    ]);
  });
});

describe('the rule with a factor', () => {
  it('states the same risks as the result does in its own words', async () => {
    const risk = ruleRisk({ rule: 'guarded', factor: 1 }, 0.95);
    expect(risk).toContain('about 2.5 % for errors and 5 % for position');
    const decision = { rule: 'guarded', factor: 1, probability: null, coverage: 0.95, risk } as const;
    const { pdf } = await reportOf({ ...disc, result: { ...disc.result, decision } });
    expect((await readPdf(pdf)).text).toContain('about 2.5 % for errors and 5.0 % for position');
  });
});

describe('the embedded fonts', () => {
  it('cover Latin letters with every accent of the three languages', () => {
    for (const sign of 'ÄÖÜäöüßÀÂÆÇÉÈÊËÎÏÔŒÙÛŸàâæçéèêëîïôœùûüÿ„“”«»’–…')
      expect(
        hasGlyph('regular', sign.codePointAt(0) as number) && hasGlyph('bold', sign.codePointAt(0) as number),
        sign,
      ).toBe(true);
  });

  it('write a character that they lack as its code, so that it does not vanish', async () => {
    const { pdf } = await reportOf({
      ...disc,
      plan: { ...disc.plan, part: { ...disc.plan.part, number: 'A-漢' } },
    });
    const { text, pages } = await readPdf(pdf);
    expect(text).toContain('A-‹U+6F22›');
    for (const { glyphs } of pages) expect(glyphs).not.toContain(0);
  });
});

/** What the mathematics says of a value against a limit under a guarded rule at 95 %. */
function settlement(value: number, limit: number, shared: number, own: number) {
  return whatWouldSettle({
    standardUncertainty: Math.hypot(shared, own),
    unit: 'mm',
    verdictAt: (s, o) => {
      const p = normalCdf((limit - value) / Math.hypot(shared * s, own * o));
      return p >= 0.95 ? 'conforming' : p <= 0.05 ? 'nonconforming' : 'unproven';
    },
  });
}
