/**
 * The diagnosis: why the stations run out.
 *
 * Station errors are separated into nine components in one joint fit (mixed model, generalised least squares), each with size,
 * interval and significance; sequential shares add up to the whole. Outliers are found first and left out of the fit. Harmonics
 * that stand out are taken into the fit one after the other.
 *
 * Sources: with the files of this folder; G. E. P. Box, N. R. Draper, Empirical Model-Building (1987) (variation in time and
 * position, from memory); Y. Benjamini, M. Bogomolov, J. R. Statist. Soc. B 76 (2014) 297–318 (members inside a significant
 * family, from memory).
 */
import type { PartDefinition } from '../definition.ts';
import { sentenceOf } from '../notes/english.ts';
import type { Note } from '../notes/notes.ts';
import { ERRORS } from '../pose/error-names.ts';
import type { FrameResult, StationResult } from '../result.ts';
import type { RepeatPose } from '../stations/repeat-poses.ts';
import { budgetFinding } from './budget.ts';
import { natural } from './component-size.ts';
import { FALSE_DISCOVERY_RATE, familyTests } from './component-tests.ts';
import { describeComponents } from './components.ts';
import { confoundings, singleWelds } from './confounding.ts';
import { corrections } from './corrections/corrections.ts';
import { aliasesOf, describeHarmonic } from './describe-harmonics.ts';
import { describeOutliers } from './describe-outliers.ts';
import type { Component, ComponentName, Diagnosis, Scatter, Vec6 } from './findings.ts';
import type { HarmonicTest } from './harmonics.ts';
import { indexFinding } from './index-deviations.ts';
import { adjustForFalseDiscoveries } from './inference.ts';
import { jointFit } from './joint-fit.ts';
import { NO_VARIANCE } from './mixed-model.ts';
import { type Observation, observe, PER_RAD, SCALE } from './observations.ts';
import { planBlocks } from './plan-blocks.ts';
import { indexRepeatability } from './repeatability.ts';
import { findingSentences } from './sentences.ts';
import { type Separation, scaledTwist } from './separation.ts';
import { sequenceFinding } from './sequence-finding.ts';
import { orderWelds, type Weld } from './weld-order.ts';

export interface DiagnosisInput {
  readonly stations: readonly StationResult[];
  readonly definition: PartDefinition;
  readonly frame: Pick<FrameResult, 'covariance'>;
  /** Null: no welds file. */
  readonly welds: readonly Weld[] | null;
  /** Poses of single runs; null or absent: every station was measured once. */
  readonly repeats?: readonly RepeatPose[] | null;
  /** Called before each fit and each optimisation, some ms apart on a usual disc; what it throws ends the work and comes out. */
  readonly onStep?: () => void;
}

/** Fewer stations than this leave no scatter to hold causes against. */
export const FEWEST_STATIONS = 4;

/**
 * Causes and corrections.
 *
 * @param input stations as reduced (mm, rad; at least four with all six errors), definition, covariance of the hub frame, weld
 *   order where known.
 * @returns plain data, see `findings.ts`; null where there are too few stations, see `whyNotDiagnosed`.
 */
export function diagnose(input: DiagnosisInput): Diagnosis | null {
  const causes = findCauses(input);
  if (causes === null) return null;
  const { stations, definition, welds, frame } = input;
  return {
    ...causes,
    corrections: corrections({
      stations,
      frame: frame.covariance,
      definition,
      welds,
      outliers: causes.outliers.map((o) => o.station),
      scatter: causes.scatter,
      causes: recurringErrors(causes.components),
      onStep: input.onStep,
    }),
  };
}

/** What the significant causes make together at each station: the part of the errors that the next disc would show again. */
function recurringErrors(components: readonly Component[]): ReadonlyMap<number, Vec6> {
  const sums = new Map<number, Vec6>();
  for (const { name, significant, stations } of components) {
    if (!significant || name === 'outliers' || name === 'scatter') continue;
    for (const { station, error } of stations) {
      const sum = sums.get(station);
      sums.set(station, sum === undefined ? error : (sum.map((x, i) => x + error[i]!) as unknown as Vec6));
    }
  }
  return sums;
}

