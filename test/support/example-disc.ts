/**
 * An invented reduced disc for tests of the window: 18 stations, one missing, one with an unobserved freedom, one with an
 * unproven position. Its numbers are made up and consistent only as far as views look at them; nothing about the
 * mathematics follows from it.
 */
import type { DiscErrorName, ErrorName } from '../../shared-math/definition.ts';
import type {
  CheckPointResult,
  FeatureReport,
  PatternResult,
  StationResult,
  StationUncertainty,
  UncertaintySource,
  Verdict,
} from '../../shared-math/result.ts';
import type { PlanDatumDetails, ReducedDisc } from '../../src-main/api.ts';
import { exampleDefinition } from './example-definition.ts';

const tolerance = 0.05;
const limits: Partial<Record<ErrorName, number>> = {
  oscillation: 0.025,
  lateral: 0.025,
  upset: 0.05,
  rotOscillation: 0.0005,
  rotLateral: 0.0005,
};
const tip = 160;
/** The station whose tip lies so near the tolerance that neither verdict is proven. */
export const unprovenStation = 15;
export const unprovenWords =
  'Conformity would be proven at the same value with a standard uncertainty of 0.4 µm instead of 1.6 µm.';
const lengthU = 0.0032;
const rotationU = 0.00002;

/** A plain linear congruential sequence in −1 … 1, so that every run sees the same disc. */
function sequence(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return (state / 2147483648) * 2 - 1;
  };
}

const within = (size: number, limit: number): Verdict => (size <= limit ? 'conforming' : 'nonconforming');

function feature(label: string, name: string, next: () => number): FeatureReport {
  return {
    label,
    feature: name,
    type: 'plane',
    points: 24,
    rms: 0.0012 + 0.0004 * next(),
    form: 0.0048 + 0.001 * next(),
    point: [0, 0, 12],
    direction: [0, 0, 1],
    radius: null,
    halfAngle: null,
    degreesOfFreedom: 21,
    conditionNumber: 3.1,
    iterations: 1,
    fixes: label === 'D' ? ['upset', 'rotation about oscillation', 'rotation about lateral'] : ['lateral'],
  };
}

const shares: readonly (readonly [UncertaintySource, number])[] = [
  ['probing', 0.5],
  ['form', 0],
  ['frame', 0.4],
  ['scale', 0.06],
  ['temperature', 0.04],
];

/** The same half-widths for all errors of a kind; null where the error is. */
function uncertaintyOf(
  values: Readonly<Record<ErrorName | DiscErrorName, number | null>>,
): StationUncertainty {
  const isRotation = (name: string): boolean => /^rot|^(lean|sweep|stagger)$/.test(name);
  const table = (part: number) =>
    Object.fromEntries(
      Object.entries(values).map(([name, value]) => [
        name,
        value === null ? null : part * (isRotation(name) ? rotationU : lengthU),
      ]),
    ) as StationUncertainty['expanded'];
  const half = table(0.5);
  return {
    expanded: table(1),
    standard: half,
    scaleEffect: [0, 0, 0, 0, 0, 0],
    sources: shares.map(([source, share]) => ({
      source,
      share,
      standard: Object.fromEntries(
        Object.entries(half).map(([name, value]) => [name, (value ?? 0) * Math.sqrt(share)]),
      ) as Record<ErrorName, number>,
    })),
  };
}

