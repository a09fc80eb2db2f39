/** Measures text and breaks it into lines, in the faces of the report. */

import { fitted, type Inline, type Span } from '../document.ts';
import { type Face, faceRuns, faces, fontBytes, symbolScale } from '../fonts/fonts.ts';
import { ink, toneInk } from '../palette.ts';

/** The part of a PDF document that text needs. */
export interface TextTarget {
  registerFont(name: string, bytes: Buffer): unknown;
  font(name: string, size: number): TextTarget;
  fillColor(colour: string): TextTarget;
  widthOfString(text: string): number;
  text(text: string, x: number, y: number, options: { lineBreak: false; baseline: 'alphabetic' }): unknown;
}

export interface Run {
  readonly text: string;
  readonly face: Face;
  readonly colour: string;
  readonly width: number;
}

export interface Line {
  readonly runs: readonly Run[];
  readonly width: number;
}

/** What may not be broken. */
interface Atom {
  readonly runs: Run[];
  width: number;
  /** Whether a blank stands before it, unless it begins a line. */
  readonly blank: boolean;
}

export type Align = 'left' | 'right' | 'middle';

export class Typesetter {
  readonly #target: TextTarget;
  readonly #widths = new Map<string, number>();
  /** A document says many things more than once, and is laid out more than once. */
  readonly #lines = new Map<string, readonly Line[]>();

  constructor(target: TextTarget) {
    this.#target = target;
    for (const face of faces) target.registerFont(face, fontBytes(face));
  }

  /** Width of a text on one line. */
  width(text: Inline, size: number, options: { readonly bold?: boolean } = {}): number {
    return this.lines(text, size, Number.POSITIVE_INFINITY, options)[0]?.width ?? 0;
  }

  /** The widest part that may not be broken. */
  narrowest(text: Inline, size: number, options: { readonly bold?: boolean } = {}): number {
    return Math.max(0, ...this.#atoms(text, size, options).map(({ width }) => width));
  }

  /** The text in lines no wider than `width`; parts that are wider by themselves are cut. */
  lines(
    text: Inline,
    size: number,
    width: number,
    options: { readonly bold?: boolean; readonly colour?: string } = {},
  ): readonly Line[] {
    const key = JSON.stringify([text, size, width, options.bold, options.colour]);
    const known = this.#lines.get(key) ?? this.#broken(text, size, width, options);
    this.#lines.set(key, known);
    return known;
  }

  #broken(
    text: Inline,
    size: number,
    width: number,
    options: { readonly bold?: boolean; readonly colour?: string },
  ): readonly Line[] {
    const lines: { runs: Run[]; width: number }[] = [];
    let line: { runs: Run[]; width: number } = { runs: [], width: 0 };
    const end = () => {
      lines.push(line);
      line = { runs: [], width: 0 };
    };
    for (const atom of this.#atoms(text, size, options)) {
      const first = line.runs.length === 0;
      const blank = atom.blank && !first ? this.#measure(' ', atom.runs[0]?.face ?? 'regular', size) : 0;
      if (!first && line.width + blank + atom.width > width) end();
      if (atom.width > width) {
        for (const run of this.#cut(atom.runs, size, width)) {
          if (line.width + run.width > width && line.runs.length > 0) end();
          append(line, run);
        }
        continue;
      }
      if (blank > 0 && line.runs.length > 0) {
        const before = line.runs.at(-1) as Run;
        append(line, { ...before, text: ' ', width: blank });
      }
      for (const run of atom.runs) append(line, run);
    }
    if (line.runs.length > 0 || lines.length === 0) end();
    return lines;
  }

  /** The text on one line no wider than `width`; of a longer one the middle is left out. */
  shortenedLine(
    text: string,
    size: number,
    width: number,
    options: { readonly bold?: boolean; readonly colour?: string } = {},
  ): Line {
    const shown = fitted(text, (part) => this.width(part, size, options) <= width);
    return this.lines(shown, size, Number.POSITIVE_INFINITY, options)[0] as Line;
  }

