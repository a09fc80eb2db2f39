/** The decision rule in force, what U and P are, what is stated about the measurement, and where uncertainty comes from. */
import type { UncertaintySource } from '../../../shared-math/result.ts';
import { normalCdf, normalQuantile } from '../../../shared-math/uncertainty/distributions.ts';
import { type Block, heading, note, paragraph } from '../document.ts';
import type { Context } from './context.ts';

const SOURCES: readonly UncertaintySource[] = ['probing', 'form', 'frame', 'scale', 'temperature'];

export function decisionSection(context: Context): readonly Block[] {
  const { m, f, result } = context;
  const words = m.decision;
  const { coverage } = result.decision;
  const known = result.stations.some(({ uncertainty }) => uncertainty !== null);
  return [
    heading(2, words.title),
    paragraph(`${ruleText(context)} ${words.station}`),
    paragraph(known ? words.coverage(f.percent(coverage, decimalsOf(coverage))) : words.none),
    heading(3, words.stated),
    statedTable(context),
    ...(known ? sourceTable(context) : []),
  ];
}

function ruleText({ m, f, result }: Context): string {
  const { rule, probability, factor, coverage } = result.decision;
  if (rule === 'simple') return m.decision.simple;
  if (probability !== null)
    return m.decision.guarded(
      f.percent(probability, decimalsOf(probability)),
      f.percent(1 - probability, decimalsOf(probability)),
    );
  const guard = factor ?? 0;
  // The same figures as in the result's own sentence (`ruleRisk`).
  return m.decision.factor(
    f.significant(guard, 4),
    f.percent(normalCdf(-guard * normalQuantile((1 + coverage) / 2))),
    f.percent(normalCdf(-guard * normalQuantile(coverage))),
  );
}

/** 0.95 has no decimals as per cent, 0.9973 two. */
function decimalsOf(share: number): number {
  return Math.min(4, (String(Number((100 * share).toFixed(4))).split('.')[1] ?? '').length);
}

function statedTable({ m, f, plan }: Context): Block {
  const words = m.decision;
  const { uncertainty, temperature } = plan.details;
  return {
    kind: 'keyValues',
    columns: 1,
    pairs: [
      {
        key: words.probing,
        value:
          uncertainty.probing === null ? words.probingNone : f.limitWith('position', uncertainty.probing),
      },
      {
        key: words.scale,
        value:
          uncertainty.scale === 0 ? words.scaleNone : perMetre(f.significant(1e6 * uncertainty.scale, 4)),
      },
      ...(uncertainty.formCorrelation === 0
        ? []
        : [{ key: words.form, value: f.significant(uncertainty.formCorrelation, 4) }]),
      { key: words.temperature, value: temperatureText() },
    ],
  };

  function temperatureText(): string {
    if (temperature === null) return words.noTemperature;
    const expansion = perMetre(f.significant(1e6 * (temperature.expansion ?? 0), 4), 'K');
    const stands = temperature.applied
      ? words.applied
      : temperature.part === null
        ? words.scaledByColumn(expansion)
        : words.scaled(`${f.significant(temperature.part, 4)}\u00a0°C`, expansion);
    const doubt = words.temperatureUncertainty(
      `${f.significant(temperature.uPart, 3)}\u00a0K`,
      perMetre(f.significant(1e6 * temperature.uExpansion, 3), 'K'),
    );
    return stands + m.semicolon + doubt;
  }
}

/** Parts in a million as µm on a metre, and per kelvin where asked. */
function perMetre(millionths: string, per?: 'K'): string {
  return `${millionths}\u00a0µm/${per === undefined ? 'm' : '(m·K)'}`;
}

/** Mean over the stations of each source's share in the variance of the deciding displacement. */
function sourceTable({ m, f, result }: Context): Block[] {
  const words = m.decision;
  const rows = SOURCES.flatMap((source) => {
    const shares = result.stations.flatMap(({ uncertainty }) =>
      (uncertainty?.sources ?? []).filter((entry) => entry.source === source).map(({ share }) => share),
    );
    if (shares.length === 0) return [];
    const mean = shares.reduce((total, share) => total + share, 0) / shares.length;
    return [
      {
        cells: [
          words.sourceNames[source],
          ...[Math.min(...shares), mean, Math.max(...shares)].map((share) => f.percent(share)),
        ],
      },
    ];
  });
  return [
    {
      kind: 'table',
      caption: words.sources,
      columns: [
        { header: words.source, align: 'left', grow: 1 },
        { header: words.lowest, align: 'right' },
        { header: words.mean, align: 'right' },
        { header: words.highest, align: 'right' },
      ],
      rows,
    },
    note(words.shareCaption),
  ];
}
