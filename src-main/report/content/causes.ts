/** What the diagnosis finds, as engineering information apart from the statement of conformity. Statements are made from its numbers. */
import type { Component, Diagnosis, Estimate, Parameter } from '../../../shared-math/diagnosis/findings.ts';
import { type Block, heading, note, paragraph, type TableRow } from '../document.ts';
import { type Context, capital } from './context.ts';
import { correctionTable, indexTable } from './corrections.ts';

/** With more parameters than this only the largest components show theirs. */
const MOST_PARAMETERS = 40;

/** Absent where nothing was diagnosed. What-if calculations are no findings and never come here. */
export function causesSection(context: Context): readonly Block[] {
  const { m, result } = context;
  const { diagnosis } = result;
  if (diagnosis === null) return [];
  const words = m.causes;
  return [
    { kind: 'pageBreak' },
    heading(2, words.title),
    { kind: 'notice', tone: 'quiet', title: words.banner, text: words.bannerText },
    paragraph([{ text: leadingText(context, diagnosis), bold: true }]),
    componentTable(context, diagnosis),
    ...statements(context, diagnosis),
    ...parameterTable(context, diagnosis),
    ...budgetTable(context, diagnosis),
    ...correctionTable(context, diagnosis),
    ...indexTable(context, diagnosis),
    ...toolTable(context),
  ];
}

function leadingText({ m, f }: Context, { leading, components }: Diagnosis): string {
  if (leading === null) return m.causes.noLeading;
  const name = m.causes.components[leading];
  const { size = null, consumed = null } = components.find((component) => component.name === leading) ?? {};
  // `size` is twice the displacement, which is a position only in a spherical zone.
  return size === null
    ? m.causes.leadingNoSize(name)
    : m.causes.leading(
        name,
        f.lengthWith(size.value / 2),
        f.length(Math.max(0, size.low / 2)),
        f.lengthWith(size.high / 2),
        consumed === null ? null : f.lengthWith(consumed),
      );
}

function componentTable({ m, f }: Context, { components, leading }: Diagnosis): Block {
  const words = m.causes;
  const finding = ({ name, significant, notExamined }: Component): string => {
    if (notExamined !== null) return words.notExamined;
    if (name === 'scatter') return '';
    return significant ? words.significant : words.insignificant;
  };
  const row = (component: Component): TableRow => {
    const { name, size, consumed, at, share, test } = component;
    return {
      ...(name === leading ? { apart: true } : {}),
      cells: [
        capital(words.components[name]),
        size === null ? '–' : f.length(size.value / 2),
        size === null ? '–' : `${f.length(size.low / 2)}\u00a0… ${f.length(size.high / 2)}`,
        f.length(consumed),
        at === null ? '' : `${at.station}, ${at.checkPoint}`,
        f.percent(share),
        test === null ? '–' : f.probability(test.adjusted),
        finding(component),
      ],
    };
  };
  return {
    kind: 'table',
    caption: words.table,
    columns: [
      { header: words.component, align: 'left', grow: 1 },
      { header: words.size, unit: f.lengthSign, align: 'right' },
      { header: words.interval, unit: f.lengthSign, align: 'right' },
      { header: words.position, unit: f.lengthSign, align: 'right' },
      { header: words.at, align: 'left' },
      { header: words.share, align: 'right' },
      { header: words.probability, align: 'right' },
      { header: words.finding, align: 'left' },
    ],
    rows: components.map(row),
  };
}

function interval(length: (value: number) => string, estimate: Estimate | null): string {
  return estimate === null ? '–' : `${length(estimate.low)}\u00a0… ${length(estimate.high)}`;
}

function statements(context: Context, diagnosis: Diagnosis): readonly Block[] {
  const { m, f, say } = context;
  const words = m.causes;
  const items = [
    ...notExamined(context, diagnosis),
    ...diagnosis.confounded.map(({ between }) =>
      words.confounded(between.map((name) => words.components[name])),
    ),
    ...(diagnosis.outliers.length === 0
      ? []
      : [words.outliers(diagnosis.outliers.map(({ station }) => station))]),
  ];
  return [
    note(words.tableNote(f.percent(diagnosis.coverage, 0), f.percent(diagnosis.falseDiscoveryRate, 0))),
    ...diagnosis.warnings.map((warning, i) => note(say(diagnosis.notes?.[i], warning))),
    ...(items.length === 0 ? [] : [{ kind: 'list', items } satisfies Block]),
  ];
}

/** A line for each reason, with the components that were not examined for it. */
function notExamined({ m, say }: Context, { components }: Diagnosis): readonly string[] {
  const byReason = new Map<string, string[]>();
  for (const { name, notExamined: recorded, notExaminedNote } of components) {
    if (recorded === null) continue;
    const reason = say(notExaminedNote, recorded);
    byReason.set(reason, [...(byReason.get(reason) ?? []), m.causes.components[name]]);
  }
  return [...byReason].map(([reason, names]) => m.causes.notExaminedWhy(names, reason));
}

