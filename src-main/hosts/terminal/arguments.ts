/** What the person typed, checked. */
import { parseArgs } from 'node:util';
import { nearest } from '../../nearest.ts';
import { describe, RefusedInput } from '../../problems.ts';
import { type AngleUnit, angleUnits, type LengthUnit, lengthUnits } from './display-units.ts';
import { type ReportArguments, readReportArguments } from './report-arguments.ts';

export interface ReduceArguments {
  readonly command: 'reduce' | 'diagnose';
  readonly points: string;
  readonly plan: string;
  readonly welds: string | undefined;
  readonly out: string | undefined;
  readonly json: boolean;
  readonly length: LengthUnit;
  readonly angle: AngleUnit;
  /** Absent: the usual report. */
  readonly report?: ReportArguments;
}

export type CommandLine = ReduceArguments | { readonly command: 'help' } | { readonly command: 'version' };

const OPTIONS = {
  plan: { type: 'string' },
  welds: { type: 'string' },
  out: { type: 'string' },
  json: { type: 'boolean' },
  length: { type: 'string' },
  angle: { type: 'string' },
  language: { type: 'string' },
  paper: { type: 'string' },
  'report-time': { type: 'string' },
  help: { type: 'boolean', short: 'h' },
  version: { type: 'boolean', short: 'V' },
} as const;

const COMMANDS = ['reduce', 'diagnose', 'help'] as const;

export const usage = `Usage:
  hubtrue reduce   POINTS.csv --plan PLAN.json [--welds WELDS.csv] [--out DIR] [--json]
  hubtrue diagnose POINTS.csv --plan PLAN.json [--welds WELDS.csv] [--json]

reduce gives each blade's six errors, true position and verdict; diagnose the causes of the errors, how sure they are, what
they use of the budget, and what to correct.

  --plan PLAN.json   the plan of the disc: datums, nominal seats, tolerances
  --welds WELDS.csv  the weld order (optional)
  --out DIR          reduce: also write result.json, stations.csv, report.html and report.pdf there
  --language LANG    the report in English (en, default), German (de) or French (fr)
  --paper PAPER      the report on a4 (default) or letter
  --report-time ISO  when the report was made, instead of now: the same input then gives the same bytes
  --json             print the result document on standard output, and nothing else there
  --length UNIT      lengths in table and report: µm (default), mm or inch
  --angle UNIT       angles in the table: arcsec (default), arcmin or deg
  --help, -h         this text
  --version, -V      the version

Exit status: 0 every planned station was reduced and conforms, and so does their pattern where the plan limits it; 1 some
station or the pattern does not conform, is not proven or is missing; 2 the input was refused, and nothing was written.
`;

/** @throws RefusedInput where the words make no command */
export function readArguments(words: readonly string[]): CommandLine {
  const { values, positionals, tokens } = parseArgs({
    args: [...words],
    options: OPTIONS,
    allowPositionals: true,
    strict: false,
    tokens: true,
  });
  for (const token of tokens) if (token.kind === 'option') checkOption(token);
  if (values.help === true || positionals[0] === 'help') return { command: 'help' };
  if (values.version === true) return { command: 'version' };
  const [command, points, surplus] = positionals;
  if (command !== 'reduce' && command !== 'diagnose') {
    const near = command === undefined ? null : nearest(command, COMMANDS);
    return fault(
      'unknown-command',
      command === undefined ? 'no command is given' : 'there is no such command',
      command,
      'reduce or diagnose',
      near === null ? 'see hubtrue --help' : `write "${near}" if that is meant`,
    );
  }
  if (points === undefined)
    return fault(
      'missing-argument',
      'no point file is given',
      undefined,
      'hubtrue reduce POINTS.csv --plan PLAN.json',
      'name it',
    );
  if (surplus !== undefined)
    return fault(
      'surplus-argument',
      'more than one point file is given',
      surplus,
      'one point file',
      'put quotes around a path with blanks',
    );
  if (typeof values.plan !== 'string')
    return fault('missing-argument', 'no plan is given', undefined, '--plan PLAN.json', 'add it');
  if (command === 'diagnose' && values.out !== undefined)
    return fault(
      'surplus-argument',
      'diagnose writes no files',
      String(values.out),
      'hubtrue reduce POINTS.csv --plan PLAN.json --out DIR',
      'use reduce: its result.json holds the diagnosis as well',
    );
  return {
    command,
    points,
    plan: values.plan,
    welds: typeof values.welds === 'string' ? values.welds : undefined,
    out: typeof values.out === 'string' ? values.out : undefined,
    json: values.json === true,
    length: unitNamed('--length', values.length, lengthUnits, 'µm'),
    angle: unitNamed('--angle', values.angle, angleUnits, 'arcsec'),
    report: readReportArguments(values, values.out !== undefined, fault),
  };
}

type OptionToken = Extract<NonNullable<ReturnType<typeof parseArgs>['tokens']>[number], { kind: 'option' }>;

function checkOption({ name, rawName, value, inlineValue }: OptionToken): void {
  const option = Object.hasOwn(OPTIONS, name) ? OPTIONS[name as keyof typeof OPTIONS] : undefined;
  if (option === undefined) {
    const near = nearest(name, Object.keys(OPTIONS));
    fault(
      'unknown-option',
      'there is no such option',
      rawName,
      near === null
        ? `one of ${Object.keys(OPTIONS)
            .map((known) => `--${known}`)
            .join(', ')}`
        : `--${near}`,
      near === null ? 'see hubtrue --help' : `write --${near} if that is meant`,
    );
  }
  if (
    option?.type === 'string' &&
    (value === undefined || value === '' || (!inlineValue && value.startsWith('--')))
  )
    fault('missing-value', `${rawName} needs a value`, value, `a value after ${rawName}`, 'add it');
  if (option?.type === 'boolean' && value !== undefined)
    fault('surplus-value', `${rawName} takes no value`, value, `${rawName} alone`, 'take the value out');
}

function unitNamed<Name extends string>(
  option: string,
  value: unknown,
  units: Readonly<Record<Name, unknown>>,
  usual: Name,
): Name {
  if (value === undefined) return usual;
  const name = value === 'um' || value === '\u03bcm' ? 'µm' : String(value);
  if (Object.hasOwn(units, name)) return name as Name;
  return fault(
    'wrong-value',
    `${option} does not know this unit`,
    name,
    Object.keys(units).join(', '),
    'choose one of these',
  );
}

function fault(
  code: string,
  says: string,
  value: string | undefined,
  expected: string,
  remedy: string,
): never {
  throw new RefusedInput([describe({ code, says, value, expected, remedy })]);
}
