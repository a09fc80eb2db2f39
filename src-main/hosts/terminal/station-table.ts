/** The station table for people: units in the header, verdicts in words with a sign. */
import type { ErrorName } from '../../../shared-math/definition.ts';
import { neededProbability, printedProbability } from '../../../shared-math/display/decimals.ts';
import type { DecisionResult, ResultDocument, StationResult, Verdict } from '../../../shared-math/result.ts';
import {
  type AngleUnit,
  angleUnits,
  type DisplayUnit,
  inUnit,
  judgedInUnit,
  type LengthUnit,
  lengthUnits,
  limitInUnit,
} from './display-units.ts';

/** Paints a text in the colour of a verdict, or leaves it. */
export type Paint = (text: string, verdict: Verdict | 'missing') => string;

export interface TableOptions {
  readonly length: LengthUnit;
  readonly angle: AngleUnit;
  readonly paint: Paint;
}

export const verdictWords: Readonly<Record<Verdict | 'missing', string>> = {
  conforming: '✓ conforming',
  nonconforming: '✗ nonconforming',
  unproven: '? not proven',
  missing: '– missing',
};

const ERRORS: readonly {
  readonly name: ErrorName;
  readonly header: string;
  readonly kind: 'length' | 'angle';
}[] = [
  { name: 'oscillation', header: 'Oscill.', kind: 'length' },
  { name: 'lateral', header: 'Lateral', kind: 'length' },
  { name: 'upset', header: 'Upset', kind: 'length' },
  { name: 'rotOscillation', header: 'Rot.osc', kind: 'angle' },
  { name: 'rotLateral', header: 'Rot.lat', kind: 'angle' },
  { name: 'rotUpset', header: 'Rot.ups', kind: 'angle' },
];

const GAP = '  ';

interface Column {
  readonly name: string;
  readonly unit: string;
  readonly of: (station: StationResult) => string;
}

/** Columns before the verdict. The limit of position has one where it is not the same everywhere. */
function columnsFor({ stations, decision }: ResultDocument, options: TableOptions): readonly Column[] {
  const length: DisplayUnit = lengthUnits[options.length];
  const angle: DisplayUnit = angleUnits[options.angle];
  const column = (name: string, unit: string, of: Column['of']): Column => ({ name, unit, of });
  const limit = column('Limit', length.sign, ({ position }) =>
    limitInUnit(position.tolerance, [position.value], length),
  );
  return [
    column('St', '', ({ station }) => String(station)),
    column('Angle', '°', (station) => degrees(station.angle)),
    ...ERRORS.map(({ name, header, kind }) => {
      const unit = kind === 'length' ? length : angle;
      return column(header, unit.sign, ({ error, limits }) =>
        judgedInUnit(error[name], limits.find((limit) => limit.name === name)?.limit ?? null, unit),
      );
    }),
    column('Position', length.sign, ({ position }) =>
      judgedInUnit(position.value, position.tolerance, length),
    ),
    column('U', length.sign, ({ position }) => inUnit(position.expanded, length)),
    column('P', '', ({ position }) => percent(position.probability, decision)),
    ...(commonTolerance(stations) === null ? [limit] : []),
    column('At', '', ({ position }) => position.at),
  ];
}

function commonTolerance(stations: readonly StationResult[]): number | null {
  const [common, ...others] = new Set(stations.map(({ position }) => position.tolerance));
  return common === undefined || others.length > 0 ? null : common;
}

