/** Every station: six errors, position, U, P, verdict; the errors around the disc; the same in the axes of the disc. */

import type { LimitName } from '../../../shared-math/definition.ts';
import { DISC_ERRORS, ERRORS } from '../../../shared-math/pose/error-names.ts';
import type { StationResult, Verdict } from '../../../shared-math/result.ts';
import { type Block, heading, type Inline, note, type TableBlock, type TableRow } from '../document.ts';
import { stationErrors } from '../figures/station-errors.ts';
import { nothing } from '../format/numbers.ts';
import { angleText, type Context, capital, limitNames, marked, verdictText } from './context.ts';

export function stationsSection(context: Context): readonly Block[] {
  const { m } = context;
  const words = m.stations;
  return [
    heading(2, words.title),
    note(words.note),
    stationTable(context),
    errorFigure(context),
    discTable(context),
    note(words.discNote),
  ];
}

function stationTable(context: Context): TableBlock {
  const { m, f, result } = context;
  const words = m.stations;
  const limits = ERRORS.map((name) => commonLimit(result.stations, name));
  const tolerances = new Set(result.stations.map(({ position }) => position.tolerance));
  const [tolerance] = tolerances;
  const limitRow: TableRow = {
    apart: true,
    cells: [
      words.limit,
      '',
      ...ERRORS.map((name, i) => {
        const limit = limits[i] as Limit;
        return limit === null ? nothing : limit === 'varies' ? words.varies : `±${f.limit(name, limit)}`;
      }),
      tolerances.size === 1 ? f.limit('position', tolerance ?? null) : words.varies,
      '',
      '',
      '',
      '',
    ],
  };
  return {
    kind: 'table',
    caption: words.table,
    columns: [
      { header: words.station, align: 'right' },
      { header: words.angle, unit: '°', align: 'right' },
      ...ERRORS.map((name) => ({
        header: m.errorsShort[name],
        unit: f.errorSign(name),
        align: 'right' as const,
      })),
      { header: words.position, unit: f.lengthSign, align: 'right' },
      { header: 'U', unit: f.lengthSign, align: 'right' },
      { header: 'P', align: 'right' },
      { header: words.at, align: 'left' },
      { header: words.verdict, align: 'left', grow: 1 },
    ],
    rows: [limitRow, ...stationRows(context)],
  };
}

function stationRows(context: Context): readonly TableRow[] {
  const { f, result } = context;
  const rows = [
    ...result.stations.map((station) => ({
      station: station.station,
      row: {
        ...(station.verdict === 'conforming' ? {} : { tone: station.verdict }),
        cells: [
          String(station.station),
          angleText(context, station.angle),
          ...ERRORS.map((name) =>
            marked(f.against(name, station.error[name], limitOf(station, name)), limitVerdict(station, name)),
          ),
          marked(
            f.against('position', station.position.value, station.position.tolerance),
            station.position.verdict,
          ),
          f.length(station.position.expanded),
          f.probability(station.position.probability),
          station.position.at,
          verdictText(context, station.verdict),
        ] as Inline[],
      } satisfies TableRow,
    })),
    ...result.summary.missing.map(({ station, angle }) => ({
      station,
      row: {
        tone: 'missing',
        cells: [
          String(station),
          angleText(context, angle),
          ...ERRORS.map(() => nothing),
          nothing,
          nothing,
          nothing,
          '',
          verdictText(context, 'missing'),
        ] as Inline[],
      } satisfies TableRow,
    })),
  ];
  return rows.sort((a, b) => a.station - b.station).map(({ row }) => row);
}

function limitVerdict({ limits }: StationResult, name: LimitName): Verdict | null {
  return limits.find((limit) => limit.name === name)?.verdict ?? null;
}

function limitOf({ limits }: StationResult, name: LimitName): number | null {
  return limits.find((limit) => limit.name === name)?.limit ?? null;
}

type Limit = number | null | 'varies';

/** The limit that all stations share; null where none has one. */
function commonLimit(stations: readonly StationResult[], name: LimitName): Limit {
  const found = new Set(stations.map((station) => limitOf(station, name)));
  if (found.size > 1) return 'varies';
  const [limit = null] = found;
  return limit;
}

function errorFigure(context: Context): Block {
  const { m, f, plan, result, width } = context;
  const panels = ERRORS.map((name) => {
    const limit = commonLimit(result.stations, name);
    return {
      title: `${capital(m.errors[name])}, ${f.errorSign(name)}`,
      limit: limit === 'varies' ? null : limit,
      text: (value: number) => f.limit(name, value),
      points: result.stations.map((station) => ({
        station: station.station,
        value: station.error[name],
        expanded: station.uncertainty?.expanded[name] ?? null,
        tone: limitVerdict(station, name) ?? ('conforming' as const),
      })),
    };
  });
  return {
    kind: 'figure',
    drawing: stationErrors(panels, plan.stations.length, m.stations.figure, width),
    caption: `${m.stations.figure}. ${m.stations.figureCaption}`,
  };
}

/** Radial, tangential, axial, lean, sweep, stagger, each with its U. */
function discTable({ m, f, result }: Context): TableBlock {
  const words = m.stations;
  return {
    kind: 'table',
    caption: words.disc,
    columns: [
      { header: words.station, align: 'right' },
      ...DISC_ERRORS.flatMap((name) => [
        { header: m.errorsShort[name], unit: f.errorSign(name), align: 'right' as const, grow: 1 },
        { header: 'U', unit: f.errorSign(name), align: 'right' as const, grow: 0.5 },
      ]),
    ],
    rows: result.stations.map((station) => ({
      cells: [
        String(station.station),
        ...DISC_ERRORS.flatMap((name) => [
          marked(f.against(name, station.disc[name], limitOf(station, name)), limitVerdict(station, name)),
          f.error(name, station.uncertainty?.expanded[name] ?? null),
        ]),
      ],
    })),
  };
}

/** Names of what does not conform or is not proven at a station. */
export function faultsOf({ m }: Context, { position, limits }: StationResult): readonly string[] {
  const names = limitNames.filter((name) =>
    limits.some((limit) => limit.name === name && limit.verdict !== 'conforming'),
  );
  return [
    ...(position.verdict === 'conforming' ? [] : [m.station.position]),
    ...names.map((name) => capital(m.errors[name])),
  ];
}
