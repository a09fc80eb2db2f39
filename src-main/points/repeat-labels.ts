/**
 * What the columns `run` and `direction` say: which repeat a point belongs to, and from which side its station was approached.
 * They serve repeatability alone, so a word that says nothing is no fault of the row.
 */

/** 1 up (positive), −1 down, 0 not stated. */
export type Direction = 1 | -1 | 0;

/** Counter-clockwise seen from +Z is positive, as station angles are. */
const UP = [
  '+',
  '+1',
  '1',
  'up',
  'u',
  'pos',
  'positive',
  'plus',
  'fwd',
  'forward',
  'ccw',
  'counterclockwise',
  '\u2191',
];
const DOWN = [
  '-',
  '-1',
  '\u2212',
  '\u22121',
  'down',
  'd',
  'neg',
  'negative',
  'minus',
  'rev',
  'reverse',
  'backward',
  'cw',
  'clockwise',
  '\u2193',
];

const DIRECTIONS: ReadonlyMap<string, Direction> = new Map([
  ['', 0],
  ...UP.map((word) => [word, 1] as const),
  ...DOWN.map((word) => [word, -1] as const),
]);

export interface UnknownDirection {
  readonly text: string;
  readonly line: number;
  count: number;
}

export class RepeatLabels {
  readonly #runs = new Map<string | number, number>();
  #lastRun: string | number | null = null;
  #lastNumber = 0;
  #unknown: UnknownDirection | null = null;

  /** First text of a direction that was not understood, and how many there were. */
  get unknownDirection(): Readonly<UnknownDirection> | null {
    return this.#unknown;
  }

  /** Number of a run, from 1 in the order in which runs first appear. A number and its text with other zeros are one run. */
  run(label: string | number): number {
    if (label === this.#lastRun) return this.#lastNumber;
    let number = this.#runs.get(label);
    if (number === undefined) {
      number = this.#runs.size + 1;
      this.#runs.set(label, number);
    }
    this.#lastRun = label;
    this.#lastNumber = number;
    return number;
  }

  direction(text: string, line: number): Direction {
    const direction = DIRECTIONS.get(text.toLowerCase());
    if (direction !== undefined) return direction;
    this.#unknown ??= { text, line, count: 0 };
    this.#unknown.count += 1;
    return 0;
  }
}