/** Header (names, units, rule) and one line a planned station, each ended by a line feed. */
export function stationTable(result: ResultDocument, options: TableOptions): string {
  const { stations, summary } = result;
  const columns = columnsFor(result, options);
  const names = columns.map(({ name }) => name);
  const units = columns.map(({ unit }) => unit);
  const rows = [
    ...stations.map((station) => ({
      station: station.station,
      verdict: station.verdict as Verdict | 'missing',
      remark: exceeded(station),
      cells: columns.map(({ of }) => of(station)),
    })),
    ...summary.missing.map(({ station, angle: planned, reason }) => ({
      station,
      verdict: 'missing' as const,
      remark: reason,
      cells: [String(station), degrees(planned), ...Array.from({ length: names.length - 2 }, () => '')],
    })),
  ].sort((a, b) => a.station - b.station);

  const widths = names.map((name, column) =>
    Math.max(width(name), width(units[column] ?? ''), ...rows.map(({ cells }) => width(cells[column] ?? ''))),
  );
  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, column) => {
        const space = ' '.repeat(Math.max(0, (widths[column] ?? 0) - width(cell)));
        // Numbers end together; the name of the check point begins together.
        return column === names.length - 1 ? cell + space : space + cell;
      })
      .join(GAP);
  const head = [`${line(names)}${GAP}Verdict`, line(units).trimEnd()];
  const rule = '─'.repeat(width(head[0] ?? '') + 8);
  const body = rows.map(({ cells, verdict, remark }) => {
    const words = options.paint(verdictWords[verdict], verdict);
    return `${line(cells)}${GAP}${words}${remark === '' ? '' : `: ${remark}`}`;
  });
  return [...head, rule, ...body].map((text) => `${text}\n`).join('');
}

/** One line: the rule in force, the coverage, and what U and P are. */
export function decisionLine({ decision, stations }: ResultDocument): string {
  const { rule, probability, factor, coverage } = decision;
  const words =
    rule === 'simple'
      ? 'value against limit'
      : probability === null
        ? `guarded by ${factor} U`
        : `guarded, conformity to be proven at ${chosen(probability)}`;
  if (stations.every(({ uncertainty }) => uncertainty === null))
    return `Rule: ${words}. Uncertainty not evaluated.\n`;
  return `Rule: ${words}. Position + U is its upper bound, coverage ${chosen(coverage)}; P is the probability that it keeps its limit.\n`;
}

/** A line for each unproven value: what would settle it. Empty where there is none. */
export function settleLines({ stations }: ResultDocument): string {
  return stations
    .flatMap(({ station, position, limits }) =>
      [{ name: 'position', settle: position.settle }, ...limits].flatMap(({ name, settle }) =>
        settle === null ? [] : [`Station ${station}, ${name}: ${settle}\n`],
      ),
    )
    .join('');
}

/** What a station that does not conform exceeds. */
function exceeded(station: StationResult): string {
  if (station.verdict === 'conforming') return '';
  const names = [
    ...(station.position.verdict === 'conforming' ? [] : ['position']),
    ...station.limits.filter(({ verdict }) => verdict !== 'conforming').map(({ name }) => name),
  ];
  return names.join(', ');
}

/** One line: counts, position limit, worst station. */
export function summaryLine({ stations, summary, source }: ResultDocument, unit: LengthUnit): string {
  const length: DisplayUnit = lengthUnits[unit];
  const counts = [
    `${summary.conforming} conforming`,
    `${summary.nonconforming} nonconforming`,
    ...(summary.unproven > 0 ? [`${summary.unproven} not proven`] : []),
    ...(summary.missing.length > 0 ? [`${summary.missing.length} missing`] : []),
  ];
  const { worst } = summary;
  const position = stations.find(({ station }) => station === worst?.station)?.position;
  const worstText =
    worst === null || position === undefined
      ? ''
      : ` Worst position ${judgedInUnit(worst.position, position.tolerance, length)} ${length.sign} (limit ${limitInUnit(position.tolerance, [worst.position], length)} ${length.sign}) at station ${worst.station}, ${position.at}.`;
  const { rows, used } = source.points;
  const points =
    used === rows ? ` ${used} points.` : ` ${used} of ${rows} points used, ${rows - used} left out.`;
  return `${summary.stations} stations: ${counts.join(', ')}.${worstText}${points}\n`;
}

/** Within one turn, after rounding as well. */
function degrees(angle: number): string {
  const text = (((angle % 360) + 360) % 360).toFixed(2);
  return text === '360.00' ? '0.00' : text;
}

/** A probability, seen on its side of what the rule asks for; near certainty it is a bound. */
export function percent(probability: number | null, decision: DecisionResult): string {
  if (probability === null) return '–';
  const { bound, percent: shown, decimals } = printedProbability(probability, neededProbability(decision));
  return `${bound ?? ''}${shown.toFixed(decimals)}%`;
}

/** A probability that somebody chose, with the digits it was chosen with. */
function chosen(probability: number): string {
  return `${Number((100 * probability).toPrecision(6))} %`;
}

/** Columns on screen; every sign used here takes one. */
function width(text: string): number {
  return [...text].length;
}
