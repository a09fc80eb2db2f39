/** Standard output and standard error, kept apart and safe against a reader that goes away. */

export interface Console {
  /** Whether colours may be used on standard output. */
  readonly coloured: boolean;
  output(text: string): void;
  /** A line on standard error. */
  error(line: string): void;
  /** A line that replaces the last one; only where standard error is a terminal. */
  progress(line: string): void;
  clearProgress(): void;
}

/** Returns to the start of the line and empties it. */
const ERASE_LINE = '\r\u001b[2K';

export function createConsole(process: NodeJS.Process): Console {
  const { stdout, stderr } = process;
  const quiet = (error: NodeJS.ErrnoException): void => {
    // `| head` has seen enough: no fault, and no status of its own.
    if (error.code !== 'EPIPE') throw error;
  };
  stdout.on('error', quiet);
  stderr.on('error', quiet);
  let shown = false;
  const clear = (): void => {
    if (shown) stderr.write(ERASE_LINE);
    shown = false;
  };
  return {
    coloured:
      stdout.isTTY === true && (process.env['NO_COLOR'] ?? '') === '' && process.env['TERM'] !== 'dumb',
    output: (text) => {
      clear();
      stdout.write(text);
    },
    error: (line) => {
      clear();
      stderr.write(`${line}\n`);
    },
    progress: (line) => {
      if (stderr.isTTY !== true) return;
      stderr.write(`${ERASE_LINE}${line}`);
      shown = true;
    },
    clearProgress: clear,
  };
}
