/** The faces of a page as `data:` addresses, with the glyphs of its own text only. */
import { type Face, fontBytes, glyphNumber, hasGlyph, symbolScale } from '../fonts/fonts.ts';
import { subsetWoff } from '../fonts/subset-woff.ts';

const RULES: readonly {
  readonly face: Face;
  readonly family: string;
  readonly weight: number;
  readonly scale?: number;
}[] = [
  { face: 'regular', family: 'Plex', weight: 400 },
  { face: 'bold', family: 'Plex', weight: 600 },
  { face: 'symbol', family: 'Symbols', weight: 400, scale: symbolScale },
];

/** Page numbers and bullets, which the style makes, and the signs that markup writes in another way. */
const ALWAYS = '0123456789 /–&<>"\'';

export function fontFaces(text: string): string {
  const codes = [...new Set(text + ALWAYS)].map((sign) => sign.codePointAt(0) as number);
  return RULES.map(({ face, family, weight, scale }) => {
    const own = codes.filter(
      (code) => hasGlyph(face, code) && (face !== 'symbol' || !hasGlyph('regular', code)),
    );
    const woff = subsetWoff(fontBytes(face), new Set(own.map((code) => glyphNumber(face, code))));
    const address = `data:font/woff;base64,${Buffer.from(woff).toString('base64')}`;
    const size = scale === undefined ? '' : `size-adjust:${100 * scale}%;`;
    return `@font-face{font-family:${family};font-weight:${weight};${size}src:url(${address}) format("woff")}`;
  }).join('');
}
