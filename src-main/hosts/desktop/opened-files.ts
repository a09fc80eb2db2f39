/** Hands files that the system asked to open to the page, once it listens; until then they wait. Free of Electron. */
import type { OpenedFile, Outcome } from '../../api.ts';

export interface OpenedFiles {
  /** Files that the system names, at the start or later. */
  open(paths: readonly string[]): void;
  /** The page can hear now. */
  listening(): void;
  /** The page has gone; what comes now waits for the next one. */
  silent(): void;
}

/**
 * @param openPaths the service's own check of paths; what it refuses is reported
 * @param send carries opened files to the page
 * @param report tells a person of files that could not be opened
 */
export function createOpenedFiles(
  openPaths: (paths: readonly string[]) => Outcome<readonly OpenedFile[]>,
  send: (files: readonly OpenedFile[]) => void,
  report: (message: string) => void,
): OpenedFiles {
  let heard = false;
  let waiting: readonly string[] = [];
  const pass = (paths: readonly string[]): void => {
    if (paths.length === 0) return;
    const outcome = openPaths(paths);
    if (outcome.ok) send(outcome.value);
    else report(outcome.problems.map((problem) => problem.message).join('\n'));
  };
  return {
    open(paths) {
      if (heard) pass(paths);
      else waiting = [...waiting, ...paths];
    },
    silent() {
      heard = false;
    },
    listening() {
      heard = true;
      const paths = waiting;
      waiting = [];
      pass(paths);
    },
  };
}
