/** Names of files that are offered to a person. */

/** Device names of Windows, which no file may bear there, with or without an ending. */
const DEVICE = /^(con|prn|aux|nul|com\d|lpt\d)(?=\.|$)/i;

/** Longest stem, in signs: longer ones are hard to read in any list of files. */
const LONGEST = 80;
/** And in bytes of UTF-8: most systems take names of 255, of which endings need some. */
const MOST_BYTES = 200;

/**
 * A title as a file name without its ending: only what some file system forbids is replaced (control characters, `<>:"/\|?*`), and
 * what would hide the file or be lost at its ends. Empty where nothing is left.
 */
export function fileStem(title: string): string {
  const stem = title
    .replaceAll(/[\p{C}<>:"/\\|?*]+/gu, '-')
    .replaceAll(/\s+/gu, ' ')
    .replace(/^[.\s-]+/, '');
  const signs = [...stem].slice(0, LONGEST);
  while (Buffer.byteLength(signs.join('')) > MOST_BYTES) signs.pop();
  const short = signs.join('').replace(/[.\s-]+$/, '');
  return DEVICE.test(short) ? `_${short}` : short;
}
