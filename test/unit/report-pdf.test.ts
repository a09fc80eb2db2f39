/** report.pdf, read back: sheets, running head, every number of the result, fonts, the same bytes again. */
import { describe, expect, it } from 'vitest';
import type { ErrorName } from '../../shared-math/definition.ts';
import { ERRORS } from '../../shared-math/pose/error-names.ts';
import { objectsOf, type PdfPage, readPdf } from '../support/pdf-text.ts';
import { reduceSample, reportOf } from '../support/reports.ts';

const disc = await reduceSample('off-centre');
const { pdf: bytes } = await reportOf(disc);
const pdf = await readPdf(bytes);

/** As it stands in a table: µm or arc-seconds, one decimal, a true minus. */
function shown(name: ErrorName, value: number | null): string {
  const scaled = (value ?? Number.NaN) * (name.startsWith('rot') ? (180 * 3600) / Math.PI : 1000);
  const text = scaled.toFixed(1);
  return (Number(text) === 0 ? '0.0' : text).replace('-', '\u2212');
}

describe('the sheets', () => {
  it.each([
    ['a4', 595.28, 841.89],
    ['letter', 612, 792],
  ] as const)('are %s all through, numbered, with head and foot', async (paper, width, height) => {
    const read = paper === 'a4' ? pdf : await readPdf((await reportOf(disc, { paper })).pdf);
    read.pages.forEach((page, i) => {
      expect(page.width).toBeCloseTo(width, 1);
      expect(page.height).toBeCloseTo(height, 1);
      expect(page.lines[0]).toBe('ROWAN-FAN-02 · serial no. TRIAL-2 Conformance report');
      expect(page.lines.at(-1)).toBe(
        `Hubtrue ${disc.result.source.software} · 2026-05-21 08:00:00 UTC ${i + 1} / ${read.pages.length}`,
      );
    });
  });

  it('keep all text inside their margins', () => {
    for (const { width, height, items } of pdf.pages)
      for (const { text, x, y, width: own } of items) {
        expect(x, text).toBeGreaterThanOrEqual(55);
        expect(x + own, text).toBeLessThanOrEqual(width - 44);
        expect(y, text).toBeGreaterThan(30);
        expect(y, text).toBeLessThan(height - 28);
      }
  });
});

describe('the numbers', () => {
  const rows = tableRows('The six errors, position and verdict of every station', pdf.pages);

  it('of every station stand in its row', () => {
    for (const { station, error, position, verdict } of disc.result.stations) {
      const row = rows.find((line) => line.startsWith(`${station} `));
      expect(row, `station ${station}`).toBeDefined();
      const cells = (row as string).replaceAll('× ', '').split(' ');
      expect(cells.slice(2, 8)).toEqual(ERRORS.map((name) => shown(name, error[name])));
      expect(cells[8]).toBe(((position.value ?? 0) * 1000).toFixed(1));
      expect(cells[9]).toBe(((position.expanded ?? 0) * 1000).toFixed(1));
      expect(row).toMatch(new RegExp(`${position.at} . ?${verdict}$`));
    }
  });

  it('put a mark at the errors that break their limit, and at no other', () => {
    for (const { station, limits, position } of disc.result.stations) {
      const broken = [...limits, position].filter(({ verdict }) => verdict === 'nonconforming').length;
      const row = rows.find((line) => line.startsWith(`${station} `)) ?? '';
      const signs = row.match(/× [\u2212\d]/g)?.length ?? 0;
      expect(signs, `station ${station}`).toBe(broken);
    }
  });

  it('state both files with their SHA-256', () => {
    const { points, plan } = disc.result.source;
    expect(pdf.text).toContain(`points.csv ${points.sha256}`);
    expect(pdf.text).toContain(`plan.json ${plan.sha256}`);
  });

  it('give every nonconforming station a page of its own, and no other', () => {
    const own = pdf.pages.flatMap(({ lines }) => lines.filter((line) => /^Station \d+: /.test(line)));
    expect(own).toEqual(
      disc.result.stations
        .filter(({ verdict }) => verdict !== 'conforming')
        .map(({ station, verdict }) => `Station ${station}: ${verdict}`),
    );
    for (const { lines } of pdf.pages)
      expect(lines.filter((line) => /^Station \d+: /.test(line)).length).toBeLessThan(2);
  });
});

describe('the file', () => {
  const source = objectsOf(bytes);

  it('embeds every font it uses, as a subset, with the way back to characters', () => {
    const descriptors = source.match(/\/Type \/FontDescriptor[\s\S]*?endobj/g) ?? [];
    expect(descriptors.map((text) => /\/FontName \/(?:[A-Z]{6}\+)(\S+)/.exec(text)?.[1]).sort()).toEqual([
      'IBMPlexSans-Regular',
      'IBMPlexSans-SemiBold',
      'NotoSansSymbols-Regular',
    ]);
    for (const descriptor of descriptors) expect(descriptor).toContain('/FontFile2');
    const fonts = source.match(/\/Type \/Font\n[\s\S]*?endobj/g) ?? [];
    expect(fonts.filter((text) => text.includes('/Subtype /Type0'))).toHaveLength(3);
    expect(fonts.filter((text) => text.includes('/ToUnicode'))).toHaveLength(3);
    expect(source).not.toContain('/Subtype /Type1');
  });

  it('says what it is and leads to its sections', () => {
    expect(pdf.title).toBe('Conformance report · ROWAN-FAN-02 · TRIAL-2');
    expect(source).toContain('/Lang (en)');
    expect(pdf.outline[0]).toBe('Conformance report');
    expect(pdf.outline.filter((entry) => /^\d+\s/.test(entry))).toHaveLength(pdf.outline.length - 1);
  });

  it('packs all objects but streams: its structure does not outweigh its pages', () => {
    const plain = Buffer.from(bytes).toString('latin1');
    const types = [...plain.matchAll(/^\d+ 0 obj\n<<\n([\s\S]*?)>>\nstream\n/gm)].length;
    expect(plain.match(/^\d+ 0 obj$/gm)).toHaveLength(types);
    expect(source.length).toBeGreaterThan(2 * plain.length);
  });

  it('is the same, byte by byte, from the same input and time', async () => {
    const again = await reportOf(await reduceSample('off-centre'));
    expect(Buffer.compare(Buffer.from(again.pdf), Buffer.from(bytes))).toBe(0);
  });

  it('differs by its time stamp alone', async () => {
    const later = await readPdf((await reportOf(disc, { time: new Date('2026-05-22T09:30:00Z') })).pdf);
    expect(later.text).not.toBe(pdf.text);
    expect(later.text.replaceAll('2026-05-22 09:30:00', '2026-05-21 08:00:00')).toBe(pdf.text);
  });

  it('holds no script, no link and no form', () => {
    for (const key of ['/JavaScript', '/JS ', '/URI', '/Launch', '/AcroForm'])
      expect(source).not.toContain(key);
  });
});

/** Lines of a table that may run over several pages. */
function tableRows(caption: string, pages: readonly PdfPage[]): readonly string[] {
  return pages.flatMap(({ lines }) => {
    const start = lines.findIndex((line) => line.startsWith(caption));
    return start < 0 ? [] : lines.slice(start + 1);
  });
}
