/** Sentences of the result in the units on view. */
import { withFigures } from '../../shared-math/diagnosis/figures.ts';
import type { Diagnosis, Figure } from '../../shared-math/diagnosis/findings.ts';
import { formatValue, formatWithUnit, type Units } from './format.ts';

/** A size of a sentence: `0.0243 mm`, `+0.0034°`, or an interval `0.0201 to 0.0284 mm`. */
export function figureText({ kind, values, signed }: Figure, units: Units): string {
  const plain = (text: string): string => (signed ? text : text.replace('+', ''));
  const [low = 0, high] = values;
  if (high === undefined) return plain(formatWithUnit(low, kind, units));
  return `${plain(formatValue(low, kind, units))} to ${plain(formatWithUnit(high, kind, units))}`;
}

/** A sentence with its sizes in the units on view; results of earlier versions do not know them and keep their own units. */
export function inUnits(sentence: string, figures: readonly Figure[] | undefined, units: Units): string {
  return withFigures(sentence, figures ?? [], (figure) => figureText(figure, units));
}

/** The findings in order of importance, in the units on view. */
export function findingsInUnits(
  { sentences, sentenceFigures }: Pick<Diagnosis, 'sentences' | 'sentenceFigures'>,
  units: Units,
): readonly string[] {
  return sentences.map((sentence, index) => inUnits(sentence, sentenceFigures?.[index], units));
}
