/**
 * An invented diagnosis for tests of the window. Its numbers are made up and consistent only as far as views look at them;
 * nothing about the mathematics follows from it.
 */
import type {
  Component,
  ComponentName,
  Confounding,
  Diagnosis,
  Estimate,
  Harmonic,
  HarmonicChannel,
  IndexFinding,
  Parameter,
  SequenceFinding,
  Vec6,
} from '../../shared-math/diagnosis/findings.ts';
import { ERRORS } from '../../shared-math/pose/error-names.ts';
import type { ReducedDisc } from '../../src-main/api.ts';
import { exampleBudget, exampleCorrections } from './example-corrections.ts';

export function estimate(value: number, standard: number): Estimate {
  return {
    value,
    standard,
    low: value - 2.1 * standard,
    high: value + 2.1 * standard,
    degreesOfFreedom: 34,
  };
}

function parameter(
  key: string,
  name: string,
  unit: Parameter['unit'],
  value: number,
  standard: number,
  of: string | null = null,
): Parameter {
  return { key, name, unit, of, ...estimate(value, standard) };
}

interface Sketch {
  readonly name: ComponentName;
  readonly title: string;
  readonly size: number;
  readonly standard: number;
  readonly share: number;
  readonly significant: boolean;
  readonly parameters: readonly Parameter[];
  readonly sentence: string;
  readonly effect: (angle: number, station: number) => Vec6;
}

const turn = Math.PI / 180;

function sketches(outlier: number): readonly Sketch[] {
  return [
    {
      name: 'ringShift',
      title: 'Ring shift',
      size: 0.046,
      standard: 0.0019,
      share: 0.36,
      significant: true,
      parameters: [
        parameter('x', 'Shift along x', 'mm', 0.0095, 0.0009),
        parameter('y', 'Shift along y', 'mm', -0.0187, 0.0009),
        parameter('tiltX', 'Tilt about x', 'rad', 0.000016, 0.000003),
        parameter('tiltY', 'Tilt about y', 'rad', -0.00001, 0.000003),
      ],
      sentence:
        'The ring sits 21 µm off the bore axis towards station 5; alone it uses up 46 µm of position.',
      effect: (angle) => {
        const along = 0.0095 * Math.cos(angle) - 0.0187 * Math.sin(angle);
        const across = -0.0095 * Math.sin(angle) - 0.0187 * Math.cos(angle);
        return [0.3 * across, 0.95 * across, along, 0.000016 * Math.cos(angle), 0.00001, 0];
      },
    },
    {
      name: 'common',
      title: 'Common axial shift and clocking',
      size: 0.0082,
      standard: 0.0016,
      share: 0.05,
      significant: true,
      parameters: [
        parameter('axial', 'Axial shift', 'mm', 0.0031, 0.0007),
        parameter('clocking', 'Clocking', 'rad', 0.0000042, 0.0000031),
      ],
      sentence: 'All blades sit 3.1 µm towards +Z.',
      effect: () => [0.0029, 0.0011, 0, 0, 0, 0.000004],
    },
    {
      name: 'toolSetup',
      title: 'Tool set-up',
      size: 0.0094,
      standard: 0.0014,
      share: 0.07,
      significant: true,
      parameters: ERRORS.map((name, index) =>
        parameter(
          name,
          `Tool offset, ${name}`,
          index < 3 ? 'mm' : 'rad',
          [0.002, 0.003, 0.006, -0.00001, 0.000012, 0.00004][index] ?? 0,
          index < 3 ? 0.0006 : 0.000004,
          'T1',
        ),
      ),
      sentence: 'Tool T1 sits 6.0 µm too far out and is turned by 8.3″ about the upset direction.',
      effect: () => [0.002, 0.003, 0.006, -0.00001, 0.000012, 0.00004],
    },
    {
      name: 'index',
      title: 'Index',
      size: 0.0141,
      standard: 0.0017,
      share: 0.12,
      significant: true,
      parameters: [parameter('rest', 'Largest rest of one station', 'rad', 0.000012, 0.000004, '3')],
      sentence: 'The index deviates by up to 4.9″; a first harmonic of 4.0″ is most of it.',
      effect: (angle) => {
        const off = 0.0000194 * Math.cos(angle - 110 * turn);
        return [0.08 * off * 240, 0.99 * off * 240, 0, 0, 0, off];
      },
    },
    {
      name: 'harmonics',
      title: 'Radial, axial and rotational harmonics',
      size: 0.0031,
      standard: 0.0021,
      share: 0.02,
      significant: false,
      parameters: [],
      sentence: 'Radial, axial and rotational harmonics are not distinguishable from scatter.',
      effect: (angle) => [0.0006 * Math.cos(3 * angle), 0.0004 * Math.sin(2 * angle), 0, 0, 0, 0],
    },
    {
      name: 'outliers',
      title: 'Station outliers',
      size: 0.168,
      standard: 0.004,
      share: 0.31,
      significant: true,
      parameters: [parameter('distance', 'Distance', 'mm', 0.168, 0.004, String(outlier))],
      sentence: `Station ${outlier} stands out: 80 µm in oscillation and 82″ about the upset direction.`,
      effect: (_, station) =>
        station === outlier ? [0.08, 0.004, -0.006, 0, 0.00002, -0.0004] : [0, 0, 0, 0, 0, 0],
    },
    {
      name: 'scatter',
      title: 'Scatter',
      size: 0.0098,
      standard: 0.0012,
      share: 0.07,
      significant: true,
      parameters: [],
      sentence: 'What is left scatters by 2.2 µm (standard deviation).',
      effect: (_, station) => [
        0.0022 * Math.sin(7.1 * station),
        0.0022 * Math.sin(3.7 * station + 1),
        0.0022 * Math.sin(5.3 * station + 2),
        0.000015 * Math.sin(2.9 * station),
        0.000015 * Math.sin(4.4 * station),
        0.000015 * Math.sin(6.2 * station),
      ],
    },
  ];
}