function station(number: number, next: () => number): StationResult {
  const worse = number === 7 ? 2.6 : 1;
  const error: Record<ErrorName, number | null> = {
    oscillation: 0.012 * next() * worse,
    lateral: 0.012 * next() * worse,
    upset: 0.03 * next(),
    rotOscillation: 0.00009 * next() * worse,
    rotLateral: 0.00009 * next() * worse,
    rotUpset: number === 4 ? null : 0.0006 * next(),
  };
  const disc: Record<DiscErrorName, number | null> = {
    radial: error.upset,
    tangential: 0.012 * next(),
    axial: 0.012 * next(),
    lean: 0.0002 * next(),
    sweep: 0.0002 * next(),
    stagger: number === 4 ? null : -(error.rotUpset ?? 0),
  };
  const point = (name: string, z: number): CheckPointResult => {
    const o = (error.oscillation ?? 0) + (error.rotLateral ?? 0) * z;
    const l = (error.lateral ?? 0) - (error.rotOscillation ?? 0) * z;
    const value = 2 * Math.hypot(o, l);
    const unproven = number === unprovenStation && z > 0;
    return {
      name,
      at: [0, 0, z],
      zone: 'cylindrical',
      tolerance,
      displacement: [o, l, error.upset ?? 0],
      direction: null,
      value,
      expanded: 0.004,
      probability: unproven ? 0.71 : value <= tolerance ? 0.9987 : 0.0004,
      covariance: [
        [4e-6, 1e-6, 0],
        [1e-6, 2e-6, 0],
        [0, 0, 1e-6],
      ],
      verdict: unproven ? 'unproven' : within(value, tolerance),
    };
  };
  const checkPoints = [point('root', 0), point('tip', tip)];
  const worst = checkPoints.reduce((a, b) => ((b.value ?? 0) > (a.value ?? 0) ? b : a));
  const unproven = checkPoints.find((entry) => entry.verdict === 'unproven');
  const judged = (Object.entries(limits) as [ErrorName, number][]).map(([name, limit]) => ({
    name,
    value: error[name],
    limit,
    expanded: error[name] === null ? null : name.startsWith('rot') ? rotationU : lengthU,
    probability: error[name] === null ? null : 0.99,
    verdict: within(Math.abs(error[name] ?? 0), limit),
    settle: null,
  }));
  const verdicts = [worst.verdict, ...judged.map((entry) => entry.verdict)];
  return {
    station: number,
    angle: (number - 1) * 20,
    error,
    disc,
    position: {
      value: worst.value,
      at: worst.name,
      expanded: 0.0042,
      probability: Math.min(...checkPoints.map((entry) => entry.probability ?? 1)),
      verdict: unproven?.verdict ?? worst.verdict,
      tolerance,
      checkPoints,
      settle: unproven === undefined ? null : unprovenWords,
    },
    limits: judged,
    verdict: verdicts.includes('nonconforming')
      ? 'nonconforming'
      : number === 4 || unproven !== undefined
        ? 'unproven'
        : 'conforming',
    uncertainty: uncertaintyOf({ ...error, ...disc }),
    covariance: null,
    covarianceShared: null,
    covarianceOwn: null,
    features: [feature('D', 'SEAT', next), feature('E', 'SIDE', next), feature('F', 'END', next)],
    unobservable:
      number === 4 ? [{ freedom: 'rotUpset', reason: 'no feature of this blade turns with it' }] : [],
    nominal: {
      origin: [240, 0, 15],
      axes: [
        [0, 0, 1],
        [0, 1, 0],
        [1, 0, 0],
      ],
    },
  };
}

