/** What the numbers are, the fingerprints of the input, cautions, and lines to sign on. */
import type { Association } from '../../../shared-math/definition.ts';
import { type Block, heading, note } from '../document.ts';
import type { Context } from './context.ts';

export function statementsSection({ m, plan }: Context): readonly Block[] {
  return [
    heading(2, m.statements.title),
    {
      kind: 'list',
      items: m.statements.items(criteriaUsed(plan).map((name) => m.associations[name])),
    },
  ];
}

/** The association criteria in use; a best fit of the blade is by least squares whatever its features say. */
function criteriaUsed({ pose, details }: Context['plan']): readonly Association[] {
  const features = [...details.hubDatums, ...details.bladeDatums].map(({ association }) => association);
  return [...new Set(pose === 'bestfit' ? [...features, 'gaussian' as const] : features)];
}

export function fingerprintsSection({ m, result }: Context): readonly Block[] {
  const words = m.fingerprints;
  const { points, plan, welds } = result.source;
  return [
    heading(2, words.title),
    {
      kind: 'table',
      caption: '',
      columns: [
        { header: words.role, align: 'left' },
        { header: words.file, align: 'left', grow: 1 },
        { header: words.sha, align: 'left' },
      ],
      rows: [
        { cells: [words.points, points.name, points.sha256] },
        { cells: [words.plan, plan.name, plan.sha256] },
        ...(welds ? [{ cells: [words.welds, welds.name, welds.sha256] }] : []),
      ],
    },
    note(words.note),
  ];
}

export function cautionsSection({ m }: Context): readonly Block[] {
  return [
    heading(2, m.cautions.title),
    { kind: 'notice', tone: 'caution', title: m.cautions.heading, text: m.cautions.items[0] ?? '' },
    { kind: 'list', items: m.cautions.items.slice(1) },
  ];
}

export function signaturesSection({ m }: Context): readonly Block[] {
  return [
    heading(2, m.signatures.title),
    note(m.signatures.text),
    { kind: 'signatures', roles: m.signatures.roles, fields: m.signatures.fields },
  ];
}
