/** The nine components from the final joint fit: size, test, share, parameters, sentence. */
import type { PartDefinition } from '../definition.ts';
import {
  clipped,
  largestPosition,
  sizeOfComponent,
  toStations,
  worstDisplacements,
} from './component-size.ts';
import type { DesignName } from './design.ts';
import type { Component, ComponentName, Harmonic, Outlier, SignificanceTest } from './findings.ts';
import type { HarmonicTest } from './harmonics.ts';
import { adjustForFalseDiscoveries, estimate, jointTest, simes } from './inference.ts';
import { displacementGradient, type Observation } from './observations.ts';
import type { StationTest } from './outliers.ts';
import {
  blockParameters,
  commonReadings,
  harmonicParameters,
  ringShiftParameters,
  toolSetupParameters,
} from './parameters.ts';
import {
  blocksOf,
  coefficientsOf,
  contribution,
  jointOf,
  residualsOf,
  type Separation,
  unitRow,
} from './separation.ts';
import { sequentialShares } from './sequential-shares.ts';
import { form } from './symmetric.ts';
import * as words from './words.ts';

export const FALSE_DISCOVERY_RATE = 0.05;

export const ORDER: readonly ComponentName[] = [
  'ringShift',
  'common',
  'toolSetup',
  'toolChange',
  'wear',
  'index',
  'harmonics',
  'outliers',
  'scatter',
];

export interface ComponentInput {
  readonly separation: Separation;
  readonly stationTests: readonly StationTest[];
  readonly harmonicTests: readonly HarmonicTest[];
  readonly harmonics: readonly Harmonic[];
  readonly outliers: readonly Outlier[];
  /** Why a component was not examined. */
  readonly notExamined: ReadonlyMap<ComponentName, string>;
  readonly firstTool: string | null;
  readonly offsetIsCommon: boolean;
  /** Tools of one single station: their step cannot be told from a slip of that blade. */
  readonly singleWelds: readonly { readonly station: number; readonly tool: string }[];
  readonly definition: PartDefinition;
}

/** Tests of the family, in the order of separation, adjusted for false discoveries. */
export function familyTests(
  s: Separation,
  harmonicTests: readonly HarmonicTest[],
  stationTests: readonly StationTest[],
  notExamined: ReadonlyMap<ComponentName, string>,
): ReadonlyMap<ComponentName, SignificanceTest> {
  const raw = new Map<ComponentName, Omit<SignificanceTest, 'adjusted'>>();
  for (const name of ORDER) {
    if (name === 'scatter' || notExamined.has(name)) continue;
    if (name === 'outliers') raw.set(name, ofMany(stationTests.map((t) => t.probability)));
    else if (name === 'index' || name === 'harmonics')
      raw.set(
        name,
        ofMany(
          harmonicTests
            .filter((t) => (t.channel === 'index') === (name === 'index'))
            .map((t) => t.probability),
        ),
      );
    else {
      const { values, covariance, degreesOf } = jointOf(
        s,
        coefficientsOf(s, name).map((c) => unitRow(s, c)),
      );
      raw.set(name, jointTest(values, covariance, degreesOf));
    }
  }
  const names = [...raw.keys()];
  const adjusted = adjustForFalseDiscoveries(names.map((n) => raw.get(n)!.probability));
  return new Map(names.map((n, i) => [n, { ...raw.get(n)!, adjusted: adjusted[i]! }]));
}

