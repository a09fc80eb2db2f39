import type { ReportDocument } from '../document.ts';
import type { Paper } from '../pdf/paper.ts';
export function renderHtml(document: ReportDocument, paper: Paper): string {
  return document.title + paper;
}