/** The diagnosis without the corrections, which take most of its time. Parameters and result as `diagnose`. */
export function findCauses(input: DiagnosisInput): Omit<Diagnosis, 'corrections'> | null {
  const { definition } = input;
  const observations = observe(input.stations, definition);
  if (observations.length < FEWEST_STATIONS) return null;
  const order = input.welds === null ? null : orderWelds(input.welds);
  const plan = planBlocks(observations, order);
  const hub = scaledTwist(input.frame.covariance);
  const found = jointFit(observations, plan, hub, input.onStep);
  if (found === null) return null;
  const { separation: s, stationTests, harmonicTests } = found;
  const { coverage } = definition.uncertainty;
  const { notExamined } = plan;

  const tests = familyTests(s, harmonicTests, stationTests, notExamined);
  const significant = (name: ComponentName): boolean =>
    (tests.get(name)?.adjusted ?? 1) <= FALSE_DISCOVERY_RATE;
  const members = memberSignificance(harmonicTests, significant);
  const aliases = aliasesOf(
    observations.map((o) => o.angle),
    plan.orders,
    definition.stations.length,
  );
  const harmonics = harmonicTests.map((t, i) =>
    describeHarmonic(t, members[i]!, coverage, aliases[t.order - 1] ?? []),
  );
  const outliers = describeOutliers(s, stationTests, significant('outliers'));
  const firstTool = order?.tools.length ? order.tools[0]! : null;
  const { components, total } = describeComponents(
    {
      separation: s,
      harmonics,
      outliers,
      notExamined,
      offsetIsCommon: plan.offsetIsCommon,
      singleWelds: singleWelds(s, order),
      firstTool: firstTool === '' ? null : firstTool,
      definition,
    },
    tests,
  );
  const byName = (name: ComponentName): Component => components.find((c) => c.name === name)!;
  const leading = leadingOf(components);
  const scatter = describeScatter(s);
  const significantOrders = new Set(
    harmonics.filter((h) => h.channel === 'index' && h.significant).map((h) => h.order),
  );
  const index = indexFinding(s, significantOrders, definition, coverage);
  const budget = budgetFinding(components, scatter, index.stations, definition);
  const partial = {
    leading,
    components,
    confounded: confoundings(s, plan, order, harmonics, byName),
    coverage,
    falseDiscoveryRate: FALSE_DISCOVERY_RATE,
    sumOfSquares: total,
    stations: observations.map((o) => o.station),
    index: {
      ...index,
      repeatability: indexRepeatability(
        input.repeats ?? null,
        index.stations.map(({ station, deviation }) => ({ station, deviation: deviation.value })),
        definition,
      ),
    },
    harmonics,
    sequence:
      order === null
        ? null
        : sequenceFinding(s, order, notExamined.has('wear') ? null : byName('wear'), definition, coverage),
    outliers,
    scatter,
    budget,
  };
  const said = findingSentences(partial, input.stations, definition);
  const notes = notesOf(input, observations);
  return {
    ...partial,
    sentences: said.map(({ text }) => text),
    sentenceFigures: said.map(({ figures }) => figures),
    warnings: notes.map(sentenceOf),
    notes,
  };
}

/** Why there is no diagnosis; null where there is one. */
export function whyNotDiagnosed(
  stations: readonly StationResult[],
  diagnosis: Diagnosis | null,
): Note | null {
  if (diagnosis !== null) return null;
  const whole = stations.filter((s) => ERRORS.every((name) => s.error[name] !== null)).length;
  return whole < FEWEST_STATIONS
    ? { code: 'too-few-for-diagnosis', values: { needed: FEWEST_STATIONS, whole } }
    : { code: 'causes-undetermined', values: {} };
}

function memberSignificance(
  tests: readonly HarmonicTest[],
  significant: (name: ComponentName) => boolean,
): boolean[] {
  const result = tests.map(() => false);
  for (const name of ['index', 'harmonics'] as const) {
    if (!significant(name)) continue;
    const at = tests.flatMap((t, i) => ((t.channel === 'index') === (name === 'index') ? [i] : []));
    const adjusted = adjustForFalseDiscoveries(at.map((i) => tests[i]!.probability));
    at.forEach((i, a) => {
      result[i] = tests[i]!.fitted && adjusted[a]! <= FALSE_DISCOVERY_RATE;
    });
  }
  return result;
}

/** The largest significant component of 1–7. */
function leadingOf(components: readonly Component[]): ComponentName | null {
  const causes = components.filter(
    (c) => c.significant && c.size !== null && c.name !== 'outliers' && c.name !== 'scatter',
  );
  if (causes.length === 0) return null;
  return causes.reduce((a, b) => (b.size!.value > a.size!.value ? b : a)).name;
}

function describeScatter(s: Separation): Scatter {
  const kept = s.observations.filter((_, k) => s.counts[k]);
  const deviation = (variance: number): number => (variance > 2 * NO_VARIANCE ? Math.sqrt(variance) : 0);
  const measurement = SCALE.map((_, i) =>
    Math.sqrt(kept.reduce((sum, o) => sum + o.own[i]![i]!, 0) / kept.length),
  );
  return {
    process: natural(s.fit.components.slice(0, 6).map(deviation)),
    measurement: natural(measurement),
    index: deviation(s.fit.components[6]!) / PER_RAD,
    degreesOfFreedom: s.fit.degreesOfFreedom,
  };
}

function notesOf({ stations, frame }: DiagnosisInput, observations: readonly Observation[]): readonly Note[] {
  const without = stations.filter((s) => !observations.some((o) => o.station === s.station));
  const unknown = stations.filter((s) => s.covarianceOwn === null && !without.includes(s));
  const none = { values: {} };
  const numbers = (list: readonly StationResult[]) => ({ stations: list.map(({ station }) => station) });
  return [
    ...(without.length === 0 ? [] : [{ code: 'not-in-diagnosis', values: numbers(without) } as const]),
    ...(unknown.length === 0
      ? []
      : unknown.length === observations.length
        ? [{ code: 'scatter-unknown', ...none } as const]
        : [{ code: 'mean-uncertainty', values: numbers(unknown) } as const]),
    ...(frame.covariance === null ? [{ code: 'hub-uncertainty-unknown', ...none } as const] : []),
  ];
}
