/**
 * Faults of what people bring, as values. A problem says where it is (file, line, column or path), what was found,
 * what was expected and what to do; `describe` joins these into the one sentence that every host shows.
 */
import type { Problem } from './api.ts';

/** Thrown where an input cannot be taken at all. Hosts turn it into an `Outcome` or an exit status of 2. */
export class RefusedInput extends Error {
  readonly problems: readonly Problem[];
  /** What had been noticed before the refusal and may explain it. */
  readonly warnings: readonly string[];

  constructor(problems: readonly Problem[], warnings: readonly string[] = []) {
    super(problems.map((problem) => problem.message).join('\n'));
    this.name = 'RefusedInput';
    this.problems = problems;
    this.warnings = warnings;
  }
}

/** Thrown where the person asked to stop; not a fault of the input. */
export class Cancelled extends Error {
  constructor() {
    super('Cancelled.');
    this.name = 'Cancelled';
  }
}

/** What long-running work looks at between steps. An `AbortSignal` is one. */
export interface Cancellation {
  readonly aborted: boolean;
}

export function throwIfCancelled(signal: Cancellation | undefined): void {
  if (signal?.aborted) throw new Cancelled();
}

/** Everything of a problem but the joined sentence. `says` is what is wrong, without place, value or remedy. */
export interface Fault {
  readonly code: string;
  readonly says: string;
  readonly file?: string | undefined;
  readonly line?: number | undefined;
  readonly column?: string | undefined;
  /** Position of the first character in its line, for text files without columns. */
  readonly character?: number | undefined;
  readonly path?: string | undefined;
  readonly value?: string | undefined;
  readonly expected?: string | undefined;
  readonly remedy?: string | undefined;
}

/** More than this of a value found tells a reader nothing new. */
const LONGEST_VALUE = 40;

/** A value as found, shortened, with control characters made visible. */
export function shorten(value: string): string {
  const printable = value.replace(/\p{Cc}/gu, (c) => (c === '\t' ? '→' : '·'));
  return printable.length > LONGEST_VALUE ? `${printable.slice(0, LONGEST_VALUE - 1)}…` : printable;
}

/** The problem with its sentence: `file, line 12, column x: says: found "…", expected …. Remedy.` */
export function describe(fault: Fault): Problem {
  const place = [
    fault.file,
    fault.line === undefined ? undefined : `line ${fault.line}`,
    fault.column === undefined ? undefined : `column ${fault.column}`,
    fault.character === undefined ? undefined : `character ${fault.character}`,
    fault.path === undefined || fault.path === '' ? undefined : fault.path,
  ].filter((part) => part !== undefined);
  const value = fault.value === undefined ? undefined : shorten(fault.value);
  const details = [
    value === undefined ? undefined : `found "${value}"`,
    fault.expected === undefined ? undefined : `expected ${fault.expected}`,
  ].filter((part) => part !== undefined);
  const sentence =
    (place.length > 0 ? `${place.join(', ')}: ` : '') +
    fault.says +
    (details.length > 0 ? `: ${details.join(', ')}` : '') +
    (fault.remedy === undefined ? '.' : `; ${fault.remedy}.`);
  return {
    code: fault.code,
    message: sentence,
    ...(fault.file === undefined ? {} : { file: fault.file }),
    ...(fault.line === undefined ? {} : { line: fault.line }),
    ...(fault.column === undefined
      ? fault.character === undefined
        ? {}
        : { column: String(fault.character) }
      : { column: fault.column }),
    ...(fault.path === undefined ? {} : { path: fault.path }),
    ...(value === undefined ? {} : { value }),
    ...(fault.expected === undefined ? {} : { expected: fault.expected }),
    ...(fault.remedy === undefined ? {} : { remedy: fault.remedy }),
  };
}

/** Refuses with a single problem. */
export function refuse(fault: Fault): never {
  throw new RefusedInput([describe(fault)]);
}
