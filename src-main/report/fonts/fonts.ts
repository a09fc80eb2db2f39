/**
 * The faces of a report: IBM Plex Sans, and Noto Sans Symbols for the few signs that Plex has not (⌀). Both under the SIL
 * Open Font License. A character that neither has is written as its code, so that nothing disappears from a document.
 */

import regular from '@expo-google-fonts/ibm-plex-sans/400Regular/IBMPlexSans_400Regular.ttf?inline';
import bold from '@expo-google-fonts/ibm-plex-sans/600SemiBold/IBMPlexSans_600SemiBold.ttf?inline';
import symbol from '@expo-google-fonts/noto-sans-symbols/400Regular/NotoSansSymbols_400Regular.ttf?inline';
import { create, type Font } from 'fontkit';

export const faces = ['regular', 'bold', 'symbol'] as const;
export type Face = (typeof faces)[number];

/** The signs of the symbol face are drawn smaller than the letters they stand among; both renderings enlarge them by this. */
export const symbolScale = 1.28;

const ADDRESSES: Readonly<Record<Face, string>> = { regular, bold, symbol };

const loaded = new Map<Face, { readonly bytes: Buffer; readonly font: Font }>();

function load(face: Face): { readonly bytes: Buffer; readonly font: Font } {
  const known = loaded.get(face);
  if (known !== undefined) return known;
  const address = ADDRESSES[face];
  const bytes = Buffer.from(address.slice(address.indexOf(',') + 1), 'base64');
  const fresh = { bytes, font: create(bytes) as Font };
  loaded.set(face, fresh);
  return fresh;
}

/** The font file. */
export function fontBytes(face: Face): Buffer {
  return load(face).bytes;
}

export function hasGlyph(face: Face, codePoint: number): boolean {
  return load(face).font.hasGlyphForCodePoint(codePoint);
}

/** Number of a character's glyph in the font file. */
export function glyphNumber(face: Face, codePoint: number): number {
  return load(face).font.glyphForCodePoint(codePoint).id;
}

/** Width of a text of one face, as a share of the size. */
export function runWidth(face: Face, text: string): number {
  const { font } = load(face);
  return font.layout(text).advanceWidth / font.unitsPerEm;
}

export interface FaceRun {
  readonly face: Face;
  readonly text: string;
}

/** The text cut where the face changes. */
export function faceRuns(text: string, weight: 'regular' | 'bold'): readonly FaceRun[] {
  const runs: { face: Face; text: string }[] = [];
  for (const sign of text) {
    const code = sign.codePointAt(0) as number;
    const face = hasGlyph(weight, code) ? weight : hasGlyph('symbol', code) ? 'symbol' : null;
    const shown = face === null ? `\u2039U+${code.toString(16).toUpperCase().padStart(4, '0')}\u203a` : sign;
    const last = runs.at(-1);
    if (last !== undefined && last.face === (face ?? weight)) last.text += shown;
    else runs.push({ face: face ?? weight, text: shown });
  }
  return runs;
}
