/** Sheets and margins, in points (1/72 inch). */

export const papers = ['a4', 'letter'] as const;
export type Paper = (typeof papers)[number];

/** ISO 216 A4 (210 × 297 mm) and ANSI/ASME Y14.1 size A (8.5 × 11 inch). */
export const sheets: Readonly<Record<Paper, { readonly width: number; readonly height: number }>> = {
  a4: { width: (210 / 25.4) * 72, height: (297 / 25.4) * 72 },
  letter: { width: 8.5 * 72, height: 11 * 72 },
};

/** To the text; head and foot stand outside of it. The left one leaves room for a binding. */
export const margins = { left: 56, right: 45, top: 64, bottom: 56 } as const;

export function textHeight(paper: Paper): number {
  return sheets[paper].height - margins.top - margins.bottom;
}

export function textWidth(paper: Paper): number {
  return sheets[paper].width - margins.left - margins.right;
}