const missingWelds = 'no welds file was given.';

function components(disc: ReducedDisc, outlier: number): readonly Component[] {
  const { stations } = disc.result;
  const examined = sketches(outlier).map((sketch): Component => {
    const { size, standard, effect, ...rest } = sketch;
    return {
      ...rest,
      notExamined: null,
      test: {
        statistic: sketch.significant ? 41.2 : 1.1,
        numerator: Math.max(1, sketch.parameters.length),
        denominator: 88,
        probability: sketch.significant ? 2e-7 : 0.34,
        adjusted: sketch.significant ? 9e-7 : 0.34,
      },
      size: estimate(size, standard),
      at: { station: sketch.name === 'outliers' ? outlier : (stations[1]?.station ?? 1), checkPoint: 'tip' },
      rms: 0.6 * size,
      consumed: size,
      sumOfSquares: 5200 * sketch.share,
      dimensions: Math.max(1, sketch.parameters.length),
      readings:
        sketch.name === 'common'
          ? [
              {
                cause: 'Hub datum or index zero',
                remedy: 'Set the axial stop 3.1 µm towards −Z.',
                parameters: sketch.parameters,
              },
              {
                cause: 'A constant offset of the tool',
                remedy: 'Set the tool 3.0 µm against the oscillation direction.',
                parameters: [parameter('oscillation', 'Tool offset, oscillation', 'mm', 0.0031, 0.0007)],
              },
            ]
          : [],
      stations: stations.map((entry) => ({
        station: entry.station,
        error: effect(entry.angle * turn, entry.station),
      })),
    };
  });
  const unseen = (['toolChange', 'wear'] as const).map(
    (name): Component => ({
      name,
      title: name === 'wear' ? 'Wear' : 'Tool change',
      notExamined: missingWelds,
      notExaminedNote: { code: 'no-welds-file', values: {} },
      significant: false,
      test: null,
      size: null,
      at: null,
      rms: null,
      consumed: null,
      share: 0,
      sumOfSquares: 0,
      dimensions: 0,
      parameters: [],
      readings: [],
      stations: [],
      sentence: `Not examined: ${missingWelds}`,
    }),
  );
  return [...examined.slice(0, 3), ...unseen, ...examined.slice(3)];
}

function indexFinding(disc: ReducedDisc): IndexFinding {
  const radius = 240;
  const stations = disc.result.stations.map(({ station, angle }) => {
    const harmonic = 0.0000194 * Math.cos((angle - 110) * turn);
    const rest = 0.0000044 * Math.sin(3.3 * station);
    return { station, angle, harmonic, rest, value: harmonic + rest };
  });
  const pitches = stations.map((entry, index) => {
    const next = stations[(index + 1) % stations.length] ?? entry;
    return (next.value - entry.value) * radius;
  });
  const cumulative = pitches.map((_, index) => pitches.slice(0, index).reduce((sum, one) => sum + one, 0));
  return {
    stations: stations.map(({ value, ...entry }, index) => ({
      ...entry,
      deviation: estimate(value, 0.000003),
      arc: value * radius,
      singlePitch: pitches[index] ?? null,
      cumulativePitch: cumulative[index] ?? null,
    })),
    singlePitch: Math.max(...pitches.map(Math.abs)),
    totalCumulativePitch: Math.max(...cumulative) - Math.min(...cumulative),
    repeatability: null,
  };
}

