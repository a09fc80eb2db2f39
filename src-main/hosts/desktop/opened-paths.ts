/** Files that the system asks the program to open: from its own command line and from that of a second start. */
import { isAbsolute, resolve } from 'node:path';

/**
 * @param argv the whole command line: program, and where it is not packaged the project folder, come first
 * @param packaged whether the program runs from its package
 * @param folder where relative names start
 */
export function pathsFromArguments(
  argv: readonly string[],
  packaged: boolean,
  folder: string,
): readonly string[] {
  return argv
    .slice(packaged ? 1 : 2)
    .filter((word) => word !== '' && !word.startsWith('-'))
    .map((word) => (isAbsolute(word) ? word : resolve(folder, word)));
}
