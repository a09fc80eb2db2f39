/** Takes the rows of a point file one by one: points into blocks, everything else into a list with its reason. */
import type { RowFaultNote, RowFaultValues } from '../../shared-math/notes/notes.ts';
import type { ColumnRole } from '../plan/plan-schema.ts';
import type { Columns } from './columns.ts';
import { FaultList } from './fault-list.ts';
import type { GrowingBlock } from './growing-block.ts';
import { diagnoseNumber, isBlank, numberFrom } from './numbers.ts';
import type { PointTargets } from './point-targets.ts';
import { RecentTarget } from './recent-target.ts';
import { RepeatLabels } from './repeat-labels.ts';
import type { Row } from './row-scanner.ts';

export interface CollectorContext {
  readonly file: string;
  readonly columns: Columns;
  readonly targets: PointTargets;
  readonly decimal: '.' | ',';
  readonly decimalFromPlan: boolean;
  /** Rows above the header that hold no points. */
  readonly titleRows: number;
  readonly hasHeader: boolean;
}

/** A unit normal may be off unit length by this much: normals are exported with two digits at least. */
const NORMAL_LENGTH_SLACK = 0.01;

/** °C; the plan's part temperature has the same bounds. */
const COLDEST = -50;
const HOTTEST = 200;

/** Roles whose blank cell means "none" for a feature, as long as it is blank for all its points. */
type OptionalRole = 'r' | 'sigma' | 'temperature';

export class PointCollector {
  rows = 0;
  readonly faults: FaultList;
  readonly repeats = new RepeatLabels();
  readonly #columns: Columns;
  readonly #targets: PointTargets;
  readonly #recent: RecentTarget;
  readonly #decimal: '.' | ',';
  readonly #decimalFromPlan: boolean;
  readonly #index: Columns['index'];
  readonly #x: number;
  readonly #y: number;
  readonly #z: number;
  readonly #hasExtras: boolean;
  readonly #cellsNeeded: number;
  #headerPending: boolean;
  #titleRowsPending: number;
  /** Numbers of the row at hand: x, y, z, i, j, k, and one for the others. */
  readonly #values = new Float64Array(7);
  #bytes: Buffer = Buffer.alloc(0);
  #bounds: Int32Array = new Int32Array(0);
  #numbers: Float64Array = new Float64Array(0);
  #line = 0;

  constructor(context: CollectorContext) {
    this.faults = new FaultList(context.file);
    this.#columns = context.columns;
    this.#targets = context.targets;
    this.#recent = new RecentTarget(context.targets, context.columns.index);
    this.#decimal = context.decimal;
    this.#decimalFromPlan = context.decimalFromPlan;
    this.#headerPending = context.hasHeader;
    this.#titleRowsPending = context.titleRows;
    const index = context.columns.index;
    this.#index = index;
    this.#x = index.x ?? 0;
    this.#y = index.y ?? 0;
    this.#z = index.z ?? 0;
    const optional: readonly ColumnRole[] = ['i', 'r', 'sigma', 'temperature', 'run', 'direction'];
    this.#hasExtras = optional.some((role) => index[role] !== undefined);
    const needed: readonly ColumnRole[] = ['station', 'feature', 'label', 'x', 'y', 'z'];
    this.#cellsNeeded = 1 + Math.max(...needed.map((role) => index[role] ?? 0));
  }

