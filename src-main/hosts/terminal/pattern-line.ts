/** The second level of position, and the points that robust screens flagged: a line each, below the summary. */
import type { DecisionResult, PatternResult, ResultDocument } from '../../../shared-math/result.ts';
import { inUnit, judgedInUnit, type LengthUnit, lengthUnits, limitInUnit } from './display-units.ts';
import { type Paint, percent, verdictWords } from './station-table.ts';

/** Value, limit, place, U, P, verdict and the free motions. Empty where the plan asks for one level of position only. */
export function patternLine({ pattern, decision }: ResultDocument, unit: LengthUnit, paint: Paint): string {
  if (pattern === null) return '';
  const { free, verdict } = pattern;
  return `Position relative to each other: ${measured(pattern, decision, unit)}: ${paint(verdictWords[verdict], verdict)}. The pattern was free in ${free.join(', ')}.\n`;
}

function measured(
  { value, tolerance, at, expanded, probability }: PatternResult,
  decision: DecisionResult,
  unit: LengthUnit,
): string {
  const shown = lengthUnits[unit];
  const limit = `(limit ${limitInUnit(tolerance, [value], shown)} ${shown.sign})`;
  if (value === null) return `not observed ${limit}`;
  return [
    `${judgedInUnit(value, tolerance, shown)} ${shown.sign} ${limit}${at === null ? '' : ` at station ${at.station}, ${at.checkPoint}`}`,
    ...(expanded === null ? [] : [`U ${inUnit(expanded, shown)} ${shown.sign}`]),
    ...(probability === null ? [] : [`P ${percent(probability, decision)}`]),
  ].join(', ');
}

/** How many points of each feature were flagged, hub first, and whether they were used. Empty where none was. */
export function screenedLine({ screened }: ResultDocument): string {
  if (screened.length === 0) return '';
  const groups: { readonly words: string; readonly fate: string; count: number }[] = [];
  for (const { station, feature, excluded } of screened) {
    const words = station === null ? `hub ${feature}` : feature;
    const fate = excluded ? 'left out' : 'reported and used';
    const group = groups.find((known) => known.words === words && known.fate === fate);
    if (group === undefined) groups.push({ words, fate, count: 1 });
    else group.count += 1;
  }
  const parts = groups.map(({ words, fate, count }) => `${words} ${count}, ${fate}`);
  return `Points flagged by the robust screen: ${parts.join('; ')}.\n`;
}
