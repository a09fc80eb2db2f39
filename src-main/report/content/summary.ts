/** The verdict on the disc, counts, largest values, and the map of positions. */
import { ERRORS } from '../../../shared-math/pose/error-names.ts';
import type { CheckPointResult, ResultDocument } from '../../../shared-math/result.ts';
import { type Block, heading, type TableRow, type Tone } from '../document.ts';
import { polarMap } from '../figures/polar-map.ts';
import { type Context, capital, verdictText, zoneSize } from './context.ts';

/** The disc as a whole: nonconforming before incomplete before not proven before conforming. */
function discVerdict({ summary, pattern }: ResultDocument): Exclude<Tone, 'quiet' | 'caution'> {
  if (summary.nonconforming > 0 || pattern?.verdict === 'nonconforming') return 'nonconforming';
  if (summary.missing.length > 0) return 'missing';
  if (summary.unproven > 0 || pattern?.verdict === 'unproven') return 'unproven';
  return 'conforming';
}

/** The statement that a reader looks for first. */
export function verdictNotice(context: Context): Block {
  const { m, f, result } = context;
  const { summary, stations, pattern } = result;
  const tone = discVerdict(result);
  const all = summary.conforming === summary.stations;
  const worst = stations.find(({ station }) => station === summary.worst?.station)?.position;
  const sentences = [
    all
      ? m.banner.all(summary.stations)
      : m.banner.counts(
          summary.stations,
          summary.conforming,
          summary.nonconforming,
          summary.unproven,
          summary.missing.length,
        ),
    worst === undefined || summary.worst === null
      ? m.banner.noPosition
      : m.banner.worst(
          f.againstWith('position', worst.value, worst.tolerance),
          worst.expanded === null ? null : f.lengthWith(worst.expanded),
          summary.worst.station,
          worst.at,
          f.limitWith('position', worst.tolerance),
        ),
    ...(pattern === null ? [] : [m.banner.pattern(m.verdicts[pattern.verdict])]),
  ];
  return { kind: 'notice', tone, title: m.banner[tone], text: sentences.join(' ') };
}

export function summary(context: Context): readonly Block[] {
  const { m, result, width, height } = context;
  const words = m.summary;
  const { missing } = result.summary;
  const few = missing.length <= FEW_MISSING;
  const map = polarMap(
    result.stations,
    missing,
    {
      title: words.map,
      tolerance: ringLabel(context),
      verdicts: m.verdicts,
    },
    Math.min(width * 0.55, height * 0.36),
  );
  return [
    heading(2, words.title),
    {
      kind: 'columns',
      columns: [
        { share: 0.56, blocks: [{ kind: 'figure', drawing: map, caption: words.mapCaption }] },
        {
          share: 0.44,
          blocks: [outcomeTable(context), largestTable(context), ...(few ? missingTable(context) : [])],
        },
      ],
    },
    ...(few ? [] : missingTable(context)),
  ];
}

/** So many missing stations are explained beside the map, more below it. */
const FEW_MISSING = 3;

function missingTable({ m, say, result }: Context): readonly Block[] {
  const { missing } = result.summary;
  if (missing.length === 0) return [];
  return [
    {
      kind: 'table',
      caption: m.summary.reason,
      columns: [
        { header: m.stations.station, align: 'right' },
        { header: m.exclusions.reason, align: 'left', grow: 1 },
      ],
      rows: missing.map(({ station, note, reason }) => ({
        cells: [String(station), say(note, reason)],
      })),
    },
  ];
}

/** The size of the zone where it is the same everywhere, else that the ring is each tolerance. */
function ringLabel(context: Context): string {
  const points = context.result.stations.flatMap(({ position }) => position.checkPoints);
  const sizes = [...new Set(points.map((point: CheckPointResult) => zoneSize(context, point)))];
  return sizes.length === 1 ? (sizes[0] as string) : context.f.percent(1, 0);
}

function outcomeTable(context: Context): Block {
  const { m, result } = context;
  const { summary: counts, stations } = result;
  const of = (verdict: 'conforming' | 'nonconforming' | 'unproven') =>
    stations.filter((station) => station.verdict === verdict).map(({ station }) => station);
  const row = (verdict: keyof typeof m.verdicts, list: readonly number[]): TableRow => ({
    cells: [
      verdictText(context, verdict),
      String(list.length),
      verdict === 'conforming' || list.length === 0 ? '' : numberRanges(list),
    ],
  });
  return {
    kind: 'table',
    caption: m.summary.outcome,
    columns: [
      { header: m.summary.stations, align: 'left' },
      { header: m.summary.count, align: 'right' },
      { header: m.summary.list, align: 'left', grow: 1 },
    ],
    rows: [
      row('conforming', of('conforming')),
      row('nonconforming', of('nonconforming')),
      row('unproven', of('unproven')),
      row(
        'missing',
        counts.missing.map(({ station }) => station),
      ),
      { cells: [m.summary.total, String(counts.stations), ''], apart: true },
    ],
  };
}

/** The largest position and the largest amount of each error, with its station. */
function largestTable({ m, f, result }: Context): Block {
  const { stations } = result;
  const rows = ERRORS.flatMap((name): TableRow[] => {
    const seen = stations.filter(({ error }) => error[name] !== null);
    const first = seen[0];
    if (first === undefined) return [];
    const largest = seen.reduce(
      (most, station) =>
        Math.abs(station.error[name] ?? 0) > Math.abs(most.error[name] ?? 0) ? station : most,
      first,
    );
    return [
      { cells: [capital(m.errors[name]), f.errorWith(name, largest.error[name]), String(largest.station)] },
    ];
  });
  const { worst } = result.summary;
  return {
    kind: 'table',
    caption: m.summary.facts,
    columns: [
      { header: m.station.quantity, align: 'left', grow: 1 },
      { header: capital(m.summary.largest), align: 'right' },
      { header: m.summary.at, align: 'right' },
    ],
    rows: [
      ...(worst === null
        ? []
        : [{ cells: [m.station.position, f.lengthWith(worst.position), String(worst.station)] }]),
      ...rows,
    ],
  };
}

/** `1–4, 7, 9–12`. */
export function numberRanges(numbers: readonly number[]): string {
  const ranges: [number, number][] = [];
  for (const number of [...numbers].sort((a, b) => a - b)) {
    const last = ranges.at(-1);
    if (last !== undefined && number === last[1] + 1) last[1] = number;
    else ranges.push([number, number]);
  }
  return ranges
    .map(([from, to]) => (from === to ? String(from) : to === from + 1 ? `${from}, ${to}` : `${from}–${to}`))
    .join(', ');
}
