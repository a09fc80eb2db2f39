/** Every row that was left out, every flagged point, every warning: counted, and listed up to a stated number. */
import type { ExcludedPoint } from '../../../shared-math/result.ts';
import { type Block, heading, note, paragraph } from '../document.ts';
import type { Context } from './context.ts';

/** Lines listed of each reason. */
const MOST_LINES = 40;
/** Different reasons listed; rows with a fault of their own each have one. */
const MOST_REASONS = 40;
const MOST_SCREENED = 60;

export function exclusionsSection(context: Context): readonly Block[] {
  const { m, say, result } = context;
  const words = m.exclusions;
  const { rows, used, excluded, reasons } = result.source.points;
  const { warnings, notes } = result;
  const byHand = reasons?.some(({ note: { code } }) => code === 'by-hand') ?? false;
  const recorded = notes === undefined || reasons === undefined;
  return [
    heading(2, words.title),
    paragraph(
      `${words.counts(String(rows), String(used), String(excluded.length))}${excluded.length === 0 ? ` ${words.none}` : ''}`,
    ),
    ...excludedTable(context, excluded),
    ...(byHand ? [note(words.byHand)] : []),
    ...screenedTable(context),
    heading(3, words.warnings),
    ...(warnings.length === 0
      ? [note(words.noWarnings)]
      : [{ kind: 'list', items: warnings.map((warning, i) => say(notes?.[i], warning)) } satisfies Block]),
    ...(recorded && words.verbatim !== '' && warnings.length + excluded.length > 0
      ? [note(words.verbatim)]
      : []),
  ];
}

function excludedTable({ m, say, result }: Context, excluded: readonly ExcludedPoint[]): readonly Block[] {
  if (excluded.length === 0) return [];
  const words = m.exclusions;
  const notes = new Map(result.source.points.reasons?.map((entry) => [entry.reason, entry.note]));
  const groups = new Map<string, number[]>();
  for (const { line, reason } of excluded) groups.set(reason, [...(groups.get(reason) ?? []), line]);
  const sorted = [...groups].sort((a, b) => b[1].length - a[1].length);
  const rest = sorted.slice(MOST_REASONS);
  const rows = sorted.slice(0, MOST_REASONS).map(([reason, lines]) => ({
    cells: [say(notes.get(reason), reason), String(lines.length), linesText(words.more, lines)],
  }));
  if (rest.length > 0) {
    const others = rest.reduce((total, [, lines]) => total + lines.length, 0);
    rows.push({ cells: [words.more(rest.length), String(others), ''] });
  }
  return [
    {
      kind: 'table',
      caption: words.byReason,
      columns: [
        { header: words.reason, align: 'left', grow: 1 },
        { header: words.rows, align: 'right' },
        { header: words.lines, align: 'left', grow: 1 },
      ],
      rows,
    },
    note(words.listed(MOST_LINES)),
  ];
}

function linesText(more: (count: number) => string, lines: readonly number[]): string {
  const shown = lines.slice(0, MOST_LINES).join(', ');
  return lines.length > MOST_LINES ? `${shown} ${more(lines.length - MOST_LINES)}` : shown;
}

function screenedTable({ m, f, result }: Context): readonly Block[] {
  const { screened } = result;
  if (screened.length === 0) return [];
  const words = m.exclusions;
  const rest = screened.length - MOST_SCREENED;
  return [
    {
      kind: 'table',
      caption: words.screened,
      columns: [
        { header: m.stations.station, align: 'right' },
        { header: m.plan.feature, align: 'left', grow: 1 },
        { header: words.point, align: 'right' },
        { header: words.distance, unit: f.lengthSign, align: 'right' },
        { header: words.treatment, align: 'left' },
      ],
      rows: screened.slice(0, MOST_SCREENED).map(({ station, feature, point, distance, excluded }) => ({
        cells: [
          station === null ? words.hub : String(station),
          feature,
          String(point),
          f.length(distance),
          excluded ? words.leftOut : words.kept,
        ],
      })),
    },
    note(
      `${words.screenedNote(screened.length, screened.filter(({ excluded }) => excluded).length)}${rest > 0 ? ` ${words.moreScreened(rest)}` : ''}`,
    ),
  ];
}
