/** The conformance report of a reduced disc, as HTML and as PDF, from one document. */
import { neededProbability } from '../../shared-math/display/decimals.ts';
import type { ResultDocument } from '../../shared-math/result.ts';
import type { PlanSummary, WeldRow } from '../api.ts';
import { buildDocument } from './content/build-document.ts';
import type { ReportDocument } from './document.ts';
import { heldAgainstLimits, type LengthUnit, numberFormat } from './format/numbers.ts';
import { renderHtml } from './html/render-html.ts';
import { decimalSigns, type Language, languages } from './messages/languages.ts';
import { messagesIn } from './messages/messages.ts';
import { sayRecorded } from './messages/notes/index.ts';
import { type Paper, papers, textHeight, textWidth } from './pdf/paper.ts';
import { renderPdf } from './pdf/render-pdf.ts';

export { type Language, type LengthUnit, languages, type Paper, papers };

export interface ReportInput {
  readonly result: ResultDocument;
  readonly plan: PlanSummary;
  readonly welds: readonly WeldRow[] | null;
  readonly language: Language;
  readonly paper: Paper;
  /** Unit of lengths that are results; nominal dimensions are in mm. */
  readonly length: LengthUnit;
  /** When the report is made. The same input and time give the same bytes. */
  readonly time: Date;
}

export interface Report {
  readonly html: string;
  readonly pdf: Uint8Array;
}

/** Both files from one document. */
export async function report(input: ReportInput): Promise<Report> {
  const document = reportDocument(input);
  return { html: renderHtml(document, input.paper), pdf: await renderPdf(document, input.paper) };
}

/** report.html alone. */
export function reportHtml(input: ReportInput): string {
  return renderHtml(reportDocument(input), input.paper);
}

/** report.pdf alone. */
export function reportPdf(input: ReportInput): Promise<Uint8Array> {
  return renderPdf(reportDocument(input), input.paper);
}

/** What both renderings are made from. */
export function reportDocument(input: ReportInput): ReportDocument {
  const { language, paper, length } = input;
  const m = messagesIn(language);
  const f = numberFormat(
    decimalSigns[language],
    length,
    neededProbability(input.result.decision),
    heldAgainstLimits(input.result),
    m.inch,
  );
  return buildDocument({
    ...input,
    m,
    f,
    say: sayRecorded(language, f),
    width: textWidth(paper),
    height: textHeight(paper),
  });
}
