/**
 * An invented reduced disc for tests of the window: 18 stations, one missing, one with an unobserved freedom. Its
 * numbers are made up and consistent only as far as views look at them; nothing about the mathematics follows from it.
 */
import type { DiscErrorName, ErrorName } from '../../shared-math/definition.ts';
import type { CheckPointResult, FeatureReport, StationResult, Verdict } from '../../shared-math/result.ts';
import type { ReducedDisc } from '../../src-main/api.ts';

const tolerance = 0.05;
const limits: Partial<Record<ErrorName, number>> = {
  oscillation: 0.025,
  lateral: 0.025,
  upset: 0.05,
  rotOscillation: 0.0005,
  rotLateral: 0.0005,
};
const tip = 160;

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
    return {
      name,
      at: [0, 0, z],
      zone: 'cylindrical',
      tolerance,
      displacement: [o, l, error.upset ?? 0],
      value,
      verdict: within(value, tolerance),
    };
  };
  const checkPoints = [point('root', 0), point('tip', tip)];
  const worst = checkPoints.reduce((a, b) => ((b.value ?? 0) > (a.value ?? 0) ? b : a));
  const judged = (Object.entries(limits) as [ErrorName, number][]).map(([name, limit]) => ({
    name,
    value: error[name],
    limit,
    expanded: null,
    probability: null,
    verdict: within(Math.abs(error[name] ?? 0), limit),
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
      expanded: null,
      probability: null,
      verdict: worst.verdict,
      tolerance,
      checkPoints,
    },
    limits: judged,
    verdict: verdicts.includes('nonconforming') ? 'nonconforming' : number === 4 ? 'unproven' : 'conforming',
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
      warnings: ['The plan asks for the guarded rule; values are judged against limits without uncertainty.'],
      decision: { requested: 'guarded', applied: 'simple' },
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
    },
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