export function exampleDisc(): ReducedDisc {
  const next = sequence(7);
  const stations = Array.from({ length: 18 }, (_, index) => index + 1)
    .filter((number) => number !== 12)
    .map((number) => station(number, next));
  const count = (verdict: Verdict) => stations.filter((entry) => entry.verdict === verdict).length;
  const worst = stations.reduce((a, b) => ((b.position.value ?? 0) > (a.position.value ?? 0) ? b : a));
  const plain: FeatureReport = { ...feature('A', 'HUB-FACE', next), points: 120 };
  return {
    result: {
      format: 'hubtrue-result/1',
      source: {
        points: {
          name: 'points.csv',
          sha256: '0'.repeat(64),
          rows: 1304,
          used: 1301,
          excluded: [
            { line: 44, reason: 'feature REF-BALL is not in the plan' },
            { line: 45, reason: 'feature REF-BALL is not in the plan' },
            { line: 46, reason: 'feature REF-BALL is not in the plan' },
          ],
        },
        plan: { name: 'plan.json', sha256: '1'.repeat(64) },
        software: '0.1.0',
      },
      frame: {
        rotation: [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ],
        origin: [0, 0, 0],
        datums: [plain],
        covariance: null,
      },
      stations,
      summary: {
        stations: 18,
        conforming: count('conforming'),
        nonconforming: count('nonconforming'),
        unproven: count('unproven'),
        missing: [{ station: 12, angle: 220, reason: 'feature SEAT has 2 points, a plane needs 3' }],
        worst: { station: worst.station, position: worst.position.value ?? 0 },
      },
      warnings: ['The file covers only half of the slot; clocking rests on it.'],
      decision: {
        rule: 'guarded',
        probability: 0.95,
        factor: null,
        coverage: 0.95,
        risk: 'Accepted where conformity is proven at 95 %.',
      },
      screened: [],
      pattern: null,
      diagnosis: null,
    },
    plan: {
      title: 'Example fan disc (invented)',
      part: { name: 'Example fan disc (invented)' },
      inspection: {},
      pose: 'datum',
      sense: 'counterclockwise',
      stations: Array.from({ length: 18 }, (_, index) => ({ station: index + 1, angle: index * 20 })),
      tolerance,
      zone: 'cylindrical',
      limits,
      hubDatums: ['A HUB-FACE (plane)'],
      bladeDatums: ['D SEAT (plane)', 'E SIDE (plane)', 'F END (plane)'],
      details: {
        hubDatums: [datum('A', 'HUB-FACE')],
        bladeDatums: [datum('D', 'SEAT'), datum('E', 'SIDE'), datum('F', 'END')],
        seat: { radius: 240, axial: 15, heightAngle: 6, staggerAngle: 38 },
        explicitAngles: false,
        overridden: [],
        temperature: null,
        uncertainty: { probing: 0.0012, scale: 0, formCorrelation: 0 },
        characteristics: [],
      },
    },
    definition: exampleDefinition({ tolerance, limits, tip }),
    import: {
      encoding: 'UTF-8',
      delimiter: ',',
      decimal: '.',
      unit: 'mm',
      header: true,
      columns: { station: 'station', feature: 'feature', x: 'x', y: 'y', z: 'z' },
      label: null,
      fromPlan: [],
      sentence:
        'Read as UTF-8 with commas and decimal points, millimetres, columns station, feature, x, y, z.',
    },
    welds: null,
    warnings: [],
  };
}

/** The same disc where the plan also limits the blades relative to each other, and a screen flagged two points. */
export function exampleDiscOfTwoLevels(): ReducedDisc {
  const disc = exampleDisc();
  const relativeTolerance = 0.03;
  const relative = disc.result.stations.map(({ station: number, position }) => {
    const checkPoints = position.checkPoints.map(({ name, value }) => ({ name, value: 0.6 * (value ?? 0) }));
    const worst = checkPoints.reduce((a, b) => (b.value > a.value ? b : a));
    return {
      station: number,
      value: worst.value,
      at: worst.name,
      expanded: 0.0021,
      probability: worst.value <= relativeTolerance ? 0.97 : 0.002,
      verdict: within(worst.value, relativeTolerance),
      checkPoints,
    };
  });
  const worst = relative.reduce((a, b) => (b.value > a.value ? b : a));
  const pattern: PatternResult = {
    tolerance: relativeTolerance,
    free: ['x', 'y', 'rotZ', 'rotX'],
    motion: { x: 0.0123, y: -0.0045, z: 0, rotX: 0.00002, rotY: 0, rotZ: -0.00031 },
    undetermined: ['rotX'],
    value: worst.value,
    at: { station: worst.station, checkPoint: worst.at },
    gap: 1e-12,
    contacts: [
      { station: worst.station, checkPoint: worst.at, share: 0.6 },
      { station: 2, checkPoint: 'root', share: 0.4 },
    ],
    expanded: 0.0019,
    probability: 0.0003,
    verdict: 'nonconforming',
    stations: relative,
    leastSquares: { motion: { x: 0.0101, y: -0.0052, z: 0, rotX: 0, rotY: 0, rotZ: 0 }, value: 0.0999 },
  };
  const screened = [
    { station: null, feature: 'HUB-BORE', point: 17, distance: -0.0312, excluded: true },
    { station: 9, feature: 'SIDE', point: 4, distance: 0.0205, excluded: false },
  ];
  return { ...disc, result: { ...disc.result, pattern, screened } };
}

function datum(label: string, feature: string): PlanDatumDetails {
  return {
    label,
    features: [feature],
    type: 'plane',
    association: 'gaussian',
    weights: 'equal',
    screenExcludes: false,
  };
}