  /** Takes one row. */
  readonly row = (row: Row): void => {
    const { bytes, bounds, cells, line } = row;
    const first = bounds[0] as number;
    const end = bounds[2 * cells - 1] as number;
    if (
      (cells === 1 || (bytes[first] as number) <= 32 || first === bounds[1]) &&
      this.#allBlank(bytes, bounds, cells)
    )
      return;
    if (this.#headerPending) {
      // Titles are no points: the sentence on the reading counts them.
      if (this.#titleRowsPending > 0) this.#titleRowsPending -= 1;
      else this.#headerPending = false;
      return;
    }
    this.rows += 1;
    this.#bytes = bytes;
    this.#bounds = bounds;
    this.#line = line;
    this.#numbers = row.numbers;
    if (cells < this.#cellsNeeded) {
      this.#tooFew(cells, bytes.toString('utf8', first, end));
      return;
    }
    const target = this.#recent.of(row);
    if (target.kind === 'excluded') {
      this.faults.exclude(line, target.reason, target.note);
      return;
    }
    if (target.kind === 'refused') {
      this.#refuseLabel(target.label);
      return;
    }
    const { block } = target;
    if (cells > this.#columns.count && !this.#surplusBlank(cells)) this.#tooMany(cells, block);
    else this.#take(block, cells);
  };

  #take(block: GrowingBlock, cells: number): void {
    const values = this.#values;
    this.#read(this.#x, 0);
    this.#read(this.#y, 1);
    this.#read(this.#z, 2);
    const x = values[0] as number;
    const y = values[1] as number;
    const z = values[2] as number;
    if (Number.isNaN(x + y + z)) {
      this.#notANumber(Number.isNaN(x) ? this.#x : Number.isNaN(y) ? this.#y : this.#z, block);
      return;
    }
    if (!this.#hasExtras) {
      block.add(this.#line, values, false);
      return;
    }
    const normal = this.#normal(block, cells);
    const radius = normal === 'bad' ? 'bad' : this.#optional('r', block, cells);
    const sigma = radius === 'bad' ? 'bad' : this.#optional('sigma', block, cells);
    const temperature = sigma === 'bad' ? 'bad' : this.#optional('temperature', block, cells);
    if (normal === 'bad' || radius === 'bad' || sigma === 'bad' || temperature === 'bad') return;
    block.add(this.#line, values, normal === 'present');
    if (radius !== null) block.setRadius(radius);
    if (sigma !== null) block.setSigma(sigma);
    if (temperature !== null) block.setTemperature(temperature);
    block.hasNormals = normal;
    block.hasRadius = radius === null ? 'absent' : 'present';
    block.hasSigma = sigma === null ? 'absent' : 'present';
    block.hasTemperature = temperature === null ? 'absent' : 'present';
    const { run, direction } = this.#index;
    if (run !== undefined) block.setRun(this.repeats.run(this.#runLabel(run, cells)));
    if (direction !== undefined) {
      const text = direction < cells ? this.#cell(direction) : '';
      block.setDirection(this.repeats.direction(text, this.#line));
    }
  }

  /** The number in the cell, else its text; blank cells are a run of their own. */
  #runLabel(column: number, cells: number): string | number {
    if (column >= cells) return '';
    const number = this.#numbers[column] as number;
    return Number.isNaN(number) ? this.#cell(column) : number;
  }

  /** Reads the normal into `#values` from 3 and says whether there is one. */
  #normal(block: GrowingBlock, cells: number): 'present' | 'absent' | 'bad' {
    const { i, j, k } = this.#index;
    if (i === undefined || j === undefined || k === undefined) return 'absent';
    const values = this.#values;
    if (i < cells && j < cells && k < cells) {
      this.#read(i, 3);
      this.#read(j, 4);
      this.#read(k, 5);
    } else values.fill(Number.NaN, 3, 6);
    const u = values[3] as number;
    const v = values[4] as number;
    const w = values[5] as number;
    const length = Math.sqrt(u * u + v * v + w * w);
    if (Math.abs(length - 1) <= NORMAL_LENGTH_SLACK && block.hasNormals !== 'absent') {
      values[3] = u / length;
      values[4] = v / length;
      values[5] = w / length;
      return 'present';
    }
    return this.#withoutNormal(block, cells, [i, j, k], length);
  }

  /** A row without a usable normal: that is right where the whole feature has none. */
  #withoutNormal(
    block: GrowingBlock,
    cells: number,
    columns: readonly [number, number, number],
    length: number,
  ): 'absent' | 'bad' {
    const [i] = columns;
    const blank = columns.filter((column) => this.#blank(column, cells)).length;
    const unreadable = columns.find((column) => column >= cells || Number.isNaN(this.#number(column)));
    if (blank === 3 && block.hasNormals !== 'present') return 'absent';
    if (blank === 3) this.#missing(i, block, 'normal');
    else if (block.hasNormals === 'absent') this.#missing(i, block, 'no-normal');
    else if (unreadable !== undefined) this.#notANumber(unreadable, block);
    else this.#fault(block.station, 'normal-length', i, { code: 'no-unit-normal', values: { length } });
    return 'bad';
  }

  #optional(role: OptionalRole, block: GrowingBlock, cells: number): number | null | 'bad' {
    const column = this.#index[role];
    if (column === undefined) return null;
    const had = role === 'r' ? block.hasRadius : role === 'sigma' ? block.hasSigma : block.hasTemperature;
    if (this.#blank(column, cells)) {
      if (had !== 'present') return null;
      this.#missing(column, block, 'value');
      return 'bad';
    }
    if (had === 'absent') {
      this.#missing(column, block, 'empty-cell');
      return 'bad';
    }
    const value = this.#number(column);
    if (Number.isNaN(value)) {
      this.#notANumber(column, block);
      return 'bad';
    }
    if (role === 'temperature' && !(value >= COLDEST && value <= HOTTEST)) {
      this.#fault(block.station, 'wrong-value', column, {
        code: 'temperature-range',
        values: { coldest: COLDEST, hottest: HOTTEST },
      });
      return 'bad';
    }
    if ((role === 'r' && value < 0) || (role === 'sigma' && value <= 0)) {
      const code = role === 'r' ? 'negative-radius' : 'sigma-not-positive';
      this.#fault(block.station, 'wrong-value', column, { code, values: {} });
      return 'bad';
    }
    return value;
  }

  /** Puts the number of a cell into `#values`, or NaN where it holds none. */
  #read(column: number, slot: number): void {
    this.#values[slot] = this.#numbers[column] as number;
    if (Number.isNaN(this.#values[slot])) this.#values[slot] = this.#slowNumber(column);
  }

  #number(column: number): number {
    this.#read(column, 6);
    return this.#values[6] as number;
  }

  /** Numbers with blanks around, a plus sign, an exponent, or very many digits. */
  #slowNumber(column: number): number {
    return numberFrom(this.#cell(column), this.#decimal);
  }

  #cell(column: number): string {
    return this.#bytes.toString('utf8', this.#bounds[2 * column], this.#bounds[2 * column + 1]).trim();
  }

  #blank(column: number, cells: number): boolean {
    return (
      column >= cells ||
      isBlank(this.#bytes, this.#bounds[2 * column] as number, this.#bounds[2 * column + 1] as number)
    );
  }

  #allBlank(bytes: Buffer, bounds: Int32Array, cells: number): boolean {
    for (let cell = 0; cell < cells; cell += 1)
      if (!isBlank(bytes, bounds[2 * cell] as number, bounds[2 * cell + 1] as number)) return false;
    return true;
  }

  #surplusBlank(cells: number): boolean {
    for (let cell = this.#columns.count; cell < cells; cell += 1) if (!this.#blank(cell, cells)) return false;
    return true;
  }

  #notANumber(column: number, block: GrowingBlock): void {
    const { code, fault } = diagnoseNumber(this.#cell(column), this.#decimal, this.#decimalFromPlan);
    this.#fault(block.station, code, column, fault);
  }

  #missing(column: number, block: GrowingBlock, wanted: RowFaultValues['points-differ']['wanted']): void {
    this.#fault(block.station, 'missing-cell', column, { code: 'points-differ', values: { wanted } });
  }

  #tooFew(cells: number, row: string): void {
    const { label, station } = this.#index;
    const at = label ?? station ?? 0;
    const owner = at < cells ? this.#targets.ownerOf(this.#cell(at), label !== undefined) : undefined;
    const fault: RowFaultNote = { code: 'row-too-short', values: { cells, of: this.#columns.count } };
    this.#fault(owner, 'missing-cell', cells, fault, row.trim());
  }

  #tooMany(cells: number, block: GrowingBlock): void {
    const { count } = this.#columns;
    this.#fault(block.station, 'surplus-cells', count, {
      code: 'row-too-long',
      values: { cells, of: count },
    });
  }

  #refuseLabel(label: string): void {
    this.faults.addFatal(this.#line, {
      code: 'unknown-label',
      column: this.#columns.names[this.#index.label ?? 0],
      says: 'the label is neither a station with its feature nor a hub feature of the plan',
      value: label,
      expected: 'a label that the pattern matches, such as B07_SEAT, or the name of a hub feature',
      remedy: 'correct the label, or the pattern in import.label of the plan',
    });
  }

  /** @param column place of the cell; those beyond the header go by their number. */
  #fault(
    owner: number | null | undefined,
    code: string,
    column: number,
    fault: RowFaultNote,
    found = this.#cell(column),
  ): void {
    const name = this.#columns.names[column] ?? String(column + 1);
    this.faults.add(this.#line, owner, { code, column: name, found, fault });
  }
}
