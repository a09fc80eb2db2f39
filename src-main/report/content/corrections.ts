/** Corrections for the next disc: what to set, and what this disc would then have shown. */
import { conformingAfter } from '../../../shared-math/diagnosis/corrections/conforming-after.ts';
import type { Correction, Setting } from '../../../shared-math/diagnosis/corrections/correction.ts';
import { type Objection, objectionsTo } from '../../../shared-math/diagnosis/corrections/objections.ts';
import type { Diagnosis } from '../../../shared-math/diagnosis/findings.ts';
import { type Block, type Inline, note, type TableRow } from '../document.ts';
import { nothing } from '../format/numbers.ts';
import { type Context, capital } from './context.ts';
import { numberRanges } from './summary.ts';

/** What each correction sets, and what it would bring; nothing without corrections. */
export function correctionTable(context: Context, { corrections }: Diagnosis): readonly Block[] {
  const { m, f, plan, result } = context;
  const words = m.causes;
  if (corrections.length === 0) return [];
  return [
    {
      kind: 'table',
      caption: words.corrections,
      columns: [
        { header: words.correction, align: 'left', grow: 0.3 },
        { header: words.settings, align: 'left', grow: 1 },
        { header: words.before, unit: f.lengthSign, align: 'right', grow: 0.1 },
        { header: words.after, unit: f.lengthSign, align: 'right', grow: 0.1 },
        { header: words.conforming, align: 'right', grow: 0.1 },
      ],
      rows: corrections.map((correction): TableRow => {
        const objections = objectionsTo(correction, corrections, result.stations);
        const conforming = conformingAfter(correction, result.stations);
        return {
          ...(objections.length === 0 ? {} : { tone: 'caution' }),
          cells: [
            capital(words.kinds[correction.kind]),
            settingsText(context, correction, objections),
            f.length(correction.before),
            f.length(correction.after),
            words.conformingCount(
              `${conforming}\u00a0/\u00a0${plan.stations.length}`,
              result.summary.conforming,
            ),
          ],
        };
      }),
    },
    note(words.correctionsNote),
  ];
}

/** Settings of single stations stand in a table of their own. */
function settingsText(context: Context, { settings }: Correction, objections: readonly Objection[]): Inline {
  const { m } = context;
  const single = settings.filter(({ kind }) => kind !== 'index');
  const stations = settings.filter(({ kind, change }) => kind === 'index' && change !== 0);
  const parts = [
    ...single.filter(({ change }) => change !== 0).map((setting) => settingText(context, setting)),
    ...(stations.length === 0
      ? []
      : [m.causes.indexStations(numberRanges(stations.map(({ of }) => Number(of)).filter(Number.isFinite)))]),
  ];
  const changes = capital(parts.join(', '));
  if (objections.length === 0) return changes;
  const { notRecommended, objections: reasons } = m.causes;
  const why = objections.map((objection) => reasons[objection]).join(m.semicolon);
  return [{ text: `${m.colon(notRecommended, why)}.`, bold: true }, ` ${changes}`];
}

function settingText({ m, f }: Context, { freedom, of, change }: Setting): string {
  const { freedoms } = m.causes;
  const hub = Object.hasOwn(freedoms, freedom);
  const name =
    freedom === 'index'
      ? m.causes.index
      : hub
        ? freedoms[freedom as keyof typeof freedoms]
        : m.errors[freedom as keyof typeof m.errors];
  const angular = freedom === 'index' || freedom.startsWith('rot');
  return m.causes.setting(name, of, angular ? f.angleWith(change) : f.lengthWith(change));
}

/** The angle by which each station would be indexed differently, and the deviation that was found there. */
export function indexTable({ m, f }: Context, { corrections, index, coverage }: Diagnosis): readonly Block[] {
  const words = m.causes;
  const changes = corrections
    .map(({ kind, settings }) => ({
      kind,
      byStation: new Map(
        settings
          .filter(({ kind: of, freedom }) => of === 'index' && freedom === 'index')
          .map(({ of, change }) => [Number(of), change]),
      ),
    }))
    .filter(({ byStation }) => [...byStation.values()].some((change) => change !== 0));
  if (changes.length === 0) return [];
  const stations = [
    ...new Set([
      ...index.stations.map(({ station }) => station),
      ...changes.flatMap(({ byStation }) => [...byStation.keys()]),
    ]),
  ].sort((a, b) => a - b);
  return [
    {
      kind: 'table',
      caption: words.indexTable,
      columns: [
        { header: m.stations.station, align: 'right' },
        { header: words.deviation, align: 'right', grow: 1 },
        { header: words.interval, align: 'right', grow: 1 },
        ...changes.map(({ kind }) => ({
          header: words.change(words.kinds[kind]),
          align: 'right' as const,
          grow: 1,
        })),
      ],
      rows: stations.map((station) => {
        const deviation = index.stations.find((entry) => entry.station === station)?.deviation;
        const found = deviation === undefined ? null : f.estimated(deviation, 'angle');
        return {
          cells: [
            String(station),
            found?.value ?? nothing,
            found?.interval ?? nothing,
            ...changes.map(({ byStation }) => f.angleWith(byStation.get(station) ?? null)),
          ],
        };
      }),
    },
    note(words.indexNote(f.percent(coverage, 0))),
  ];
}
