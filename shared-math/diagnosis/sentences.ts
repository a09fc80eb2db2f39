/** The findings in order of importance, plain sentences with their sizes. */
import type { PartDefinition } from '../definition.ts';
import { ERRORS } from '../pose/error-names.ts';
import { positionValue } from '../pose/position.ts';
import type { StationResult } from '../result.ts';
import { markedAgain, readFigures, type Said } from './figures.ts';
import type { Component, Diagnosis } from './findings.ts';
import { displaced, SCALE } from './observations.ts';
import { listed, outlierSentence, TITLES } from './words.ts';

/** @param stations as judged: the sentences say how many would keep their position tolerance without a cause. */
export function findingSentences(
  d: Pick<Diagnosis, 'leading' | 'components' | 'outliers' | 'budget'>,
  stations: readonly StationResult[],
  definition: PartDefinition,
): Said[] {
  const causes = d.components
    .filter((c) => c.significant && c.name !== 'outliers' && c.name !== 'scatter')
    .sort((a, b) => (b.size?.value ?? 0) - (a.size?.value ?? 0));
  const noise = d.components.filter(
    (c) => !c.significant && c.notExamined === null && c.name !== 'scatter' && c.name !== 'outliers',
  );
  const absent = d.components.filter((c) => c.notExamined !== null);
  const scatter = d.components.find((c) => c.name === 'scatter');
  const sentence = ({ sentence: text, figures = [] }: Pick<Component, 'sentence' | 'figures'>): string =>
    markedAgain(text, figures);
  return [
    ...(causes.length === 0 ? ['No cause is distinguishable from scatter.'] : []),
    ...causes.map((c) => `${sentence(c)} ${effectOfRemoval(c, stations, definition)}`.trim()),
    ...d.outliers.map(outlierSentence),
    ...(scatter === undefined ? [] : [sentence(scatter)]),
    ...(noise.length === 0
      ? []
      : [`Not distinguishable from scatter: ${listed(noise.map((c) => TITLES[c.name].toLowerCase()))}.`]),
    ...absent.map((c) => `${c.title} was not examined: ${c.notExamined}`),
    sentence(d.budget),
  ].map(readFigures);
}

/** How many stations would lie within their position tolerance without this component, against now. */
function effectOfRemoval(
  c: Component,
  stations: readonly StationResult[],
  definition: PartDefinition,
): string {
  const inside = (without: boolean): number =>
    c.stations.filter(({ station, error }) => {
      const found = stations.find((s) => s.station === station)!;
      const planned = definition.stations.find((s) => s.station === station)!;
      const six = ERRORS.map((name, i) => (found.error[name]! - (without ? error[i]! : 0)) * SCALE[i]!);
      return planned.requirement.checkPoints.every(
        (p) => positionValue(displaced(six, p.at), p) <= p.tolerance,
      );
    }).length;
  const now = inside(false);
  const then = inside(true);
  if (then <= now) return '';
  return `Without it ${then} of ${c.stations.length} stations would lie within their position tolerance, against ${now} now.`;
}