  /** Writes a line with its start, middle or end at `x` and its baseline at `y`. */
  draw(line: Line, size: number, x: number, y: number, align: Align = 'left'): void {
    let at = align === 'left' ? x : align === 'right' ? x - line.width : x - line.width / 2;
    for (const { text, face, colour, width } of line.runs) {
      this.#target
        .font(face, size * scaleOf(face))
        .fillColor(colour)
        .text(text, at, y, { lineBreak: false, baseline: 'alphabetic' });
      at += width;
    }
  }

  #measure(text: string, face: Face, size: number): number {
    const key = `${face}\n${text}`;
    let width = this.#widths.get(key);
    if (width === undefined) {
      width = this.#target.font(face, 1000).widthOfString(text) / 1000;
      this.#widths.set(key, width);
    }
    return width * size * scaleOf(face);
  }

  #atoms(
    text: Inline,
    size: number,
    { bold = false, colour = ink }: { readonly bold?: boolean; readonly colour?: string },
  ): readonly Atom[] {
    const atoms: Atom[] = [];
    let blank = false;
    let open = false;
    for (const part of typeof text === 'string' ? [text] : text) {
      const span: Span = typeof part === 'string' ? { text: part } : part;
      const weight = (span.bold ?? bold) ? 'bold' : 'regular';
      const paint = span.tone === undefined ? colour : toneInk[span.tone];
      for (const piece of span.text.split(/( +|\n)/)) {
        if (piece === '') continue;
        if (/^[ \n]+$/.test(piece)) {
          blank = true;
          open = false;
          continue;
        }
        // A line may also end behind a hyphen, a slash or a low line within a name.
        for (const fragment of piece.split(/(?<=[\p{L}\p{N}][-/_])(?=[\p{L}\p{N}])/u)) {
          const runs = faceRuns(fragment, weight).map(
            (run): Run => ({ ...run, colour: paint, width: this.#measure(run.text, run.face, size) }),
          );
          const width = runs.reduce((total, run) => total + run.width, 0);
          const last = atoms.at(-1);
          if (open && last !== undefined) {
            last.runs.push(...runs);
            last.width += width;
          } else atoms.push({ runs, width, blank });
          blank = false;
          // Fragments of one piece may part; a further span continues the last one.
          open = false;
        }
        open = true;
      }
    }
    return atoms;
  }

  /** Sign by sign. */
  #cut(runs: readonly Run[], size: number, width: number): readonly Run[] {
    return runs.flatMap((run) => {
      const pieces: Run[] = [];
      const end = (signs: readonly string[]) => {
        const text = signs.join('');
        pieces.push({ ...run, text, width: this.#measure(text, run.face, size) });
      };
      let signs: string[] = [];
      // Kerning makes a piece a little narrower or wider than its signs one by one; what it may add is kept free.
      let filled = 0;
      for (const sign of run.text) {
        const own = this.#measure(sign, run.face, size);
        if (signs.length > 0 && filled + own > width * MOST_FILLED) {
          end(signs);
          signs = [];
          filled = 0;
        }
        signs.push(sign);
        filled += own;
      }
      end(signs);
      return pieces;
    });
  }
}

/** Share of a line that the signs of a word without a blank may fill. */
const MOST_FILLED = 0.985;

function scaleOf(face: Face): number {
  return face === 'symbol' ? symbolScale : 1;
}

/** Adds a run to a line, joined to the last one where face and colour are the same. */
function append(line: { runs: Run[]; width: number }, run: Run): void {
  const last = line.runs.at(-1);
  if (last !== undefined && last.face === run.face && last.colour === run.colour)
    line.runs[line.runs.length - 1] = { ...last, text: last.text + run.text, width: last.width + run.width };
  else line.runs.push(run);
  line.width += run.width;
}
