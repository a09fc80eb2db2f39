/** What every section of the report draws on. */
import type { LimitName } from '../../../shared-math/definition.ts';
import { DISC_ERRORS, ERRORS } from '../../../shared-math/pose/error-names.ts';
import type { CheckPointResult, ResultDocument, Verdict } from '../../../shared-math/result.ts';
import type { PlanSummary, WeldRow } from '../../api.ts';
import type { Inline, Span } from '../document.ts';
import type { NumberFormat } from '../format/numbers.ts';
import type { Language } from '../messages/languages.ts';
import type { Messages } from '../messages/messages.ts';
import type { SayRecorded } from '../messages/notes/index.ts';

export interface Context {
  readonly result: ResultDocument;
  readonly plan: PlanSummary;
  readonly welds: readonly WeldRow[] | null;
  readonly language: Language;
  readonly time: Date;
  readonly m: Messages;
  readonly f: NumberFormat;
  /** The recorded sentences of the result, in the language of the report. */
  readonly say: SayRecorded;
  /** Size of the text area of a page in points, for figures. */
  readonly width: number;
  readonly height: number;
}

export const limitNames: readonly LimitName[] = [...ERRORS, ...DISC_ERRORS];

/** In front of a verdict: shapes that a copy without colour keeps apart. */
const SIGNS: Readonly<Record<Verdict | 'missing', string>> = {
  conforming: '✓',
  nonconforming: '×',
  unproven: '?',
  missing: '–',
};

/** A verdict in its words, sign and colour. */
export function verdictText({ m }: Context, verdict: Verdict | 'missing'): readonly Span[] {
  return [
    { text: `${SIGNS[verdict]}\u00a0${m.verdicts[verdict]}`, tone: verdict, bold: verdict !== 'conforming' },
  ];
}

/** A value marked where it does not conform or is not proven. */
export function marked(text: string, verdict: Verdict | null): Inline {
  if (verdict === null || verdict === 'conforming') return text;
  return [{ text: `${SIGNS[verdict]}\u00a0${text}`, tone: verdict, bold: true }];
}

export function quiet(text: string): readonly Span[] {
  return [{ text, tone: 'quiet' }];
}

/** A zone's size as on a drawing. */
export function zoneSize(
  { m, f }: Context,
  { zone, tolerance }: Pick<CheckPointResult, 'zone' | 'tolerance'>,
): string {
  return m.zoneSize[zone](f.limitWith('position', tolerance));
}

/** `2026-05-20 14:30:00 UTC`: the same in every language. */
export function timeText(time: Date): string {
  return `${time.toISOString().slice(0, 19).replace('T', ' ')} UTC`;
}

/** A planned angle within one turn. */
export function angleText({ f }: Context, degrees: number): string {
  return f.fixed(((degrees % 360) + 360) % 360, 2);
}

/** With a capital letter, for the head of a table. */
export function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}
