/** Line ends and runs of blanks, brought to one form. */

/** Lone carriage returns end lines in some files; pairs with a line feed need no change. */
const LONE_RETURN = /\r(?!\n)/;

export function hasLoneReturns(text: string): boolean {
  return LONE_RETURN.test(text);
}

/** The same text with every line ended by a line feed alone. */
export function tidyLineEnds(text: string): string {
  return text.replace(/\r\n?/g, '\n');
}

/** Blanks as single delimiters, none at the ends of a line. */
export function collapseBlanks(text: string): string {
  return text
    .replace(/[ \t\r]+/g, ' ')
    .replace(/(^|\n) /g, '$1')
    .replace(/ (?=\n|$)/g, '');
}
