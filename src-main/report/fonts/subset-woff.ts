/**
 * A font file with the outlines of some glyphs only, as WOFF 1.0, for a page that carries its fonts along. Glyph numbers stay
 * as they are: the outlines of the other glyphs are emptied, and everything that would substitute glyphs is left out.
 * TrueType outlines only (OpenType specification, tables glyf and loca).
 */
import { zlibSync } from 'fflate';

interface Table {
  readonly tag: string;
  readonly bytes: Uint8Array;
}

/** Substitution would lead to glyphs that are not kept, signatures would no longer hold, kerning pairs outweigh all the rest. */
const LEFT_OUT: ReadonlySet<string> = new Set(['GSUB', 'GPOS', 'GDEF', 'DSIG', 'STAT', 'meta']);

export function subsetWoff(font: Uint8Array, glyphs: ReadonlySet<number>): Uint8Array {
  // A copy: what is cut from a Buffer shares its memory, and parts of it are overwritten below.
  const tables = new Map(readTables(new Uint8Array(font)).map(({ tag, bytes }) => [tag, bytes]));
  const need = (tag: string): Uint8Array => {
    const bytes = tables.get(tag);
    if (bytes === undefined) throw new Error(`The font has no table ${tag}.`);
    return bytes;
  };
  const { glyf, loca } = keepGlyphs(
    need('glyf'),
    readLoca(need('loca'), view(need('head')).getInt16(50)),
    glyphs,
  );
  const head = need('head').slice();
  view(head).setInt16(50, 1);
  const changed = new Map([
    ['glyf', glyf],
    ['loca', loca],
    ['head', head],
    ['post', namelessPost(need('post'))],
  ]);
  const kept = [...tables]
    .filter(([tag]) => !LEFT_OUT.has(tag))
    .map(([tag, bytes]): Table => ({ tag, bytes: changed.get(tag) ?? bytes }))
    .sort((a, b) => (a.tag < b.tag ? -1 : 1));
  return writeWoff(kept);
}

function view(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

function readTables(font: Uint8Array): readonly Table[] {
  const data = view(font);
  return Array.from({ length: data.getUint16(4) }, (_, i) => {
    const entry = 12 + 16 * i;
    const offset = data.getUint32(entry + 8);
    return {
      tag: String.fromCharCode(...font.subarray(entry, entry + 4)),
      bytes: font.subarray(offset, offset + data.getUint32(entry + 12)),
    };
  });
}

/** Offsets into `glyf`, one more than there are glyphs; format 0 counts in pairs of bytes. */
function readLoca(loca: Uint8Array, format: number): readonly number[] {
  const data = view(loca);
  return format === 0
    ? Array.from({ length: loca.length / 2 }, (_, i) => 2 * data.getUint16(2 * i))
    : Array.from({ length: loca.length / 4 }, (_, i) => data.getUint32(4 * i));
}

function keepGlyphs(
  glyf: Uint8Array,
  offsets: readonly number[],
  wanted: ReadonlySet<number>,
): { readonly glyf: Uint8Array; readonly loca: Uint8Array } {
  const outline = (glyph: number) => glyf.subarray(offsets[glyph] ?? 0, offsets[glyph + 1] ?? 0);
  const kept = new Set<number>();
  // Glyph 0 stands for what is missing.
  const open = [0, ...wanted];
  for (let glyph = open.pop(); glyph !== undefined; glyph = open.pop()) {
    if (kept.has(glyph)) continue;
    kept.add(glyph);
    open.push(...componentsOf(outline(glyph)));
  }
  const loca = new Uint8Array(4 * offsets.length);
  const parts: Uint8Array[] = [];
  let length = 0;
  for (let glyph = 0; glyph + 1 < offsets.length; glyph++) {
    view(loca).setUint32(4 * glyph, length);
    if (!kept.has(glyph)) continue;
    const bytes = padded(outline(glyph));
    parts.push(bytes);
    length += bytes.length;
  }
  view(loca).setUint32(loca.length - 4, length);
  return { glyf: joined(parts, length), loca };
}

/** Glyphs that a composite one is made of. */
function componentsOf(outline: Uint8Array): readonly number[] {
  if (outline.length < 10) return [];
  const data = view(outline);
  if (data.getInt16(0) >= 0) return [];
  const found: number[] = [];
  let at = 10;
  for (let more = true; more; ) {
    const flags = data.getUint16(at);
    found.push(data.getUint16(at + 2));
    const words = (flags & 0x0001) !== 0;
    const scale = (flags & 0x0008) !== 0 ? 2 : (flags & 0x0040) !== 0 ? 4 : (flags & 0x0080) !== 0 ? 8 : 0;
    at += 4 + (words ? 4 : 2) + scale;
    more = (flags & 0x0020) !== 0;
  }
  return found;
}

/** Format 3: no names of glyphs. */
function namelessPost(post: Uint8Array): Uint8Array {
  const bytes = post.slice(0, 32);
  view(bytes).setUint32(0, 0x00030000);
  return bytes;
}

function padded(bytes: Uint8Array): Uint8Array {
  const length = Math.ceil(bytes.length / 4) * 4;
  if (length === bytes.length) return bytes;
  const result = new Uint8Array(length);
  result.set(bytes);
  return result;
}

function joined(parts: readonly Uint8Array[], length: number): Uint8Array {
  const bytes = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}

function checksum(bytes: Uint8Array): number {
  const words = view(padded(bytes));
  let sum = 0;
  for (let at = 0; at < words.byteLength; at += 4) sum = (sum + words.getUint32(at)) >>> 0;
  return sum;
}

/** W3C Recommendation WOFF File Format 1.0, sections 3 to 5. */
function writeWoff(tables: readonly Table[]): Uint8Array {
  const stored = tables.map(({ tag, bytes }) => {
    const packed = zlibSync(bytes, { level: 9 });
    return { tag, bytes, data: packed.length < bytes.length ? packed : bytes };
  });
  const directory = 44 + 20 * stored.length;
  const header = new Uint8Array(directory);
  const data = view(header);
  const plainSize = stored.reduce((sum, { bytes }) => sum + padded(bytes).length, 12 + 16 * stored.length);
  const size = stored.reduce((sum, { data: { length } }) => sum + Math.ceil(length / 4) * 4, directory);
  data.setUint32(0, 0x774f4646);
  data.setUint32(4, 0x00010000);
  data.setUint32(8, size);
  data.setUint16(12, stored.length);
  data.setUint32(16, plainSize);
  data.setUint16(20, 1);
  let offset = directory;
  stored.forEach(({ tag, bytes, data: { length } }, i) => {
    const entry = 44 + 20 * i;
    for (let k = 0; k < 4; k++) data.setUint8(entry + k, tag.charCodeAt(k));
    data.setUint32(entry + 4, offset);
    data.setUint32(entry + 8, length);
    data.setUint32(entry + 12, bytes.length);
    data.setUint32(entry + 16, checksum(bytes));
    offset += Math.ceil(length / 4) * 4;
  });
  return joined([header, ...stored.map((table) => padded(table.data))], size);
}
