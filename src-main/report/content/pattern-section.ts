/** Second level of position: the blades relative to each other. Absent where the plan asks for one level only. */
import { PATTERN_FREEDOMS } from '../../../shared-math/pattern/pattern-motion.ts';
import type { PatternResult } from '../../../shared-math/result.ts';
import { type Block, heading, note, paragraph, type TableBlock } from '../document.ts';
import { type Context, marked, verdictText } from './context.ts';

export function patternSection(context: Context): readonly Block[] {
  const { m, f, result } = context;
  const { pattern } = result;
  if (pattern === null) return [];
  const words = m.pattern;
  const u = pattern.expanded === null ? '' : `, U\u00a0${f.lengthWith(pattern.expanded)}`;
  const p = pattern.probability === null ? '' : `, P\u00a0${f.probability(pattern.probability)}`;
  const at =
    pattern.at === null
      ? ''
      : ` (${m.stations.station}\u00a0${pattern.at.station}, ${pattern.at.checkPoint})`;
  return [
    heading(2, words.title),
    paragraph(
      words.text(
        f.limitWith('position', pattern.tolerance),
        pattern.free.map((freedom) => words.freedoms[freedom]),
      ),
    ),
    {
      kind: 'keyValues',
      columns: 1,
      pairs: [
        { key: words.verdict, value: verdictText(context, pattern.verdict) },
        {
          key: words.value,
          value: `${f.againstWith('position', pattern.value, pattern.tolerance)}${u}${p}${at}`,
        },
        { key: words.tolerance, value: f.limitWith('position', pattern.tolerance) },
        { key: words.motion, value: motionText(context, pattern) },
      ],
    },
    ...(pattern.undetermined.length === 0
      ? []
      : [note(words.undetermined(pattern.undetermined.map((freedom) => words.freedoms[freedom])))]),
    patternTable(context, pattern),
    ...(result.summary.missing.length > 0 ? [note(words.missing)] : []),
  ];
}

function motionText({ m, f }: Context, { motion }: PatternResult): string {
  return PATTERN_FREEDOMS.map((freedom) => {
    const value = motion[freedom];
    return `${m.pattern.freedoms[freedom]}\u00a0${freedom.startsWith('rot') ? f.angleWith(value) : f.lengthWith(value)}`;
  }).join(', ');
}

function patternTable(context: Context, pattern: PatternResult): TableBlock {
  const { m, f } = context;
  return {
    kind: 'table',
    caption: m.pattern.table,
    columns: [
      { header: m.stations.station, align: 'right' },
      { header: m.stations.position, unit: f.lengthSign, align: 'right', grow: 1 },
      { header: 'U', unit: f.lengthSign, align: 'right', grow: 1 },
      { header: 'P', align: 'right', grow: 1 },
      { header: m.stations.at, align: 'left', grow: 1 },
      { header: m.stations.verdict, align: 'left', grow: 1.5 },
    ],
    rows: pattern.stations.map(({ station, value, at, expanded, probability, verdict }) => ({
      ...(verdict === 'conforming' ? {} : { tone: verdict }),
      cells: [
        String(station),
        marked(f.against('position', value, pattern.tolerance), verdict),
        f.length(expanded),
        f.probability(probability),
        at ?? '–',
        verdictText(context, verdict),
      ],
    })),
  };
}
