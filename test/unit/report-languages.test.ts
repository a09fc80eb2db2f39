/** The three languages: every glyph there, the decimal sign of the language, and the recorded English sentences translated. */
import { describe, expect, it } from 'vitest';
import type { Datum } from '../../shared-math/definition.ts';
import type { ReductionError } from '../../shared-math/errors.ts';
import { indexPoints } from '../../shared-math/frame/point-index.ts';
import { ruleRisk } from '../../shared-math/uncertainty/decision.ts';
import { normalCdf } from '../../shared-math/uncertainty/distributions.ts';
import { whatWouldSettle } from '../../shared-math/uncertainty/what-would-settle.ts';
import { hasGlyph } from '../../src-main/report/fonts/fonts.ts';
import { numberFormat } from '../../src-main/report/format/numbers.ts';
import { languages } from '../../src-main/report/messages/languages.ts';
import { messagesIn } from '../../src-main/report/messages/messages.ts';
import { freedomIn, reasonIn, settleIn } from '../../src-main/report/messages/recorded.ts';
import { type ReadPdf, readPdf } from '../support/pdf-text.ts';
import { reduceSample, reportOf } from '../support/reports.ts';

const disc = await reduceSample('drifting');
const read: Record<(typeof languages)[number], ReadPdf> = {
  en: await readPdf((await reportOf(disc)).pdf),
  de: await readPdf((await reportOf(disc, { language: 'de' })).pdf),
  fr: await readPdf((await reportOf(disc, { language: 'fr', paper: 'letter' })).pdf),
};

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
  it('do not appear in German and French where they are translated', () => {
    // Warnings are cited as they are, and say so.
    for (const language of ['de', 'fr'] as const)
      for (const words of [
        'translation along',
        'The file has no points',
        'would be proven',
        'is not in the plan (it has',
        'conforming',
        'least squares',
        'Ring shift',
      ])
        expect(withoutWarnings(read[language].text, language), `${language}: ${words}`).not.toContain(words);
    expect(read.en.text).toContain('translation along');
  });

  const f = numberFormat(',', 'µm');

  it('on what would settle a value are translated in each of their forms', () => {
    const forms = [
      { limit: 0.0506, shared: 0.002, own: 0.002 },
      { limit: 0.0506, shared: 0.0001, own: 0.003 },
      { limit: 0.0494, shared: 0.0001, own: 0.003 },
    ].map(({ limit, shared, own }) => settlement(0.05, limit, shared, own));
    expect(forms.map((words) => /^(Non-c|C)onformity/.test(words))).toEqual([true, true, true]);
    const atLimit = settlement(0.05, 0.05, 0.002, 0.002);
    expect(atLimit).toContain('at its limit');
    for (const words of [...forms, atLimit])
      for (const language of ['de', 'fr'] as const) {
        const translated = settleIn(messagesIn(language), f, words);
        expect(translated).not.toMatch(/\b(would|value|the)\b/);
        for (const number of words.match(/\d+\.?\d*/g) ?? [])
          expect(translated).toContain(number.replace('.', ','));
      }
    // In English the translation is the sentence itself.
    for (const words of [...forms, atLimit])
      expect(settleIn(messagesIn('en'), numberFormat('.', 'µm'), words).replaceAll('\u00a0', ' ')).toBe(
        words,
      );
  });

  it('on freedoms come out the same in English', () => {
    const fixes = disc.result.frame.datums.flatMap((datum) => datum.fixes);
    expect(fixes.length).toBeGreaterThan(2);
    for (const words of fixes) {
      expect(freedomIn(messagesIn('en'), words)).toBe(words);
      expect(freedomIn(messagesIn('de'), words)).not.toBe(words);
    }
  });

  it('agree with the word that they are joined to', () => {
    expect(freedomIn(messagesIn('fr'), 'rotation about upset')).toBe('rotation autour du refoulement');
    expect(freedomIn(messagesIn('fr'), 'rotation about lateral')).toBe('rotation autour de la latérale');
    expect(freedomIn(messagesIn('fr'), 'the two rotations that tilt upset')).toBe(
      'les deux rotations qui inclinent le refoulement',
    );
    expect(languages.map((language) => messagesIn(language).banner.counts(14, 0, 10, 0, 4))).toEqual([
      'Of 14 planned stations, none conforms, 10 do not conform, 4 are missing.',
      'Von 14 geplanten Stationen ist keine konform, 10 nicht konform; 4 fehlen.',
      'Sur 14 stations prévues, aucune n’est conforme, 10 ne sont pas conformes, 4 manquent.',
    ]);
  });

  it('on a feature without points are translated in the form that the reduction writes', () => {
    const datum = { label: 'F', features: ['END'] } as unknown as Datum;
    let words = '';
    try {
      indexPoints([]).blocksOf(7, datum);
    } catch (error) {
      const { message, remedy } = error as ReductionError;
      words = `${message} ${remedy}`;
    }
    expect(reasonIn(messagesIn('en'), words)).toBe(words);
    expect(reasonIn(messagesIn('de'), words)).toMatch(
      /^Station 7 hat keine Punkte des Elements END \(Bezug F\)\./,
    );
    expect(reasonIn(messagesIn('fr'), words)).toMatch(/^La station 7 n’a aucun point de l’élément END/);
  });

  it('keep to the unit of length of the report', () => {
    expect(numberFormat(',', 'µm').rewrite('2.6 µm')).toBe('2,6\u00a0µm');
    expect(numberFormat('.', 'mm').rewrite('2.6 µm')).toBe('0.0026\u00a0mm');
    expect(numberFormat('.', 'inch').rewrite('2.54 µm')).toBe('0.0001\u00a0inch');
    expect(numberFormat('.', 'inch').rewrite('12″')).toBe('12″');
  });

  it('on points left out are translated, and kept where they are unknown', () => {
    const [first] = disc.result.source.points.excluded;
    expect(reasonIn(messagesIn('de'), first?.reason ?? '')).toBe(
      'Nabenelement „REFERENCE-BALL“ steht nicht im Plan (er enthält HUB-FACE, HUB-BORE, HUB-FLAT)',
    );
    const near = 'blade feature "SAET" is not in the plan (did you mean "SEAT"?)';
    expect(reasonIn(messagesIn('fr'), near)).toContain('«\u00a0SEAT\u00a0»');
    expect(reasonIn(messagesIn('de'), 'anything else')).toBe('anything else');
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

/** The sentence of the mathematics for a value against a limit under a guarded rule at 95 %. */
function settlement(value: number, limit: number, shared: number, own: number): string {
  return whatWouldSettle({
    standardUncertainty: Math.hypot(shared, own),
    unit: 'mm',
    verdictAt: (s, o) => {
      const p = normalCdf((limit - value) / Math.hypot(shared * s, own * o));
      return p >= 0.95 ? 'conforming' : p <= 0.05 ? 'nonconforming' : 'unproven';
    },
  }).words;
}

/** The text without the list of warnings. */
function withoutWarnings(text: string, language: 'de' | 'fr'): string {
  const { exclusions, statements } = messagesIn(language);
  const start = text.lastIndexOf(` ${exclusions.warnings} `);
  const end = text.indexOf(statements.title, start);
  expect(start).toBeGreaterThan(0);
  expect(end).toBeGreaterThan(start);
  return text.slice(0, start) + text.slice(end);
}
