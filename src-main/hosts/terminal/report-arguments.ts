/** What the person asks of the report, checked. */
import { type Language, languages } from '../../report/messages/languages.ts';
import { type Paper, papers } from '../../report/pdf/paper.ts';

export interface ReportArguments {
  readonly language: Language;
  readonly paper: Paper;
  /** Undefined: now. */
  readonly time: Date | undefined;
}

/** Names of the options that concern the report alone. */
const reportOptions = ['language', 'paper', 'report-time'] as const;
type ReportOption = (typeof reportOptions)[number];

export const usualReport: ReportArguments = { language: 'en', paper: 'a4', time: undefined };

type Fault = (code: string, says: string, value: string, expected: string, remedy: string) => never;

/** @param fault refuses the command line. */
export function readReportArguments(
  values: Readonly<Partial<Record<ReportOption, unknown>>>,
  out: boolean,
  fault: Fault,
): ReportArguments {
  const given = reportOptions.find((option) => values[option] !== undefined);
  if (given !== undefined && !out)
    fault(
      'missing-argument',
      `--${given} concerns the report, and no report is written`,
      String(values[given]),
      '--out DIR',
      'add it, or take the option out',
    );
  const { language, paper, 'report-time': time } = values;
  return {
    language: oneOf('--language', language, languages, usualReport.language, fault),
    paper: oneOf('--paper', paper, papers, usualReport.paper, fault),
    time: time === undefined ? undefined : timeOf(String(time), fault),
  };
}

function oneOf<Name extends string>(
  option: string,
  value: unknown,
  known: readonly Name[],
  usual: Name,
  fault: Fault,
): Name {
  if (value === undefined) return usual;
  return (
    known.find((name) => name === String(value).toLowerCase()) ??
    fault(
      'wrong-value',
      `${option} does not know this`,
      String(value),
      known.join(', '),
      'choose one of these',
    )
  );
}

/** ISO 8601 with a zone, so that the same words give the same instant everywhere. */
function timeOf(text: string, fault: Fault): Date {
  const time = new Date(text);
  if (
    /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2})$/.test(text) &&
    !Number.isNaN(time.getTime())
  )
    return time;
  return fault(
    'wrong-value',
    '--report-time is no time that is read',
    text,
    'such as 2026-05-20T14:30:00Z or 2026-05-20T14:30:00+02:00',
    'write it so',
  );
}
