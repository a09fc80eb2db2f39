/** Rows of a previewed point file as they come: the first ones to look at, all of them counted by station and feature. */
import type {
  FeatureShape,
  PatternChoice,
  PreviewCount,
  PreviewRequest,
  PreviewRow,
  Problem,
  RingShape,
} from '../api.ts';
import { describe } from '../problems.ts';
import { ringOf, SpacedPoints, shapeOf } from './feature-shapes.ts';
import type { ColumnIndex } from './guess-columns.ts';
import { anchored, matchLabel, stationNumber } from './label-pattern.ts';
import { diagnoseNumber, numberFrom } from './numbers.ts';
import { type CountedRows, judgedCounts } from './preview-counts.ts';
import type { Row } from './row-scanner.ts';
import { StationCells } from './station-cells.ts';

export interface PreviewContext {
  readonly file: string;
  readonly delimiter: string;
  readonly decimal: '.' | ',';
  readonly header: readonly string[] | null;
  readonly titleRows: number;
  readonly width: number;
  readonly index: ColumnIndex;
  readonly pattern: string | null;
}

/** The plan's own bound. */
const MOST_STATIONS = 10_000;
/** Different labels, or pairs of station and feature, that are told apart; a file with more has no labels at all. */
const MOST_GROUPS = 40_000;
/** Rows shown one after the other, whatever they hold. */
const FIRST_ROWS = 5;
/** Unreadable rows that are described one by one. */
const MOST_PROBLEMS = 4;

interface Group extends CountedRows {
  count: number;
  /** Of the hub only, and of no more groups than a hub has features. */
  readonly sample: SpacedPoints | null;
  readonly sum: [number, number, number];
}

/** More groups without a station than this are no hub but an unread label. */
const MOST_SHAPES = 60;

const valued = ['x', 'y', 'z', 'i', 'j', 'k', 'r', 'sigma', 'temperature'] as const;

export class PreviewTally {
  rows = 0;
  points = 0;
  head: PreviewRow[] = [];
  readonly #context: PreviewContext;
  readonly #plan: PreviewRequest['plan'];
  readonly #shown: number;
  readonly #pattern: RegExp | null;
  readonly #owners: readonly number[];
  #stationCells: StationCells;
  #seen = 0;
  #groups = new Map<string, Group>();
  #faults: Problem[] = [];
  #faultCount = 0;
  #low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  #high = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];

  constructor(context: PreviewContext, plan: PreviewRequest['plan'], shown: number) {
    this.#context = context;
    this.#plan = plan;
    this.#shown = shown;
    this.#pattern = safePattern(context.pattern);
    this.#stationCells = new StationCells(context.pattern, MOST_STATIONS);
    const { label, station, feature } = context.index;
    this.#owners = label === undefined ? [station ?? -1, feature ?? -1] : [label];
  }

  /** Forgets everything, for another reading of the same file. */
  restart(): void {
    this.rows = 0;
    this.points = 0;
    this.head = [];
    this.#seen = 0;
    this.#stationCells = new StationCells(this.#context.pattern, MOST_STATIONS);
    this.#groups = new Map();
    this.#faults = [];
    this.#faultCount = 0;
    this.#low.fill(Number.POSITIVE_INFINITY);
    this.#high.fill(Number.NEGATIVE_INFINITY);
  }

