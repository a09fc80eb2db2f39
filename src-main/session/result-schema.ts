/** The shape of the results kept in a session, so that no view or export meets anything else, whoever has written the file. */
import { z } from 'zod';
import type { ReducedDisc } from '../api.ts';
import {
  byStation,
  count,
  few,
  fileName,
  list,
  mat3,
  name,
  number,
  numberOrNull,
  sha256,
  stationNumber,
  text,
  textOrNull,
  vec3,
} from './bounded.ts';
import { diagnosisSchema } from './diagnosis-schema.ts';
import { discErrorName, errorName, hubFreedom, note, verdict } from './result-words.ts';

const error = z.record(errorName, numberOrNull);
const limitName = z.enum([...errorName.options, ...discErrorName.options]);
const allErrors = z.record(limitName, numberOrNull);
const covariance6 = list(list(number, 6), 6).length(6).nullable();
const degreesOfFreedom = numberOrNull.optional();
/** Lines of a point file: the most that are left out one by one. */
const MOST_LINES = 20_000_000;

const direction = z.union([z.enum(['x', 'y', 'z']), vec3]);
const freedom = z.union([
  z.looseObject({ kind: z.enum(['translation', 'rotation']), along: list(direction, 3) }),
  z.looseObject({ kind: z.literal('tilt'), along: z.tuple([direction]) }),
  z.looseObject({ kind: z.literal('rotations') }),
]);

const settlement = z
  .looseObject({
    towards: z.enum(['conforming', 'nonconforming']).nullable(),
    standardUncertainty: numberOrNull,
    pointsFactor: numberOrNull,
    present: number,
  })
  .nullable()
  .optional();

const feature = z.looseObject({
  label: name,
  feature: name,
  type: z.enum(['plane', 'line', 'circle', 'sphere', 'cylinder', 'cone', 'point', 'midplane', 'pattern']),
  points: count,
  rms: number,
  form: number,
  point: vec3,
  direction: vec3.nullable(),
  radius: numberOrNull,
  halfAngle: numberOrNull,
  degreesOfFreedom: number,
  // Infinite where the points determine nothing more, which JSON writes as null.
  conditionNumber: numberOrNull,
  iterations: number,
  fixes: few(text),
  freedoms: few(freedom).optional(),
});

const judged = {
  value: numberOrNull,
  expanded: numberOrNull,
  probability: numberOrNull,
  degreesOfFreedom,
  verdict,
};

const checkPoint = z.looseObject({
  ...judged,
  name,
  at: vec3,
  zone: z.enum(['cylindrical', 'spherical', 'planar']),
  tolerance: number,
  displacement: vec3.nullable(),
  direction: vec3.nullable(),
  covariance: list(vec3, 3).length(3).nullable(),
});

const station = z.looseObject({
  station: stationNumber,
  angle: number,
  error,
  disc: z.record(discErrorName, numberOrNull),
  position: z.looseObject({
    ...judged,
    at: name,
    tolerance: number,
    checkPoints: few(checkPoint).min(1),
    settle: textOrNull,
    settlement,
  }),
  limits: few(
    z.looseObject({
      ...judged,
      name: limitName,
      limit: number,
      settle: textOrNull,
      settlement,
    }),
  ),
  verdict,
  covariance: covariance6,
  covarianceShared: covariance6,
  covarianceOwn: covariance6,
  uncertainty: z
    .looseObject({
      expanded: allErrors,
      standard: allErrors,
      sources: few(
        z.looseObject({
          source: z.enum(['probing', 'form', 'frame', 'scale', 'temperature']),
          standard: z.record(errorName, number),
          share: number,
        }),
      ),
      scaleEffect: list(number, 6),
    })
    .nullable(),
  features: few(feature),
  unobservable: few(z.looseObject({ freedom: errorName, reason: text })),
  nominal: z.looseObject({ origin: vec3, axes: mat3 }),
});

const motion = z.record(hubFreedom, number);

const pattern = z.looseObject({
  tolerance: number,
  free: list(hubFreedom, 6),
  motion,
  undetermined: list(hubFreedom, 6),
  value: numberOrNull,
  at: z.looseObject({ station: stationNumber, checkPoint: name }).nullable(),
  gap: number,
  contacts: byStation(z.looseObject({ station: stationNumber, checkPoint: name, share: number })),
  expanded: numberOrNull,
  probability: numberOrNull,
  verdict,
  stations: byStation(
    z.looseObject({
      ...judged,
      station: stationNumber,
      at: name.nullable(),
      checkPoints: few(z.looseObject({ name, value: numberOrNull })),
    }),
  ),
  leastSquares: z.looseObject({ motion, value: number }).nullable(),
});

const source = z.looseObject({
  points: z.looseObject({
    name: fileName,
    sha256,
    rows: count,
    used: count,
    excluded: list(z.looseObject({ line: z.int().min(1), reason: text }), MOST_LINES),
    reasons: list(z.looseObject({ reason: text, note }), MOST_LINES).optional(),
  }),
  plan: z.looseObject({ name: fileName, sha256 }),
  welds: z.looseObject({ name: fileName, sha256 }).nullable().optional(),
  software: name.min(1),
});

const result = z.looseObject({
  format: z.literal('hubtrue-result/1'),
  source,
  frame: z.looseObject({ rotation: mat3, origin: vec3, datums: few(feature), covariance: covariance6 }),
  stations: byStation(station),
  summary: z.looseObject({
    stations: count,
    conforming: count,
    nonconforming: count,
    unproven: count,
    missing: byStation(
      z.looseObject({ station: stationNumber, angle: number, reason: text, note: note.optional() }),
    ),
    worst: z.looseObject({ station: stationNumber, position: number }).nullable(),
  }),
  warnings: few(text),
  notes: few(note).optional(),
  decision: z.looseObject({
    rule: z.enum(['simple', 'guarded']),
    probability: numberOrNull,
    factor: numberOrNull,
    coverage: number,
    risk: text,
  }),
  pattern: pattern.nullable(),
  screened: list(
    z.looseObject({
      station: stationNumber.nullable(),
      feature: name,
      point: count,
      line: z.int().min(1).optional(),
      distance: number,
      excluded: z.boolean(),
    }),
    MOST_LINES,
  ),
  diagnosis: diagnosisSchema.nullable(),
});

const importSummary = z.looseObject({
  encoding: name,
  delimiter: name,
  decimal: z.enum(['.', ',']),
  unit: z.enum(['mm', 'inch', 'µm']),
  header: z.boolean(),
  columns: z.record(name, name),
  label: name.nullable(),
  fromPlan: few(name),
  sentence: text,
});

const weld = z.looseObject({
  station: z.int(),
  sequence: number,
  tool: name,
  date: name,
  values: z.record(name, number),
});

/** What a reduction gave, less the plan's summary, which follows from the plan. */
export const resultsSchema = z.strictObject({
  result,
  import: importSummary,
  welds: byStation(weld).nullable(),
  warnings: few(text),
});

/** The results of a session. */
export type SessionResults = Pick<ReducedDisc, 'result' | 'import' | 'welds' | 'warnings'>;

type Writable<T> = T extends readonly unknown[] | object ? { -readonly [K in keyof T]: Writable<T[K]> } : T;
/** The compiler names a field that the program writes and this schema would refuse. */
type Accepted<Given extends z.input<typeof resultsSchema>> = Given;
export type WritableResults = Accepted<Writable<SessionResults>>;
