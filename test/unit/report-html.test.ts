/** report.html: the same words as the PDF, one file that asks for nothing else, and whatever a plan holds is text there. */
import { create, type Font } from 'fontkit';
import { describe, expect, it } from 'vitest';
import { fontBytes, glyphNumber } from '../../src-main/report/fonts/fonts.ts';
import { subsetWoff } from '../../src-main/report/fonts/subset-woff.ts';
import { reportHtml } from '../../src-main/report/index.ts';
import { readPdf, squeezed } from '../support/pdf-text.ts';
import { inputOf, reduceSample, reportOf, wordsOf } from '../support/reports.ts';

const disc = await reduceSample('off-centre');

describe.each(['en', 'fr'] as const)('the HTML in %s', async (language) => {
  const { html, pdf } = await reportOf(disc, { language });
  const { pages, text } = await readPdf(pdf);
  const words = wordsOf(html);

  it('says all that the PDF says, number for number', () => {
    // Cells and lines of the PDF: each must stand in the HTML, whose lines break elsewhere.
    const own = words.replaceAll(' ', '');
    for (const { items } of pages)
      for (const item of items) {
        if (/^\d+ \/ \d+$/.test(squeezed(item.text)) || /\((continued|suite)\)$/.test(item.text)) continue;
        expect(own, item.text).toContain(squeezed(item.text).replaceAll(' ', ''));
      }
  });

  it('says nothing that the PDF does not', () => {
    const other = text.replaceAll(' ', '');
    for (const cell of html.match(/<(td|th|dt|h[123]|li)[^>]*>(.*?)<\/\1>/g) ?? [])
      for (const word of squeezed(
        cell
          .replace(/<[^>]*>/g, ' ')
          .replaceAll('&gt;', '>')
          .replaceAll('&lt;', '<'),
      ).split(' '))
        expect(other, cell).toContain(word);
  });

  it('carries the outline of every character that it shows', () => {
    const fonts = [...html.matchAll(/font-family:(\w+);font-weight:(\d+)[^}]*base64,([^)]+)\)/g)].map(
      ([, family, weight, data = '']) => ({
        name: `${family} ${weight}`,
        font: create(Buffer.from(data, 'base64')) as Font,
      }),
    );
    expect(fonts.map(({ name }) => name)).toEqual(['Plex 400', 'Plex 600', 'Symbols 400']);
    const [regular, bold, symbol] = fonts.map(({ font }) => font);
    for (const sign of new Set(words.replaceAll(/[\s\u00a0\u2002\u202f]/g, ''))) {
      const code = sign.codePointAt(0) as number;
      for (const plex of [regular, bold]) {
        const font = plex?.hasGlyphForCodePoint(code) ? plex : symbol;
        expect(font?.glyphForCodePoint(code).path.toSVG(), `U+${code.toString(16)}`).not.toBe('');
      }
    }
  });

  it('is marked with its language and carries its title', () => {
    expect(html).toContain(`<html lang="${language}">`);
    expect(html).toMatch(/<title>[^<]+ROWAN-FAN-02[^<]+<\/title>/);
  });
});

describe('the page', () => {
  const html = reportHtml(inputOf(disc));

  it('asks for nothing: no script, no address but data', () => {
    expect(html).not.toMatch(/<script|<link|<img|<iframe|<object|<a /i);
    expect(html).not.toMatch(/\son\w+=/i);
    const addresses = html.replace(/base64,[\w+/=]+/g, '').match(/(?:https?:)?\/\/[a-z][^"' )]*/gi) ?? [];
    expect(new Set(addresses)).toEqual(new Set(['http://www.w3.org/2000/svg']));
    for (const [, address] of html.matchAll(/url\(([^)]*)\)/g))
      expect(address).toMatch(/^data:font\/woff;base64,/);
    expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'; font-src data:"`);
  });

  it('shows texts of the plan as text', () => {
    const nasty = `</style><script>alert(1)</script> "quoted" & 'single' <b>`;
    const part = { name: nasty, number: nasty, serial: nasty };
    const page = reportHtml(inputOf({ ...disc, plan: { ...disc.plan, part, title: nasty } }));
    expect(page).not.toContain('<script');
    expect(page.match(/<\/style>/g)).toHaveLength(1);
    expect(wordsOf(page)).toContain(nasty);
  });

  it('sizes the sheet as asked', () => {
    expect(html).toContain('@page{size:A4;');
    expect(reportHtml(inputOf(disc, { paper: 'letter' }))).toContain('@page{size:letter;');
  });

  it('is the same from the same input and time', () => {
    expect(reportHtml(inputOf(disc))).toBe(html);
  });
});

describe('a font with some glyphs only', () => {
  const kept = [...'Aµé⌀'].map((sign) => glyphNumber('regular', sign.codePointAt(0) as number));
  const whole = fontBytes('regular');
  const before = Buffer.from(whole);
  const font = create(Buffer.from(subsetWoff(whole, new Set(kept)))) as Font;
  const original = create(whole) as Font;
  const outline = (of: Font, sign: string) =>
    of.glyphForCodePoint(sign.codePointAt(0) as number).path.toSVG();

  it('keeps the outlines that were asked for, with the parts of composite ones', () => {
    for (const sign of 'Aµé') {
      expect(outline(original, sign).length).toBeGreaterThan(20);
      expect(outline(font, sign), sign).toBe(outline(original, sign));
    }
  });

  it('has no other outlines, but the widths of all', () => {
    for (const sign of 'BZ7') {
      expect(outline(font, sign)).toBe('');
      const code = sign.codePointAt(0) as number;
      expect(font.glyphForCodePoint(code).advanceWidth).toBe(original.glyphForCodePoint(code).advanceWidth);
    }
  });

  it('leaves the font it came from as it was', () => {
    expect(Buffer.compare(whole, before)).toBe(0);
  });
});
