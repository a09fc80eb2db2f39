/** Names of files that are offered to a person. */

/** Device names of Windows, which no file may bear there, with or without an ending. */
const DEVICE = /^(con|prn|aux|nul|com\d|lpt\d)(?=\.|$)/i;

/** Longest stem; endings and the folder's path must find room beside it. */
const LONGEST = 80;

/**
 * A title as a file name without its ending: only what some file system forbids is replaced (control characters, `<>:"/\|?*`), and
 * what would hide the file or be lost at its ends. Empty where nothing is left.
 */
export function fileStem(title: string): string {
  const stem = title
    .replaceAll(/[\p{C}<>:"/\\|?*]+/gu, '-')
    .replaceAll(/\s+/gu, ' ')
    .replace(/^[.\s-]+/, '');
  const short = [...stem]
    .slice(0, LONGEST)
    .join('')
    .replace(/[.\s-]+$/, '');
  return DEVICE.test(short) ? `_${short}` : short;
}
