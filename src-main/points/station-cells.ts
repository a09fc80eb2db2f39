/** Cells of a station column: plain numbers, or numbers behind one prefix such as `B07`. */
import { groupsOf } from '../pattern-groups.ts';
import { anchored, stationNumber } from './label-pattern.ts';

const PREFIXED = /^(?<prefix>\p{L}[\p{L} _.:#-]*)\d+$/u;

/**
 * The first cell that is filled tells whether stations have a prefix, and which: `A07` is no station of a file that began
 * with `B01`, nor is `REF12` one of a file that began with a plain number. A pattern stated in the plan goes before.
 */
export class StationCells {
  readonly #stations: number;
  #isSettled = false;
  #source: string | null = null;
  #pattern: RegExp | null = null;

  /** @param stated the plan's pattern; one that takes a feature out as well is meant for labels and not used here. */
  constructor(stated: string | null, stations: number) {
    this.#stations = stations;
    if (stated !== null && isStationPattern(stated)) this.#settle(stated);
  }

  /** The pattern stated or found; null: plain numbers. */
  get pattern(): string | null {
    return this.#source;
  }

  /** The planned station of a cell that is not empty, or null. */
  stationOf(text: string): number | null {
    if (!this.#isSettled) this.#settle(patternOf(text, this.#stations));
    const number = this.#pattern?.exec(text)?.groups?.['station'];
    return stationNumber(number ?? text, this.#stations);
  }

  /** Whether the pattern, and not the plain number, is what reads this cell. */
  isRead(text: string): boolean {
    return this.#pattern?.test(text) === true;
  }

  #settle(pattern: string | null): void {
    this.#isSettled = true;
    this.#source = pattern;
    this.#pattern = pattern === null ? null : anchored(pattern);
  }
}

/** Whether a pattern takes a station, and no feature, out of a cell. */
function isStationPattern(pattern: string): boolean {
  const groups = groupsOf(pattern);
  return groups?.includes('station') === true && !groups.includes('feature');
}

function patternOf(text: string, stations: number): string | null {
  const prefix = PREFIXED.exec(text)?.groups?.['prefix'];
  if (prefix === undefined || stationNumber(text.slice(prefix.length), stations) === null) return null;
  return `${prefix.replaceAll(/[.\\]/g, '\\$&')}(?<station>\\d+)`;
}
