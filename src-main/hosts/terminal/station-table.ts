/** The station table for people: fixed columns, units in the header, verdicts in words with a sign. */
import type { ErrorName } from '../../../shared-math/definition.ts';
import type { ResultDocument, StationResult, Verdict } from '../../../shared-math/result.ts';
import {
  type AngleUnit,
  angleUnits,
  type DisplayUnit,
  inUnit,
  type LengthUnit,
  lengthUnits,
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
  { name: 'oscillation', header: 'Oscillation', kind: 'length' },
  { name: 'lateral', header: 'Lateral', kind: 'length' },
  { name: 'upset', header: 'Upset', kind: 'length' },
  { name: 'rotOscillation', header: 'Rot. osc.', kind: 'angle' },
  { name: 'rotLateral', header: 'Rot. lat.', kind: 'angle' },
  { name: 'rotUpset', header: 'Rot. ups.', kind: 'angle' },
];

const GAP = '  ';

/** Header (names, units, rule) and one line a planned station, each ended by a line feed. */
export function stationTable({ stations, summary }: ResultDocument, options: TableOptions): string {
  const length: DisplayUnit = lengthUnits[options.length];
  const angle: DisplayUnit = angleUnits[options.angle];
  const names = ['Station', 'Angle', ...ERRORS.map(({ header }) => header), 'Position', 'Limit', 'At'];
  const units = [
    '',
    '°',
    ...ERRORS.map(({ kind }) => (kind === 'length' ? length.sign : angle.sign)),
    length.sign,
    length.sign,
    '',
  ];
  const rows = [
    ...stations.map((station) => ({
      station: station.station,
      verdict: station.verdict as Verdict | 'missing',
      remark: exceeded(station),
      cells: [
        String(station.station),
        degrees(station.angle),
        ...ERRORS.map(({ name, kind }) => inUnit(station.error[name], kind === 'length' ? length : angle)),
        inUnit(station.position.value, length),
        inUnit(station.position.tolerance, length),
        station.position.at,
      ],
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
      : ` Worst position ${inUnit(worst.position, length)} ${length.sign} (limit ${inUnit(position.tolerance, length)} ${length.sign}) at station ${worst.station}, ${position.at}.`;
  const { rows, used } = source.points;
  const points =
    used === rows ? ` ${used} points.` : ` ${used} of ${rows} points used, ${rows - used} left out.`;
  return `${summary.stations} stations: ${counts.join(', ')}.${worstText}${points}\n`;
}

function degrees(angle: number): string {
  return (((angle % 360) + 360) % 360).toFixed(2);
}

/** Columns on screen; every sign used here takes one. */
function width(text: string): number {
  return [...text].length;
}
