/** What the head of a point file decides: dialect, columns, label pattern, and the collector for its rows. */
import type { PartDefinition } from '../../shared-math/definition.ts';
import type { PlanImport } from '../plan/plan-schema.ts';
import { refuse } from '../problems.ts';
import type { Encoding } from '../text-encoding.ts';
import { type Columns, findColumns } from './columns.ts';
import { type Dialect, detectDialect } from './dialect.ts';
import { detectPattern } from './label-pattern.ts';
import { PointCollector } from './point-collector.ts';
import { PointTargets } from './point-targets.ts';

export interface ImportContext {
  readonly file: string;
  readonly encoding: Encoding;
  readonly definition: PartDefinition;
  readonly planImport?: PlanImport | undefined;
}

export interface PreparedImport {
  readonly dialect: Dialect;
  readonly columns: Columns;
  readonly targets: PointTargets;
  readonly collector: PointCollector;
}

/** Words for a delimiter. */
export function delimiterName(delimiter: string): string {
  return (
    { ',': 'comma', ';': 'semicolon', '\t': 'tab', '|': 'vertical bar', ' ': 'blanks' }[delimiter] ??
    delimiter
  );
}

export function prepareImport(head: string, context: ImportContext): PreparedImport {
  const { file, definition, planImport } = context;
  const dialect = detectDialect(head, planImport);
  if (dialect.header === null && dialect.sample.length === 0)
    refuse({
      code: 'empty-file',
      file,
      says: 'the point file holds blank lines only',
      expected: 'a header and one row a point',
      remedy: 'export the points again',
    });
  const columns = findColumns({
    file,
    header: dialect.header,
    sample: dialect.sample,
    stated: planImport,
    headerLine: firstLine(head),
    delimiterName: delimiterName(dialect.delimiter),
  });
  if (dialect.sample.length === 0)
    refuse({
      code: 'header-only',
      file,
      line: firstLine(head),
      says: 'the point file has a header and no points',
      expected: 'one row a point after the header',
      remedy: 'export the points again',
    });
  const labelPattern =
    columns.index.label === undefined
      ? (planImport?.label ?? null)
      : patternFor(columns.index.label, dialect, context);
  const targets = new PointTargets(definition, labelPattern);
  const collector = new PointCollector({
    file,
    columns,
    targets,
    decimal: dialect.decimal,
    decimalFromPlan: planImport?.decimal !== undefined,
    titleRows: dialect.titleRows,
    hasHeader: dialect.header !== null,
  });
  return { dialect, columns, targets, collector };
}

function patternFor(
  column: number,
  dialect: Dialect,
  { definition, planImport, file }: ImportContext,
): string | null {
  if (planImport?.label !== undefined) return planImport.label;
  const blade = new Set(definition.bladeDatums.flatMap((datum) => datum.features));
  const labels = [...new Set(dialect.sample.map((row) => row[column] ?? ''))];
  const pattern = detectPattern(labels, blade, definition.stations.length);
  if (pattern !== null) return pattern;
  const hub = new Set(definition.hubDatums.flatMap((datum) => datum.features));
  // A head with hub labels only decides nothing.
  if (labels.every((label) => hub.has(label.trim()))) return null;
  refuse({
    code: 'label-pattern',
    file,
    column: dialect.header?.[column] ?? String(column + 1),
    says: 'no station column was found, and the labels do not hold a station and a feature of the plan',
    value: labels.find((label) => !hub.has(label.trim())) ?? '',
    expected: `a label such as B07_${[...blade][0] ?? 'SEAT'}, or the columns station and feature`,
    remedy: 'give the pattern in import.label of the plan, such as B(?<station>\\d+)_(?<feature>.+)',
  });
}

/** Physical line of the first row that is not blank. */
function firstLine(head: string): number {
  const lead = /^[\s,;|]*/.exec(head)?.[0] ?? '';
  return lead.split(/\r\n|\r|\n/).length;
}
