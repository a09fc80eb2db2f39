/** One page for each station that does not conform or is not proven. */
import { DISC_ERRORS, ERRORS } from '../../../shared-math/pose/error-names.ts';
import type { StationResult } from '../../../shared-math/result.ts';
import { type Block, heading, note, paragraph, type TableBlock } from '../document.ts';
import { type ErrorBar, errorBars } from '../figures/error-bars.ts';
import { zonePicture } from '../figures/zone-picture.ts';
import { settlementIn } from '../messages/recorded.ts';
import { angleText, type Context, capital, quiet, verdictText, zoneSize } from './context.ts';
import { faultsOf } from './stations-section.ts';

export function stationPages(context: Context): readonly Block[] {
  const { m, result } = context;
  const shown = result.stations.filter(({ verdict }) => verdict !== 'conforming');
  if (shown.length === 0)
    return [
      heading(2, m.station.group),
      note(result.summary.missing.length > 0 ? m.station.missingOnly : m.station.none),
    ];
  const turn = { kind: 'pageBreak', always: true } as const;
  return [
    ...shown.flatMap((station, index) => [
      turn,
      ...(index === 0 ? [heading(2, m.station.group)] : []),
      ...stationPage(context, station),
    ]),
    turn,
  ];
}

/** So many statements have room beside the zone picture. */
const FEW_SETTLES = 2;

function stationPage(context: Context, station: StationResult): readonly Block[] {
  const { m, f, result, width, height } = context;
  const words = m.station;
  const { position } = station;
  const size = Math.min(width * 0.45, height * 0.3);
  const coverage = result.decision.coverage;
  const settles = [{ ...position, name: 'position' as const }, ...station.limits].flatMap(
    ({ name, settle, settlement }) => {
      if (settle === null) return [];
      const quantity = name === 'position' ? words.position : capital(m.errors[name]);
      return [m.colon(quantity, settlement ? settlementIn(m, f, name, settlement) : settle)];
    },
  );
  const settleBlocks: readonly Block[] =
    settles.length === 0
      ? []
      : [paragraph([{ text: words.settle, bold: true }]), ...settles.map((settle) => note(settle))];
  return [
    heading(3, words.title(station.station, m.verdicts[station.verdict])),
    {
      kind: 'columns',
      columns: [
        {
          share: 0.48,
          blocks: [
            {
              kind: 'figure',
              drawing: zonePicture(
                position.checkPoints,
                coverage,
                {
                  title: m.colon(words.title(station.station, m.verdicts[station.verdict]), words.zone),
                  oscillation: m.errors.oscillation,
                  lateral: m.errors.lateral,
                  upset: m.errors.upset,
                  size: (point) => zoneSize(context, point),
                  length: (value) => f.lengthWith(value),
                },
                size,
              ),
              caption: words.zoneCaption(f.percent(coverage, 0)),
            },
          ],
        },
        {
          share: 0.52,
          blocks: [
            {
              kind: 'keyValues',
              columns: 1,
              pairs: [
                { key: words.angle, value: `${angleText(context, station.angle)}°` },
                { key: words.position, value: positionText(context, station) },
                { key: words.reasons, value: faultsOf(context, station).join(', ') },
              ],
            },
            {
              kind: 'figure',
              drawing: bars(context, station, width * 0.49),
              caption: `${words.errors}. ${words.errorsCaption}`,
            },
            ...(settles.length <= FEW_SETTLES ? settleBlocks : []),
          ],
        },
      ],
    },
    checkPointTable(context, station),
    limitTable(context, station),
    {
      kind: 'columns',
      columns: [
        { share: 0.4, blocks: [discValues(context, station)] },
        { share: 0.6, blocks: [featureTable(context, station)] },
      ],
    },
    ...(settles.length <= FEW_SETTLES ? [] : settleBlocks),
    ...station.unobservable.map(({ freedom }) => note(words.unobserved(capital(m.errors[freedom])))),
  ];
}

function positionText({ f }: Context, { position }: StationResult): string {
  const { value, expanded, probability, at, tolerance } = position;
  const u = expanded === null ? '' : `, U\u00a0${f.lengthWith(expanded)}`;
  const p = probability === null ? '' : `, P\u00a0${f.probability(probability)}`;
  return `${f.againstWith('position', value, tolerance)}${u}${p} (${at})`;
}

