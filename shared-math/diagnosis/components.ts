/** The nine components from the final joint fit: size, test, share, parameters, sentence. */

import { sentenceOf } from '../notes/english.ts';
import type { Note } from '../notes/notes.ts';
import { outlierPart, scatterPart } from './component-remainder.ts';
import { type ComponentContext, componentSentence } from './component-sentences.ts';
import { sizeOfComponent } from './component-size.ts';
import { FALSE_DISCOVERY_RATE, ORDER } from './component-tests.ts';
import type { DesignName } from './design.ts';
import { readFigures } from './figures.ts';
import type { Component, ComponentName, Harmonic, SignificanceTest } from './findings.ts';
import { jointTest } from './inference.ts';
import {
  blockParameters,
  commonReadings,
  harmonicParameters,
  ringShiftParameters,
  toolSetupParameters,
} from './parameters.ts';
import { blocksOf, jointOf, type Separation, unitRow } from './separation.ts';
import { sequentialShares } from './sequential-shares.ts';
import * as words from './words.ts';

export interface ComponentInput extends ComponentContext {
  readonly separation: Separation;
  /** Why a component was not examined. */
  readonly notExamined: ReadonlyMap<ComponentName, Note>;
  readonly firstTool: string | null;
}

/**
 * All nine components in the order of separation (sizes mm, parameters in the units that they state), and the weighted sum of squares of
 * all errors.
 */
export function describeComponents(
  input: ComponentInput,
  tests: ReadonlyMap<ComponentName, SignificanceTest>,
): { readonly components: Component[]; readonly total: number } {
  const { separation: s, notExamined, definition } = input;
  const coverage = definition.uncertainty.coverage;
  const { total, of } = sequentialShares(s);
  const components = ORDER.map((name): Component => {
    const test = tests.get(name) ?? null;
    const share = of.get(name) ?? { sumOfSquares: 0, dimensions: 0 };
    const why = notExamined.get(name);
    const base = {
      name,
      title: words.TITLES[name],
      notExamined: why === undefined ? null : sentenceOf(why),
      ...(why === undefined ? {} : { notExaminedNote: why }),
      significant:
        test !== null &&
        test.adjusted <= FALSE_DISCOVERY_RATE &&
        (name !== 'outliers' || input.outliers.length > 0) &&
        (!isHarmonic(name) || input.harmonics.some((h) => h.significant && componentOf(h) === name)),
      test,
      share: total > 0 ? share.sumOfSquares / total : 0,
      sumOfSquares: share.sumOfSquares,
      dimensions: share.dimensions,
      readings: [],
    };
    const done =
      base.notExamined !== null
        ? { ...base, ...NOTHING, sentence: `Not examined: ${base.notExamined}` }
        : name === 'scatter'
          ? { ...base, ...scatterPart(s, coverage) }
          : name === 'outliers'
            ? { ...base, ...(outlierPart(s, input.outliers, coverage) ?? NOTHING), sentence: '' }
            : { ...base, ...causePart(input, name, coverage), sentence: '' };
    const said = readFigures(done.sentence === '' ? componentSentence(done, input) : done.sentence);
    return { ...done, sentence: said.text, figures: said.figures };
  });
  return { components, total };
}

const NOTHING = { size: null, at: null, rms: null, consumed: null, parameters: [], stations: [] } as const;

function isHarmonic(name: ComponentName): boolean {
  return name === 'index' || name === 'harmonics';
}

function componentOf({ channel }: Pick<Harmonic, 'channel'>): ComponentName {
  return channel === 'index' ? 'index' : 'harmonics';
}

/**
 * Of several harmonics in the fit those that stand out make the component; where none does, all of them: adding what is only noise would
 * make the largest displacement too large.
 */
function sizedCoefficients(s: Separation, name: DesignName, harmonics: readonly Harmonic[]): number[] {
  const blocks = blocksOf(s, name);
  const standing = blocks.filter((b) =>
    harmonics.some((h) => h.significant && h.channel === b.harmonic?.channel && h.order === b.harmonic.order),
  );
  return (standing.length > 0 ? standing : blocks).flatMap((b) =>
    Array.from({ length: b.dimensions }, (_, i) => b.first + i),
  );
}

function causePart(
  { separation: s, firstTool, offsetIsCommon, harmonics }: ComponentInput,
  name: DesignName,
  coverage: number,
): Omit<
  Component,
  | 'figures'
  | 'name'
  | 'title'
  | 'notExamined'
  | 'notExaminedNote'
  | 'significant'
  | 'test'
  | 'share'
  | 'sumOfSquares'
  | 'dimensions'
  | 'sentence'
> {
  const coefficients = sizedCoefficients(s, name, harmonics);
  const parameters =
    name === 'ringShift'
      ? ringShiftParameters(s, coverage)
      : name === 'toolSetup'
        ? toolSetupParameters(s, firstTool, coverage)
        : name === 'index' || name === 'harmonics'
          ? harmonicParameters(s, name, coverage)
          : blocksOf(s, name).flatMap((b) => blockParameters(s, b, coverage));
  const readings = name === 'common' && offsetIsCommon ? commonReadings(s, firstTool, coverage) : [];
  if (coefficients.length === 0) return { ...NOTHING, readings };
  const joint = jointOf(
    s,
    coefficients.map((c) => unitRow(s, c)),
  );
  // Of several harmonics in the fit as of any component: whether all together could be none.
  const whole = jointTest(joint.values, joint.covariance, joint.degreesOf);
  const distinguishable = whole.probability <= 1 - coverage;
  const { contributions: _, ...size } = sizeOfComponent(s, coefficients, distinguishable, coverage);
  return { ...size, parameters, readings };
}
