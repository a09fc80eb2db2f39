/**
 * The chapters as Markdown. Nothing that changes from run to run or machine to machine is printed: no times, and differences
 * only as steps of their bound, so that rounding does not show.
 */
import { type Chapter, type Check, shareOfBound } from './check.ts';

/** A difference is shown as at most the first of these shares of its bound that holds. */
const STEPS = [0.01, 0.1, 0.5, 1];

const HEADING = `# Validation

Every check of this document was computed by the product's own functions when the document was written, from inputs stored in
\`test/validation/data\`; \`npm run validate\` writes it again, and \`test/validation/document/document.test.ts\` fails where a check
misses its bound or this file is no longer what the code computes.

- **Difference**: of ours from the reference, as at most 1 %, 10 %, 50 % or 100 % of the bound; the exact amount is mostly rounding.
- **Bound**: what is demanded. For fits, unless a chapter says otherwise, the larger of 1e-9 mm (1e-11 rad) and 20·ε·κ·max|coordinate|, κ the
  condition number that the fit reports, ε = 2.2e-16. For printed values, half a unit of the last printed digit.
- *Value from memory*: quoted without the source at hand, then recomputed from the stated inputs. *Regression value*: points and
  values made by us with another program; no publication stands behind them.
- Rows that name a number of values show the worst of them.
`;

export function renderDocument(chapters: readonly Chapter[]): string {
  const checks = chapters.flatMap((c) => c.checks);
  const failed = checks.filter((c) => !(shareOfBound(c) <= 1)).length;
  const summary = `**${checks.length} checks, ${failed === 0 ? 'all within their bounds' : `${failed} beyond their bounds`}.**\n`;
  const contents = chapters.map(
    (c, i) =>
      `| ${i + 1} | ${c.group} | ${c.checks.length} | ${stepOf(Math.max(...c.checks.map(shareOfBound)))} |`,
  );
  const overview = ['| | Chapter | Checks | Worst share of a bound |', '|--:|---|--:|--:|', ...contents].join(
    '\n',
  );
  return `${[HEADING, summary, `${overview}\n`, ...chapters.map(renderChapter)].join('\n')}`;
}

function renderChapter({ group, text, checks, appendix }: Chapter, index: number): string {
  const sources = [...new Set(checks.map((c) => c.source))];
  const rows = grouped(checks, (c) => `${c.name} ${c.source}`).map((same) => {
    const source = sources.length > 1 ? ` ${sources.indexOf(same[0]!.source) + 1} |` : '';
    return `| ${same[0]!.name} |${source} ${(same.length === 1 ? oneValue(same[0]!) : manyValues(same)).join(' | ')} |`;
  });
  const many = sources.length > 1;
  return [
    `## ${index + 1}. ${group}\n`,
    `${text.trim()}\n`,
    `| Check |${many ? ' Source |' : ''} Reference | Ours | Difference | Bound |`,
    `|---|${many ? '--:|' : ''}--:|--:|--:|--:|`,
    ...rows,
    '',
    many ? sources.map((s, i) => `${i + 1}. ${s}`).join('\n') : `Source: ${sources[0]}`,
    '',
    ...(appendix ? [`${appendix.trim()}\n`] : []),
  ].join('\n');
}

/** Lists of the checks with the same key, in order of first appearance. */
function grouped(checks: readonly Check[], key: (check: Check) => string): readonly Check[][] {
  const groups = new Map<string, Check[]>();
  for (const check of checks) {
    const found = groups.get(key(check));
    if (found) found.push(check);
    else groups.set(key(check), [check]);
  }
  return [...groups.values()];
}

function oneValue(check: Check): string[] {
  const { reference, ours, bound, limit, unit } = check;
  const share = shareOfBound(check);
  if (limit !== undefined) {
    const kept = share === 0 ? '' : '**beyond**';
    return [`at ${limit} ${reference}`, String(Number(ours.toPrecision(4))), kept, 'limit'];
  }
  const difference =
    share === 0 || bound === 0 ? amount(Math.abs(ours - reference), unit) : differenceOf(share, bound, unit);
  return [
    amountTo(reference, bound, unit),
    amountTo(ours, bound, unit),
    difference,
    bound === 0 ? 'exact' : amount(bound, unit),
  ];
}

function differenceOf(share: number, bound: number, unit: string): string {
  const step = STEPS.find((s) => share <= s);
  return step === undefined
    ? `**beyond**: ${share.toPrecision(2)} × bound`
    : `≤ ${amount(step * bound, unit)}`;
}

/** Bounds that differ from value to value are shown as a range. */
function manyValues(checks: readonly Check[]): string[] {
  const bounds = checks.map((c) => c.bound);
  const [low, high] = [Math.min(...bounds), Math.max(...bounds)];
  const units = [...new Set(checks.map((c) => c.unit))].filter((u) => u !== '').join(', ');
  const range =
    high === 0
      ? 'exact'
      : low === high
        ? amount(low, units)
        : `${short(low)} … ${short(high)}${units && ` ${units}`}`;
  const share = Math.max(...checks.map(shareOfBound));
  return [`${checks.length} values`, '', share === 0 ? '0' : `${stepOf(share)} of its bound`, range];
}

function stepOf(share: number): string {
  const step = STEPS.find((s) => share <= s);
  if (share === 0) return '0';
  return step === undefined ? `**${share.toPrecision(2)} ×**` : `≤ ${100 * step} %`;
}

function amount(value: number, unit: string): string {
  return `${short(value)}${unit && ` ${unit}`}`;
}

/** Two significant digits. */
function short(value: number): string {
  if (value === 0) return '0';
  const rounded = Number(value.toPrecision(2));
  return rounded >= 1e-3 && rounded < 1e5 ? String(rounded) : rounded.toExponential().replace('e+', 'e');
}

/** With one digit more than the bound resolves, at most 13 in all: further digits are rounding. */
function amountTo(value: number, bound: number, unit: string): string {
  const digits =
    bound === 0 || value === 0
      ? 13
      : Math.floor(Math.log10(Math.abs(value))) - Math.floor(Math.log10(bound)) + 2;
  const shown = Number(value.toPrecision(Math.min(13, Math.max(1, digits))));
  const text = Math.abs(shown) < bound / 100 ? '0' : String(shown).replace('e+', 'e');
  return `${text}${unit && ` ${unit}`}`;
}
