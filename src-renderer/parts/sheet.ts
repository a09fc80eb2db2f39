/** A table for other programs: plain text cells, ASCII numbers. */
export interface Sheet {
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

export function delimited({ head, rows }: Sheet, separator: '\t' | ','): string {
  const lines = [head, ...rows].map((cells) => cells.map((cell) => quoted(cell, separator)).join(separator));
  return `${lines.join('\n')}\n`;
}

function quoted(cell: string, separator: string): string {
  // A text that starts like a formula would be run by a spreadsheet; numbers may keep their minus.
  const safe = /^[=+@\t\r-]/.test(cell) && Number.isNaN(Number(cell)) ? `'${cell}` : cell;
  if (separator === '\t') return safe.replaceAll(/[\t\r\n]+/g, ' ');
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
