/** `hubtrue diagnose`: causes and corrections as plain sentences and tables, or the whole document. */
import type { Correction, Setting } from '../../../shared-math/diagnosis/corrections/correction.ts';
import type { BudgetFinding, Component, Diagnosis } from '../../../shared-math/diagnosis/findings.ts';
import type { ReducedDisc } from '../../api.ts';
import { resultJson } from '../../outputs/write-outputs.ts';
import type { ReduceArguments } from './arguments.ts';
import type { Console } from './console.ts';
import { angleUnits, inUnit, lengthUnits } from './display-units.ts';
import { runAndReport } from './reduce-command.ts';
import { summaryLine } from './station-table.ts';

/** Diagnoses and reports; returns the exit status, as `reduce` does. */
export function diagnoseCommand(
  args: ReduceArguments,
  console: Console,
  signal: AbortSignal,
): Promise<number> {
  return runAndReport(args, console, signal, report);
}

function report(args: ReduceArguments, disc: ReducedDisc, console: Console): void {
  const { result } = disc;
  console.clearProgress();
  console.error(`${result.source.points.name}: ${disc.import.sentence}`);
  if (args.json) console.output(resultJson(result));
  else {
    if (disc.plan.title !== '') console.output(`${disc.plan.title}\n\n`);
    console.output(`${summaryLine(result, args.length)}\n`);
    if (result.diagnosis !== null) console.output(diagnosisText(result.diagnosis, args));
  }
  for (const warning of [...disc.warnings, ...(result.diagnosis?.warnings ?? [])])
    console.error(`Warning: ${warning}`);
}

type Units = Pick<ReduceArguments, 'length' | 'angle'>;

/** Sentences, components, what cannot be told apart, corrections; ended by a line feed. */
export function diagnosisText(diagnosis: Diagnosis, units: Units): string {
  const { sentences, components, budget, confounded, corrections } = diagnosis;
  const parts = [
    sentences.map((s, i) => wrapped(`${i + 1}. ${s}`, 3)).join('\n'),
    componentTable(components, budget, units),
    ...(confounded.length === 0
      ? []
      : [['Cannot be told apart:', ...confounded.map((c) => wrapped(`- ${c.words}`, 2))].join('\n')]),
    ...corrections.map((c) => correctionText(c, units)),
  ];
  return `${parts.join('\n\n')}\n`;
}

/** One line a component: size with interval, share, significance, budget. */
function componentTable(components: readonly Component[], budget: BudgetFinding, { length }: Units): string {
  const unit = lengthUnits[length];
  const header = [
    'Component',
    '2·|δ|',
    'from',
    'to',
    'R.m.s.',
    'Position',
    'Share',
    'p',
    'Budget',
    'Used',
    'Finding',
  ];
  const below = ['', unit.sign, unit.sign, unit.sign, unit.sign, unit.sign, '%', '', unit.sign, '%', ''];
  const rows = components.map((c) => {
    const line = budget.lines.find(({ components: of }) => of.includes(c.name));
    return [
      c.title,
      inUnit(c.size?.value ?? null, unit),
      inUnit(c.size?.low ?? null, unit),
      inUnit(c.size?.high ?? null, unit),
      inUnit(c.rms, unit),
      inUnit(c.consumed, unit),
      (100 * c.share).toFixed(1),
      c.test === null ? '–' : c.test.probability < 0.001 ? '<0.001' : c.test.probability.toFixed(3),
      inUnit(line?.allocated ?? null, unit),
      line?.used == null ? '–' : (100 * line.used).toFixed(0),
      finding(c),
    ];
  });
  return `${table([header, below, ...rows])}\n2·|δ|: twice the largest displacement in space that the component makes alone, with its coverage interval; Position: the\nlargest position that it uses in the zones of the plan, to which the budget belongs. Shares in the order of separation.`;
}

function finding(c: Component): string {
  if (c.notExamined !== null) return 'not examined';
  if (c.test === null) return '';
  return c.significant ? 'significant' : 'not distinguishable from scatter';
}

function correctionText(c: Correction, { length, angle }: Units): string {
  const value = (s: Setting, x: number): string => {
    const turns = s.freedom.startsWith('rot') || s.freedom === 'index';
    const unit = turns ? angleUnits[angle] : lengthUnits[length];
    const text = inUnit(x, unit);
    return `${x > 0 && Number(text) !== 0 ? '+' : ''}${text} ${unit.sign}`;
  };
  // Settings that stay as they are have no line.
  const changed = c.settings.filter((s) => /[1-9]/.test(value(s, s.change)));
  const rows = changed
    .filter((s) => s.kind !== 'index')
    .map((s) => [
      s.kind,
      s.of ?? '',
      s.freedom,
      value(s, s.found),
      value(s, s.change),
      s.atLimit ? 'at its limit' : '',
    ]);
  const index = changed
    .filter((s) => s.kind === 'index')
    .map(
      (s) => `${s.of ?? ''}\u00a0${value(s, s.change).replace(' ', '')}${s.atLimit ? '\u00a0(limit)' : ''}`,
    );
  return [
    wrapped(`${c.title}: ${c.sentence}`, 0),
    ...(rows.length === 0
      ? []
      : [table([['What', 'Of', 'Freedom', 'Error found', 'Setting change', ''], ...rows])]),
    ...(index.length === 0 ? [] : [wrapped(`Index, change by station: ${index.join(', ')}`, 2)]),
  ].join('\n');
}

/** Columns side by side: the first and last begin together, numbers end together. */
function table(rows: readonly (readonly string[])[]): string {
  const columns = rows[0]?.length ?? 0;
  const widths = Array.from({ length: columns }, (_, c) =>
    Math.max(...rows.map((row) => [...(row[c] ?? '')].length)),
  );
  return rows
    .map((row) =>
      row
        .map((cell, c) => {
          const space = ' '.repeat(widths[c]! - [...cell].length);
          return c === 0 || c === columns - 1 ? cell + space : space + cell;
        })
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

const LINE = 110;

/** Broken between words, further lines indented. */
function wrapped(text: string, indent: number): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && [...line].length + 1 + [...word].length > LINE) {
      lines.push(line);
      line = ' '.repeat(indent) + word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line].join('\n');
}