function parameterTable(context: Context, { components, harmonics }: Diagnosis): readonly Block[] {
  const { m } = context;
  const words = m.causes;
  /** Harmonics that scatter explains are left to the result document. */
  const stands = ({ of }: Parameter): boolean => {
    const harmonic = harmonics.find(({ channel, order }) => of === `${channel} ${order}`);
    return harmonic === undefined || harmonic.significant;
  };
  const rows = components
    .filter(({ significant }) => significant)
    .flatMap(({ name, parameters }) =>
      parameters.filter(stands).map((parameter) => ({
        cells: [
          capital(words.components[name]),
          parameterName(context, parameter),
          ownerText(context, parameter.of),
          ...parameterValue(context, parameter),
        ],
      })),
    )
    .slice(0, MOST_PARAMETERS);
  if (rows.length === 0) return [];
  return [
    {
      kind: 'table',
      caption: words.parameters,
      columns: [
        { header: words.component, align: 'left', grow: 1 },
        { header: words.parameter, align: 'left', grow: 1 },
        { header: words.of, align: 'left' },
        { header: words.value, align: 'right' },
        { header: words.interval, align: 'right' },
      ],
      rows,
    },
  ];
}

/** A tool or a station as it is; a harmonic in words. */
function ownerText({ m }: Context, of: string | null): string {
  const [, channel = '', order = ''] = /^([a-z]+) (\d+)$/.exec(of ?? '') ?? [];
  if (channel === 'index') return m.causes.harmonic(m.causes.index, order);
  if (Object.hasOwn(m.errors, channel))
    return m.causes.harmonic(m.errors[channel as keyof typeof m.errors], order);
  return of ?? '';
}

/** Keys that the catalogue knows; others keep the result's own words. */
function parameterName({ m }: Context, { key, name }: Parameter): string {
  const { parameterNames } = m.causes;
  // `axial` is both: the shift of all blades, and an error.
  if (Object.hasOwn(parameterNames, key)) return capital(parameterNames[key as keyof typeof parameterNames]);
  return Object.hasOwn(m.errors, key) ? capital(m.errors[key as keyof typeof m.errors]) : name;
}

/** As many decimals as the interval has: the wear of a single weld is small, and so is its uncertainty. */
function parameterValue({ m, f }: Context, parameter: Parameter): readonly [string, string] {
  const { unit } = parameter;
  const kind = unit === 'degree' ? 'degree' : unit.startsWith('mm') ? 'length' : 'angle';
  const { value, interval: ends } = f.estimated(parameter, kind);
  return [unit.endsWith('/weld') ? `${value} ${m.causes.perWeld}` : value, ends];
}

function budgetTable({ m, f }: Context, { budget }: Diagnosis): readonly Block[] {
  const words = m.causes;
  const budgetLine = (name: string, title: string): string =>
    Object.hasOwn(words.budgetLines, name)
      ? capital(words.budgetLines[name as keyof typeof words.budgetLines])
      : Object.hasOwn(words.components, name)
        ? capital(words.components[name as keyof typeof words.components])
        : title;
  if (budget.lines.every(({ allocated }) => allocated === null)) return [];
  return [
    {
      kind: 'table',
      caption: words.budget,
      columns: [
        { header: words.line, align: 'left', grow: 1 },
        { header: words.allocated, unit: f.lengthSign, align: 'right' },
        { header: words.found, unit: f.lengthSign, align: 'right' },
        { header: words.interval, unit: f.lengthSign, align: 'right' },
        { header: words.used, align: 'right' },
        { header: words.state, align: 'left' },
      ],
      rows: budget.lines.map(({ name, title, allocated, found, used, state }) => ({
        ...(state === 'over' ? { tone: 'nonconforming' as const } : {}),
        cells: [
          budgetLine(name, title),
          f.length(allocated),
          f.length(found?.value ?? null),
          interval(f.length, found),
          used === null ? '–' : f.percent(used, 0),
          allocated === null ? '–' : words.states[state],
        ],
      })),
    },
  ];
}

/** Which stations each tool welded, in weld order. */
function toolTable({ m, welds }: Context): readonly Block[] {
  if (welds === null || welds.length === 0) return [];
  const tools = new Map<string, number[]>();
  for (const { tool, station } of [...welds].sort((a, b) => a.sequence - b.sequence))
    tools.set(tool, [...(tools.get(tool) ?? []), station]);
  return [
    {
      kind: 'table',
      caption: m.causes.tools,
      columns: [
        { header: m.causes.tool, align: 'left' },
        { header: m.summary.count, align: 'right' },
        { header: m.causes.toolStations, align: 'left', grow: 1 },
      ],
      rows: [...tools].map(([tool, stations]) => ({
        cells: [tool === '' ? '–' : tool, String(stations.length), stations.join(', ')],
      })),
    },
  ];
}