function harmonics(count: number): readonly Harmonic[] {
  const channels: readonly HarmonicChannel[] = [
    'index',
    'radial',
    'tangential',
    'axial',
    'lean',
    'sweep',
    'stagger',
  ];
  return channels.flatMap((channel, row) =>
    Array.from({ length: Math.floor(count / 2) }, (_, index): Harmonic => {
      const isAngle = !['radial', 'tangential', 'axial'].includes(channel);
      const unit = isAngle ? 0.000003 : 0.0008;
      const planted = channel === 'index' && index === 0;
      const value = planted ? 0.0000194 : unit * (0.5 + 0.45 * Math.sin(2.7 * index + 1.9 * row));
      return {
        channel,
        order: index + 1,
        amplitude: estimate(value, unit * 0.4),
        phase: 1.92,
        floor: unit * 1.6,
        probability: planted ? 1e-6 : 0.4,
        significant: planted,
        aliases: [],
      };
    }),
  );
}

function sequence(disc: ReducedDisc): SequenceFinding | null {
  if (disc.welds === null) return null;
  const errors = new Map(disc.result.stations.map((entry) => [entry.station, entry.error]));
  const welds = [...disc.welds].sort((a, b) => a.sequence - b.sequence);
  const ages = new Map<string, number>();
  const rows = welds.map(({ station, sequence: place, tool }) => {
    const age = ages.get(tool) ?? 0;
    ages.set(tool, age + 1);
    const error = errors.get(station);
    return {
      station,
      sequence: place,
      tool,
      age,
      error: error === undefined ? null : (ERRORS.map((name) => error[name] ?? 0) as unknown as Vec6),
    };
  });
  const tools = [...new Set(rows.map((row) => row.tool))];
  return {
    welds: rows,
    changes: tools.slice(1).map((to, index) => ({
      sequence: rows.find((row) => row.tool === to)?.sequence ?? 0,
      from: tools[index] ?? '',
      to,
    })),
    lines: ERRORS.flatMap((error, index) =>
      tools.map((tool) => {
        const own = rows.filter((row) => row.tool === tool);
        const mean = own.reduce((sum, row) => sum + (row.error?.[index] ?? 0), 0) / own.length;
        const unit = index < 3 ? 0.002 : 0.00002;
        return {
          error,
          tool,
          from: { sequence: own[0]?.sequence ?? 0, ...estimate(mean - unit, unit) },
          to: { sequence: own.at(-1)?.sequence ?? 0, ...estimate(mean + unit, unit) },
        };
      }),
    ),
    weldsLeft: { value: 14, low: 9, high: 31 },
  };
}

export function exampleDiagnosis(disc: ReducedDisc): Diagnosis {
  const outlier = disc.result.summary.worst?.station ?? 1;
  const all = components(disc, outlier);
  const confounded: readonly Confounding[] = [
    {
      between: ['common', 'toolSetup'],
      words:
        'A shift of the hub datum along the axis and a constant tool offset make the same errors: both readings are stated.',
    },
  ];
  return {
    leading: 'ringShift',
    components: all,
    confounded,
    coverage: 0.95,
    falseDiscoveryRate: 0.05,
    sumOfSquares: 5200,
    stations: disc.result.stations.map((entry) => entry.station),
    index: indexFinding(disc),
    harmonics: harmonics(disc.plan.stations.length),
    sequence: sequence(disc),
    outliers: [
      {
        station: outlier,
        error: [0.08, 0.004, -0.006, 0, 0.00002, -0.0004],
        distance: 23.4,
        probability: 1e-9,
        adjusted: 2e-8,
        size: 0.168,
        index: null,
        words: 'oscillation and rotation about upset',
      },
    ],
    scatter: {
      process: [0.0022, 0.0022, 0.0022, 0.000015, 0.000015, 0.000015],
      measurement: [0.0009, 0.0009, 0.0006, 0.000006, 0.000006, 0.000006],
      index: 0.000004,
      degreesOfFreedom: 88,
    },
    budget: exampleBudget(),
    corrections: exampleCorrections(disc),
    sentences: [
      'The ring sits 21 µm off the bore axis towards station 5; re-centring it would bring 17 of 20 stations inside.',
      `Station ${outlier} stands out: 80 µm in oscillation and 82″ about the upset direction.`,
      'The index deviates by up to 4.9″; a first harmonic of 4.0″ is most of it.',
      'Harmonics are not distinguishable from scatter.',
    ],
    warnings: ['Tool change and wear were not examined: no welds file was given.'],
  };
}
