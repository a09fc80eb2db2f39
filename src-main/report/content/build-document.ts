/** The whole report as blocks, in the order in which people read it. */
import { type Block, heading, paragraph, type ReportDocument } from '../document.ts';
import { causesSection } from './causes.ts';
import { characteristicsSection } from './characteristics.ts';
import { cautionsSection, fingerprintsSection, signaturesSection, statementsSection } from './closing.ts';
import { type Context, timeText } from './context.ts';
import { decisionSection } from './decision.ts';
import { exclusionsSection } from './exclusions.ts';
import { identification } from './identification.ts';
import { patternSection } from './pattern-section.ts';
import { planSection } from './plan-section.ts';
import { stationPages } from './station-pages.ts';
import { stationsSection } from './stations-section.ts';
import { summary, verdictNotice } from './summary.ts';

export function buildDocument(context: Context): ReportDocument {
  const { m, plan, result, language, time } = context;
  const { software } = result.source;
  const number = plan.part['number'];
  const serial = plan.part['serial'];
  const part = plan.part['name'] ?? (plan.title === '' ? result.source.points.name : plan.title);
  const blocks: readonly Block[] = [
    heading(1, m.report),
    paragraph([{ text: part, bold: true }, ` · ${m.subject}`]),
    verdictNotice(context),
    ...identification(context),
    ...summary(context),
    ...planSection(context),
    ...decisionSection(context),
    ...stationsSection(context),
    ...stationPages(context),
    ...afterPages(patternSection(context)),
    { kind: 'pageBreak' },
    ...characteristicsSection(context),
    ...causesSection(context),
    { kind: 'pageBreak' },
    ...exclusionsSection(context),
    ...statementsSection(context),
    ...fingerprintsSection(context),
    ...cautionsSection(context),
    ...signaturesSection(context),
  ];
  return {
    language,
    title: [m.report, number ?? part, serial].filter((text) => text !== undefined).join(' · '),
    subject: m.subject,
    head: [[number ?? part, ...(serial === undefined ? [] : [m.serial(serial)])].join(' · '), m.report],
    foot: `Hubtrue ${software} · ${timeText(time)}`,
    continued: m.continued,
    time,
    software: `Hubtrue ${software}`,
    blocks: numbered(blocks),
  };
}

/** A section after the station pages begins on a page of its own. */
function afterPages(section: readonly Block[]): readonly Block[] {
  return section.length === 0 ? [] : [{ kind: 'pageBreak' }, ...section];
}

/** Numbers the sections. */
function numbered(blocks: readonly Block[]): readonly Block[] {
  let section = 0;
  return blocks.map((block) => {
    if (block.kind !== 'heading' || block.level !== 2) return block;
    section += 1;
    return { ...block, text: `${section}\u2002${block.text}` };
  });
}