  readonly row = (row: Row): void => {
    if (isBlankRow(row)) return;
    this.#seen += 1;
    const { titleRows, header } = this.#context;
    const isTitle = header !== null && this.#seen <= titleRows;
    const isHeader = header !== null && this.#seen === titleRows + 1;
    if (isTitle || isHeader) {
      this.head.push(bareRow(row.line, cellsOf(row), isTitle ? 'title' : 'header'));
      return;
    }
    this.rows += 1;
    const group = this.#groupOf(row);
    const isFirst = group.line === row.line;
    const fault = this.#place(row, group);
    if (fault === null) {
      this.points += 1;
      group.count += 1;
    }
    // The first rows, and then the first of each other feature: a person looks at what differs.
    if (this.rows <= FIRST_ROWS || (isFirst && this.head.length < titleRows + this.#shown))
      this.head.push(this.#shownRow(row, cellsOf(row), group, fault));
  };

  /** Adds the coordinates to the extent; what is wrong with them otherwise. */
  #place(row: Row, group: Group): string | null {
    const { index, decimal, file } = this.#context;
    const columns = [index.x, index.y, index.z];
    const values: number[] = [];
    for (const column of columns) {
      if (column === undefined) return 'x, y or z is not set';
      const value = this.#number(row, column);
      if (value === null) {
        const cell = textOf(row, column);
        const diagnosis = diagnoseNumber(cell, decimal, false);
        this.#faultCount += 1;
        if (this.#faults.length < MOST_PROBLEMS)
          this.#faults.push(
            describe({
              ...diagnosis,
              file,
              line: row.line,
              column: this.#context.header?.[column]?.trim() || String(column + 1),
              value: cell,
            }),
          );
        return diagnosis.says;
      }
      values.push(value);
    }
    group.sample?.add(values[0]!, values[1]!, values[2]!);
    values.forEach((value, axis) => {
      group.sum[axis]! += value;
      if (value < this.#low[axis]!) this.#low[axis] = value;
      if (value > this.#high[axis]!) this.#high[axis] = value;
    });
    return null;
  }

  #number(row: Row, column: number): number | null {
    if (column >= row.cells) return null;
    const quick = row.numbers[column] as number;
    const value = Number.isNaN(quick) ? numberFrom(textOf(row, column), this.#context.decimal) : quick;
    return Number.isNaN(value) ? null : value;
  }

  #groupOf(row: Row): Group {
    const key = this.#owners.map((column) => (column < 0 ? '' : textOf(row, column))).join('\n');
    let group = this.#groups.get(key);
    if (group === undefined) {
      const owner = this.#resolve(key.split('\n'));
      const isHub = owner.station === null && this.#groups.size < MOST_SHAPES;
      group = {
        ...owner,
        line: row.line,
        count: 0,
        sample: isHub ? new SpacedPoints() : null,
        sum: [0, 0, 0],
      };
      if (this.#groups.size < MOST_GROUPS) this.#groups.set(key, group);
    }
    return group;
  }

  #resolve([first = '', second = '']: readonly string[]): Pick<Group, 'station' | 'feature' | 'fault'> {
    if (this.#context.index.label === undefined) {
      if (first === '') return { station: null, feature: second, fault: null };
      const station = this.#stationCells.stationOf(first);
      return station === null
        ? { station: null, feature: second, fault: `"${first}" is no station number` }
        : { station, feature: second, fault: null };
    }
    if (this.#plan?.hub.includes(first)) return { station: null, feature: first, fault: null };
    const match = this.#pattern === null ? null : matchLabel(this.#pattern, first);
    const station = match === null ? null : stationNumber(match.station, MOST_STATIONS);
    return station === null || match === null
      ? { station: null, feature: first, fault: null }
      : { station, feature: match.feature, fault: null };
  }

  #shownRow(row: Row, cells: readonly string[], group: Group, fault: string | null): PreviewRow {
    const values: Record<string, number | null> = {};
    for (const role of valued) {
      const column = this.#context.index[role];
      if (column !== undefined) values[role] = this.#number(row, column);
    }
    const why = fault ?? group.fault;
    const { station, feature } = group;
    return {
      line: row.line,
      cells,
      kind: why === null ? 'point' : 'unread',
      station,
      feature,
      values,
      fault: why,
    };
  }

  /** All different labels, or none where station and feature have columns of their own. */
  labels(): readonly string[] {
    return this.#context.index.label === undefined
      ? []
      : [...this.#groups.keys()].filter((key) => key !== '');
  }

  /** How the cells of a station column are read, with the first that was; null where they are plain numbers. */
  stationPattern(): PatternChoice | null {
    const { pattern } = this.#stationCells;
    if (pattern === null || this.#context.index.label !== undefined) return null;
    const cells = [...new Set([...this.#groups.keys()].map((key) => key.split('\n')[0] ?? ''))].filter(
      (cell) => cell !== '',
    );
    const read = cells.flatMap((label) => {
      const station = this.#stationCells.isRead(label) ? this.#stationCells.stationOf(label) : null;
      return station === null ? [] : [{ label, station, feature: '' }];
    });
    const [example] = read;
    return example === undefined ? null : { pattern, example, matched: read.length, labels: cells.length };
  }

  extent(): readonly [number, number, number] | null {
    const spans = this.#high.map((high, axis) => high - this.#low[axis]!);
    return this.points === 0 ? null : [spans[0]!, spans[1]!, spans[2]!];
  }

  /** Groups by station (hub first) and feature, each judged by the plan, or by the shape of the file without one. */
  counts(): readonly PreviewCount[] {
    return judgedCounts([...this.#groups.values()], this.#plan);
  }

  /** @param factor mm in the unit of the file */
  shapes(factor: number): readonly FeatureShape[] {
    return [...this.#groups.values()].flatMap(({ station, feature, sample, fault }) =>
      station === null && fault === null && sample !== null ? [shapeOf(feature, sample.scaled(factor))] : [],
    );
  }

  ring(factor: number): RingShape | null {
    const sums = new Map<number, { count: number; sum: number[] }>();
    for (const { station, sum, count } of this.#groups.values()) {
      if (station === null || count === 0) continue;
      const known = sums.get(station) ?? { count: 0, sum: [0, 0, 0] };
      sums.set(station, {
        count: known.count + count,
        sum: known.sum.map((value, axis) => value + sum[axis]!),
      });
    }
    return ringOf(
      Float64Array.from(
        [...sums.values()].flatMap(({ sum, count }) => sum.map((value) => (value * factor) / count)),
      ),
    );
  }

  problems(): readonly Problem[] {
    const rest = this.#faultCount - this.#faults.length;
    if (rest === 0) return this.#faults;
    const message = `… and ${rest} more rows without readable coordinates (${this.#faultCount} of ${this.rows}).`;
    return [...this.#faults, { code: 'more-problems', message }];
  }
}

function bareRow(line: number, cells: readonly string[], kind: 'title' | 'header'): PreviewRow {
  return { line, cells, kind, station: null, feature: '', values: {}, fault: null };
}

function textOf({ bytes, bounds, cells }: Row, column: number): string {
  if (column >= cells) return '';
  return bytes.toString('utf8', bounds[2 * column], bounds[2 * column + 1]).trim();
}

function cellsOf(row: Row): string[] {
  return Array.from({ length: row.cells }, (_, column) => textOf(row, column));
}

function isBlankRow(row: Row): boolean {
  for (let column = 0; column < row.cells; column += 1) if (textOf(row, column) !== '') return false;
  return true;
}

function safePattern(pattern: string | null): RegExp | null {
  try {
    return pattern === null ? null : anchored(pattern);
  } catch {
    return null;
  }
}