function bars({ m, f }: Context, station: StationResult, width: number) {
  const bar = (name: (typeof ERRORS)[number]): ErrorBar => {
    const limit = station.limits.find((entry) => entry.name === name);
    const value = station.error[name];
    return {
      name: m.errorsShort[name],
      text: f.againstWith(name, value, limit?.limit ?? null),
      value,
      expanded: station.uncertainty?.expanded[name] ?? null,
      limit: limit?.limit ?? null,
      tone: limit?.verdict ?? 'conforming',
    };
  };
  return errorBars([ERRORS.slice(0, 3).map(bar), ERRORS.slice(3).map(bar)], m.station.errors, width);
}

function checkPointTable(context: Context, { position }: StationResult): TableBlock {
  const { m, f } = context;
  return {
    kind: 'table',
    caption: m.station.checkPoints,
    columns: [
      { header: m.plan.checkPoint, align: 'left', grow: 1 },
      { header: m.station.displacement, unit: f.lengthSign, align: 'left' },
      { header: m.plan.tolerance, align: 'right' },
      { header: m.stations.position, unit: f.lengthSign, align: 'right' },
      { header: 'U', unit: f.lengthSign, align: 'right' },
      { header: 'P', align: 'right' },
      { header: m.stations.verdict, align: 'left' },
    ],
    rows: position.checkPoints.map((point) => ({
      ...(point.verdict === 'conforming' ? {} : { tone: point.verdict }),
      cells: [
        point.name,
        point.displacement === null ? '–' : point.displacement.map((value) => f.length(value)).join(' / '),
        zoneSize(context, point),
        f.against('position', point.value, point.tolerance),
        f.length(point.expanded),
        f.probability(point.probability),
        verdictText(context, point.verdict),
      ],
    })),
  };
}

/** All errors: those with a limit first, the others marked as having none. */
function limitTable(context: Context, station: StationResult): TableBlock {
  const { m, f } = context;
  const limited = new Set(station.limits.map(({ name }) => name));
  const rows = [
    ...station.limits.map(({ name, value, limit, expanded, probability, verdict }) => ({
      ...(verdict === 'conforming' ? {} : { tone: verdict }),
      cells: [
        capital(m.errors[name]),
        f.againstWith(name, value, limit),
        `±${f.limitWith(name, limit)}`,
        f.errorWith(name, expanded),
        f.probability(probability),
        verdictText(context, verdict),
      ],
    })),
    ...ERRORS.filter((name) => !limited.has(name)).map((name) => ({
      cells: [
        capital(m.errors[name]),
        f.errorWith(name, station.error[name]),
        quiet(m.station.noLimit),
        f.errorWith(name, station.uncertainty?.expanded[name] ?? null),
        '',
        '',
      ],
    })),
  ];
  return {
    kind: 'table',
    caption: m.station.limits,
    columns: [
      { header: m.station.quantity, align: 'left', grow: 1 },
      { header: m.station.value, align: 'right' },
      { header: m.station.limit, align: 'right' },
      { header: 'U', align: 'right' },
      { header: 'P', align: 'right' },
      { header: m.stations.verdict, align: 'left' },
    ],
    rows,
  };
}

function discValues({ m, f }: Context, station: StationResult): TableBlock {
  return {
    kind: 'table',
    caption: m.station.disc,
    columns: [
      { header: m.station.quantity, align: 'left', grow: 1 },
      { header: m.station.value, align: 'right' },
      { header: 'U', align: 'right' },
    ],
    rows: DISC_ERRORS.map((name) => ({
      cells: [
        capital(m.errors[name]),
        f.errorWith(name, station.disc[name]),
        f.errorWith(name, station.uncertainty?.expanded[name] ?? null),
      ],
    })),
  };
}

function featureTable({ m, f }: Context, { features }: StationResult): TableBlock {
  return {
    kind: 'table',
    caption: m.station.features,
    columns: [
      { header: m.plan.datum, align: 'left' },
      { header: m.plan.feature, align: 'left', grow: 1 },
      { header: m.plan.type, align: 'left', grow: 1 },
      { header: m.plan.points, align: 'right' },
      { header: m.plan.rms, unit: f.lengthSign, align: 'right' },
      { header: m.plan.form, unit: f.lengthSign, align: 'right' },
    ],
    rows: features.map(({ label, feature, type, points, rms, form }) => ({
      cells: [label, feature, m.types[type], String(points), f.length(rms), f.length(form)],
    })),
  };
}
