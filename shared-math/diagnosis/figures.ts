/**
 * Sizes within texts. Findings name sizes in µm and arc-seconds; beside each text stand its figures, which say what of it is such
 * a size, so that whoever shows the text can write them in other units.
 *
 * While a sentence is put together its figures travel in it, between two signs of Unicode's private area; `readFigures` takes
 * them out.
 */
import type { Figure } from './findings.ts';

const BEGIN = '\uE000';
const END = '\uE001';
const MARKED = new RegExp(`${BEGIN}([^${END}]*)${END}`, 'g');

/** A text with the sizes that stand in it, in their order. */
export interface Said {
  readonly text: string;
  readonly figures: readonly Figure[];
}

/** The text of a figure as a part of a sentence that is still being put together. */
export function markFigure({ kind, values, signed, text }: Figure): string {
  return `${BEGIN}${[kind, signed ? 'signed' : '', values.join(' '), text].join('|')}${END}`;
}

/** A text without figures in it, and the figures. */
export function readFigures(marked: string): Said {
  const figures: Figure[] = [];
  const text = marked.replace(MARKED, (_, inside: string) => {
    const [kind, signed, values = '', shown = ''] = inside.split('|');
    figures.push({
      kind: kind as Figure['kind'],
      values: values.split(' ').map(Number),
      signed: signed !== '',
      text: shown,
    });
    return shown;
  });
  return { text, figures };
}

/**
 * The text with each of its figures written anew.
 *
 * @param figures of the text, in their order; what does not stand in it is passed over.
 */
export function withFigures(
  text: string,
  figures: readonly Figure[],
  write: (figure: Figure) => string,
): string {
  let done = '';
  let rest = text;
  for (const figure of figures) {
    const at = rest.indexOf(figure.text);
    if (at < 0) continue;
    done += rest.slice(0, at) + write(figure);
    rest = rest.slice(at + figure.text.length);
  }
  return done + rest;
}

/** The text with its figures in it again, to become part of another one. */
export function markedAgain(text: string, figures: readonly Figure[]): string {
  return withFigures(text, figures, markFigure);
}
