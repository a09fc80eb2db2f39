/** The shape of a diagnosis kept in a session. */
import { z } from 'zod';
import { ORDER } from '../../shared-math/diagnosis/component-tests.ts';
import { CHANNELS } from '../../shared-math/diagnosis/harmonics.ts';
import {
  byStation,
  count,
  few,
  name,
  number,
  numberOrNull,
  stationNumber,
  text,
  textOrNull,
  vec6,
} from './bounded.ts';
import { errorName, hubFreedom, note, verdict } from './result-words.ts';

/** Infinite where there is no scatter at all; JSON writes that as null. */
const infinite = numberOrNull;

const componentName = z.enum(ORDER);

const estimateFields = {
  value: number,
  standard: number,
  low: number,
  high: number,
  degreesOfFreedom: numberOrNull,
};
const estimate = z.looseObject(estimateFields);

const figureList = few(
  z.looseObject({
    kind: z.enum(['length', 'rotation']),
    values: few(number),
    signed: z.boolean(),
    text,
  }),
);
const figures = figureList.optional();

const parameter = z.looseObject({
  ...estimateFields,
  key: name,
  name: text,
  unit: z.enum(['mm', 'rad', 'mm/weld', 'rad/weld', 'degree']),
  of: name.nullable(),
});

const component = z.looseObject({
  name: componentName,
  title: text,
  notExamined: textOrNull,
  notExaminedNote: note.optional(),
  significant: z.boolean(),
  test: z
    .looseObject({
      statistic: infinite,
      numerator: number,
      denominator: numberOrNull,
      probability: number,
      adjusted: number,
    })
    .nullable(),
  size: estimate.nullable(),
  at: z.looseObject({ station: stationNumber, checkPoint: name }).nullable(),
  rms: numberOrNull,
  consumed: numberOrNull,
  share: number,
  sumOfSquares: number,
  dimensions: number,
  parameters: byStation(parameter),
  readings: few(z.looseObject({ cause: text, remedy: text, parameters: byStation(parameter) })),
  stations: byStation(z.looseObject({ station: stationNumber, error: vec6 })),
  sentence: text,
  figures,
});

const repeatability = z.looseObject({
  runs: count,
  reversal: numberOrNull,
  meanReversal: numberOrNull,
  repeatabilityUp: numberOrNull,
  repeatabilityDown: numberOrNull,
  repeatability: numberOrNull,
  systematicDeviation: number,
  systematicDeviationUp: numberOrNull,
  systematicDeviationDown: numberOrNull,
  meanDeviation: numberOrNull,
  accuracy: numberOrNull,
  accuracyUp: numberOrNull,
  accuracyDown: numberOrNull,
  targets: byStation(
    z.looseObject({
      station: stationNumber,
      meanUp: numberOrNull,
      meanDown: numberOrNull,
      standardUp: numberOrNull,
      standardDown: numberOrNull,
      reversal: numberOrNull,
    }),
  ),
});

const index = z.looseObject({
  stations: byStation(
    z.looseObject({
      station: stationNumber,
      angle: number,
      deviation: estimate,
      arc: number,
      harmonic: number,
      rest: number,
      singlePitch: numberOrNull,
      cumulativePitch: numberOrNull,
    }),
  ),
  singlePitch: numberOrNull,
  totalCumulativePitch: numberOrNull,
  repeatability: repeatability.nullable(),
});

const lineEnd = z.looseObject({ ...estimateFields, sequence: number });

const sequence = z.looseObject({
  welds: byStation(
    z.looseObject({
      station: stationNumber,
      sequence: number,
      tool: name,
      age: number,
      error: vec6.nullable(),
    }),
  ),
  changes: byStation(z.looseObject({ sequence: number, from: name, to: name })),
  lines: few(
    z.looseObject({
      error: errorName,
      tool: name,
      from: lineEnd,
      to: lineEnd,
      band: few(z.looseObject({ sequence: number, value: number, low: number, high: number })).optional(),
    }),
  ),
  toolToTool: few(
    z.looseObject({
      error: errorName,
      between: number,
      within: number,
      statistic: infinite,
      numerator: number,
      denominator: number,
      probability: number,
      wear: estimate.nullable(),
    }),
  ).optional(),
  weldsLeft: z.looseObject({ value: number, low: number, high: numberOrNull }).nullable(),
});

const budgetUse = {
  found: estimate.nullable(),
  used: numberOrNull,
  state: z.enum(['within', 'undecided', 'over', 'unknown']),
};
const sums = z.looseObject({ worstCase: number, rootSumSquare: number });

const budget = z.looseObject({
  tolerance: number,
  lines: few(
    z.looseObject({
      ...budgetUse,
      name,
      title: text,
      components: few(componentName),
      allocated: numberOrNull,
      distinguishable: z.boolean(),
      counted: z.boolean(),
      otherwise: z.looseObject({ ...budgetUse, words: text }).nullable(),
    }),
  ),
  allocated: sums,
  found: sums,
  left: sums,
  sentence: text,
  figures,
});

const outlook = z.looseObject({ expected: number, low: number, high: number });

const correction = z.looseObject({
  kind: z.enum(['tool', 'hub', 'index', 'all']),
  title: text,
  settings: byStation(
    z.looseObject({
      kind: z.enum(['tool', 'hub', 'index']),
      freedom: z.union([errorName, hubFreedom, z.literal('index')]),
      of: name.nullable(),
      found: number,
      change: number,
      exact: number,
      step: numberOrNull,
      limit: numberOrNull,
      atLimit: z.boolean(),
    }),
  ),
  leftOut: byStation(stationNumber),
  before: number,
  optimum: number,
  after: number,
  gap: number,
  interval: z.looseObject({ low: number, high: number }),
  predicted: byStation(
    z.looseObject({
      station: stationNumber,
      error: vec6,
      position: numberOrNull,
      at: name.nullable(),
      expanded: numberOrNull,
      probability: numberOrNull,
      verdict,
    }),
  ),
  conforming: count,
  nonconforming: count,
  unproven: count,
  noiseGain: numberOrNull,
  next: z.looseObject({ unchanged: outlook, corrected: outlook }).nullable(),
  chasesNoise: z.boolean(),
  sentence: text,
  figures,
});

export const diagnosisSchema = z.looseObject({
  leading: componentName.nullable(),
  components: few(component),
  confounded: few(z.looseObject({ between: few(componentName), words: text })),
  coverage: number,
  falseDiscoveryRate: number,
  sumOfSquares: number,
  stations: byStation(stationNumber),
  index,
  harmonics: few(
    z.looseObject({
      channel: z.enum(CHANNELS),
      order: number,
      amplitude: estimate,
      phase: number,
      floor: number,
      probability: number,
      significant: z.boolean(),
      aliases: few(number),
    }),
  ),
  sequence: sequence.nullable(),
  outliers: byStation(
    z.looseObject({
      station: stationNumber,
      error: vec6,
      distance: infinite,
      probability: number,
      adjusted: number,
      size: number,
      index: numberOrNull,
      words: text,
      figures,
    }),
  ),
  scatter: z.looseObject({
    process: vec6,
    measurement: vec6,
    index: number,
    degreesOfFreedom: infinite,
  }),
  budget,
  corrections: few(correction),
  sentences: few(text),
  sentenceFigures: few(figureList).optional(),
  warnings: few(text),
  notes: few(note).optional(),
});