/** Simes' test has no statistic of its own: the number of hypotheses stands as numerator. */
function ofMany(probabilities: readonly number[]): Omit<SignificanceTest, 'adjusted'> {
  const probability = simes(probabilities);
  return {
    statistic: -Math.log10(Math.max(probability, 1e-300)),
    numerator: probabilities.length,
    denominator: null,
    probability,
  };
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
    const base = {
      name,
      title: words.TITLES[name],
      notExamined: notExamined.get(name) ?? null,
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
            ? { ...base, ...outlierPart(s, input.outliers, coverage), sentence: '' }
            : { ...base, ...causePart(input, name, coverage), sentence: '' };
    return done.sentence === '' ? { ...done, sentence: sentenceOf(done, input) } : done;
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
  | 'name'
  | 'title'
  | 'notExamined'
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

function outlierPart(s: Separation, outliers: readonly Outlier[], coverage: number) {
  const residuals = residualsOf(s);
  const at = outliers.map((o) => s.observations.findIndex((x) => x.station === o.station));
  if (at.length === 0) return NOTHING;
  return remainder(
    at.map((k) => s.observations[k]!),
    at.map((k) => residuals[k]!),
    coverage,
  );
}

/** What remains at some stations, with the uncertainty of their own points. */
function remainder(
  observations: readonly Observation[],
  errors: readonly (readonly number[])[],
  coverage: number,
) {
  const worst = worstDisplacements(observations, errors);
  const largest = worst.reduce((a, b) => (b.length > a.length ? b : a));
  const { index, checkPoint, displacement: d, length } = largest;
  const o = observations[index]!;
  const n = length > 0 ? ([d[0] / length, d[1] / length, d[2] / length] as const) : ([1, 0, 0] as const);
  const g = displacementGradient(n, checkPoint.at);
  const size = estimate(
    { value: length, variance: form(g, o.own, g), degreesOfFreedom: Number.POSITIVE_INFINITY },
    coverage,
    2,
  );
  return {
    size: clipped(size, true),
    at: { station: o.station, checkPoint: checkPoint.name },
    rms: 2 * Math.sqrt(worst.reduce((sum, w) => sum + w.length ** 2, 0) / worst.length),
    consumed: largestPosition(observations, errors),
    parameters: [],
    stations: toStations(observations, errors),
  };
}

function scatterPart(s: Separation, coverage: number) {
  const kept = s.observations.flatMap((_, k) => (s.counts[k] ? [k] : []));
  const residuals = residualsOf(s);
  const part = remainder(
    kept.map((k) => s.observations[k]!),
    kept.map((k) => residuals[k]!),
    coverage,
  );
  const largest = kept.find((k) => s.observations[k]!.station === part.at.station)!;
  const measured = kept.map((k) => measurementAt(s.observations[k]!, residuals[k]!));
  const alone = words.micrometres(measurementAt(s.observations[largest]!, residuals[largest]!));
  const everywhere = Math.sqrt(measured.reduce((sum, u) => sum + u * u, 0) / measured.length);
  return {
    ...part,
    sentence: `What no cause explains moves ${part.at.checkPoint} of station ${part.at.station} by ${words.micrometres(part.size.value / 2)}, and the blades by ${words.micrometres(part.rms / 2)} r.m.s.; the uncertainty of their own points alone makes ${alone} there and ${words.micrometres(everywhere)} r.m.s.`,
  };
}

/** Root mean square displacement (mm) that the own points of a station leave open at the check point that moves most. */
function measurementAt(o: Observation, error: readonly number[]): number {
  const { checkPoint } = worstDisplacements([o], [error])[0]!;
  const variances = AXES.map((n) => {
    const g = displacementGradient(n, checkPoint.at);
    return form(g, o.own, g);
  });
  return Math.sqrt(variances.reduce((sum, v) => sum + v, 0));
}

const AXES = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
] as const;

/** The contribution of a component at every station, scaled. */
export function contributionsOf(s: Separation, name: DesignName): number[][] {
  const coefficients = coefficientsOf(s, name);
  return s.observations.map((_, k) => contribution(s, k, coefficients));
}

function sentenceOf(c: Omit<Component, 'sentence'>, input: ComponentInput): string {
  if (!c.significant) return words.notDistinguishable(c);
  const size = words.sizeWords(c);
  const parameter = (key: string) => c.parameters.find((p) => p.key === key);
  switch (c.name) {
    case 'ringShift': {
      const shift = parameter('shift');
      const direction = parameter('direction');
      const tilts = words.leadingParameters(c.parameters.filter((p) => p.key.startsWith('tilt')));
      const moved =
        shift === undefined || direction === undefined || shift.low <= 0
          ? 'The ring of blades is tilted against the hub'
          : `The ring of blades sits ${words.micrometres(shift.value)} (${words.interval(shift)}) off the hub axis ${towards(direction.value, input)}`;
      return `${moved}${tilts === '' ? '' : `, ${tilts}`}; ${size}.`;
    }
    case 'common':
      return `All blades together: ${words.leadingParameters(c.parameters).replaceAll(' of all blades', '')}; ${size}.${input.offsetIsCommon ? ' Read either as hub datum or index zero, or as part of the tool offset.' : ''}`;
    case 'toolSetup':
      return `The tool holds the blades off by ${words.leadingParameters(c.parameters)}${input.offsetIsCommon ? ', beyond the common axial shift and clocking' : ''}; ${size}.`;
    case 'toolChange': {
      const tools = [...new Set(c.parameters.map((p) => p.of))];
      const steps = tools.map((tool) => {
        const step = words.leadingParameters(c.parameters.filter((p) => p.of === tool));
        return `the change to ${tool} made a step of ${step === '' ? 'no clear size' : step}`;
      });
      const single = input.singleWelds.map(
        ({ station, tool }) =>
          ` Station ${station} alone was welded with ${tool}: read this as the tool, or as a slip of that blade.`,
      );
      return `${capital(words.listed(steps))}; ${size}.${single.join('')}`;
    }
    case 'wear':
      return `The blades drift as the tool wears: ${words.leadingParameters(c.parameters)}; ${size}.`;
    case 'index':
    case 'harmonics': {
      const found = input.harmonics.filter(
        (h) => h.significant && (h.channel === 'index') === (c.name === 'index'),
      );
      const list = words.listed(found.map(words.harmonicWords));
      return list === '' ? `${capital(size)}.` : `${capital(list)}; ${size}.`;
    }
    case 'outliers':
      return input.outliers.map(words.outlierSentence).join(' ');
    default:
      return '';
  }
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** A direction from the disc axis by the station that it points to, or the two that it points between. */
function towards(direction: number, { definition }: ComponentInput): string {
  const away = definition.stations.map(({ station, angle }) => {
    const turn = direction - (angle * 180) / Math.PI;
    return { station, turn: turn - 360 * Math.round(turn / 360) };
  });
  const [near, next] = away.sort((a, b) => Math.abs(a.turn) - Math.abs(b.turn));
  if (near === undefined) return '';
  if (next === undefined || Math.abs(near.turn) < 0.3 * (Math.abs(near.turn) + Math.abs(next.turn)))
    return `towards station ${near.station}`;
  return `towards a place between stations ${near.station} and ${next.station}`;
}
