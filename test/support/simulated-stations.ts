/**
 * Station errors of simulated discs of known causes, without points: planted motions composed exactly, scatter, index and
 * measurement noise of stated covariance added. Written from the definitions, not with the code of the diagnosis.
 */

import type { CheckPoint, PartDefinition } from '../../shared-math/definition.ts';
import type { Weld } from '../../shared-math/diagnosis/weld-order.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { transpose } from '../../shared-math/geometry/matrix.ts';
import { compose, inverse } from '../../shared-math/geometry/rigid-motion.ts';
import { rotationFromVector, rotationVector } from '../../shared-math/geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import type { StationResult } from '../../shared-math/result.ts';
import type { RandomSource } from './random.ts';
import { type DiscOptions, discDefinition } from './synthetic-disc.ts';

export type Six = readonly number[];
const NONE: Six = [0, 0, 0, 0, 0, 0];

export interface SimulatedCauses {
  /** Displacement (mm) and turn (rad) of the ring, disc axes, about the disc origin. */
  readonly ring: Six;
  /** Set-up of each tool in the order of first use, blade axes; mm, rad. */
  readonly tools: readonly Six[];
  /** Per weld of the same tool made before. */
  readonly wear: Six;
  /** amplitude·cos(order·θ − phase), rad. */
  readonly index: readonly { readonly order: number; readonly amplitude: number; readonly phase: number }[];
  /** amplitude·cos(order·θ − phase) of the radial displacement, mm. */
  readonly radial: readonly { readonly order: number; readonly amplitude: number; readonly phase: number }[];
  /** Standard deviations of the six errors between stations, and of the index (rad). */
  readonly scatter: Six;
  readonly indexScatter: number;
  /** Additional error of single stations. */
  readonly slips: ReadonlyMap<number, Six>;
}

export const NO_CAUSES: SimulatedCauses = {
  ring: NONE,
  tools: [NONE],
  wear: NONE,
  index: [],
  radial: [],
  scatter: [0.0025, 0.0025, 0.0025, 2e-5, 2e-5, 2e-5],
  indexScatter: 0,
  slips: new Map(),
};

/**
 * Own covariance of a blade measured like the sample discs (datum planes, about 1 µm a point), mm and rad: standard deviations and
 * the correlation of displacement with turn that a flank away from the blade origin gives.
 */
export const OWN_COVARIANCE: readonly (readonly number[])[] = covarianceOf(
  [0.0007, 0.0005, 0.00025, 5.4e-6, 7.7e-6, 1.58e-5],
  [
    [0, 4, 0.85],
    [1, 3, -0.8],
    [1, 5, 0.3],
  ],
);

/** Of a hub frame measured like the sample discs, mm and rad about the disc origin. */
export const HUB_COVARIANCE: readonly (readonly number[])[] = covarianceOf(
  [0.0005, 0.0005, 0.0003, 4e-6, 4e-6, 5e-6],
  [
    [0, 4, 0.3],
    [1, 3, -0.3],
  ],
);

function covarianceOf(
  deviations: readonly number[],
  correlations: readonly (readonly [number, number, number])[],
): readonly (readonly number[])[] {
  return deviations.map((a, i) =>
    deviations.map((b, j) => {
      const found = correlations.find(([p, q]) => (p === i && q === j) || (p === j && q === i));
      return a * b * (i === j ? 1 : (found?.[2] ?? 0));
    }),
  );
}

export interface SimulationOptions extends DiscOptions {
  readonly causes: SimulatedCauses;
  /** Weld order: stations with the number of their tool; null: no welds file. */
  readonly welds: readonly { readonly station: number; readonly tool: number }[] | null;
  readonly missing?: readonly number[];
  readonly hub?: readonly (readonly number[])[] | null;
  readonly own?: readonly (readonly number[])[] | null;
  readonly checkPoints?: readonly CheckPoint[];
  readonly definition?: PartDefinition;
}

export interface SimulatedDisc {
  readonly definition: PartDefinition;
  readonly stations: readonly StationResult[];
  readonly frame: { readonly covariance: readonly (readonly number[])[] | null };
  readonly welds: readonly Weld[] | null;
  /** Index that each station really has, rad: harmonics and scatter. */
  readonly index: ReadonlyMap<number, number>;
}

export function simulateDisc(options: SimulationOptions, random: RandomSource): SimulatedDisc {
  const { causes } = options;
  const definition = options.definition ?? discDefinition(options);
  const hub = options.hub === undefined ? HUB_COVARIANCE : options.hub;
  const own = options.own === undefined ? OWN_COVARIANCE : options.own;
  // The hub's noise moves the frame; the blades are seen to move the other way.
  const seen = motion(hub === null ? NONE : drawn(hub, random).map((x) => -x));
  const ages = new Map<number, number>();
  const made = new Map<number, { readonly tool: number; readonly age: number }>();
  for (const { station, tool } of options.welds ?? []) {
    const age = ages.get(tool) ?? 0;
    made.set(station, { tool, age });
    ages.set(tool, age + 1);
  }
  const index = new Map<number, number>();
  const stations = definition.stations.flatMap(({ station, angle, seat }): StationResult[] => {
    const nominal = nominalBladeFrame(angle, seat);
    const weld = made.get(station) ?? { tool: 0, age: 0 };
    const turn =
      causes.index.reduce((sum, h) => sum + h.amplitude * Math.cos(h.order * angle - h.phase), 0) +
      causes.indexScatter * random.normal();
    index.set(station, turn);
    const radial = causes.radial.reduce(
      (sum, h) => sum + h.amplitude * Math.cos(h.order * angle - h.phase),
      0,
    );
    const chain: RigidMotion[] = [
      inverse(nominal),
      seen,
      motion(causes.ring),
      motion([radial * Math.cos(angle), radial * Math.sin(angle), 0, 0, 0, 0]),
      motion([0, 0, 0, 0, 0, turn]),
      nominal,
      motion(causes.tools[weld.tool]!),
      motion(causes.wear.map((w) => w * weld.age)),
      motion(causes.slips.get(station) ?? NONE),
      motion(causes.scatter.map((s) => s * random.normal())),
    ];
    const { rotation, translation } = chain.reduce(compose);
    const noise = own === null ? NONE : drawn(own, random);
    const six = [...translation, ...rotationVector(rotation)].map((x, i) => x + noise[i]!);
    if (options.missing?.includes(station)) return [];
    return [stationResult(station, angle, nominal, six, own)];
  });
  return {
    definition,
    stations,
    frame: { covariance: hub },
    welds:
      options.welds?.map(({ station, tool }, i) => ({ station, sequence: i + 1, tool: `T${tool + 1}` })) ??
      null,
    index,
  };
}

function stationResult(
  station: number,
  angle: number,
  nominal: RigidMotion,
  six: Six,
  own: readonly (readonly number[])[] | null,
): StationResult {
  const [oscillation, lateral, upset, rotOscillation, rotLateral, rotUpset] = six as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  return {
    station,
    angle: (angle * 180) / Math.PI,
    error: { oscillation, lateral, upset, rotOscillation, rotLateral, rotUpset },
    disc: { radial: null, tangential: null, axial: null, lean: null, sweep: null, stagger: null },
    position: {
      value: null,
      at: '',
      expanded: null,
      probability: null,
      verdict: 'unproven',
      tolerance: 0,
      checkPoints: [],
      settle: null,
    },
    limits: [],
    verdict: 'unproven',
    covariance: null,
    covarianceShared: null,
    covarianceOwn: own,
    uncertainty: null,
    features: [],
    unobservable: [],
    nominal: { origin: nominal.translation, axes: transpose(nominal.rotation) },
  };
}

export function motion(six: Six): RigidMotion {
  const [x, y, z, a, b, c] = six as [number, number, number, number, number, number];
  return { rotation: rotationFromVector([a, b, c]), translation: [x, y, z] };
}

/** A normal six-vector of this covariance, by its Cholesky factor. */
export function drawn(covariance: readonly (readonly number[])[], random: RandomSource): number[] {
  const l = covariance.map(() => new Array<number>(covariance.length).fill(0));
  covariance.forEach((row, i) => {
    for (let j = 0; j <= i; j++) {
      let sum = row[j]!;
      for (let k = 0; k < j; k++) sum -= l[i]![k]! * l[j]![k]!;
      l[i]![j] = i === j ? Math.sqrt(Math.max(0, sum)) : l[j]![j]! > 0 ? sum / l[j]![j]! : 0;
    }
  });
  const z = covariance.map(() => random.normal());
  return l.map((row) => row.reduce((sum, x, k) => sum + x * z[k]!, 0));
}

/** The six errors that one cause makes alone at a station. */
export function errorsOfMotion(nominal: RigidMotion, disc: Six): Six {
  const { rotation, translation } = compose(compose(inverse(nominal), motion(disc)), nominal);
  return [...translation, ...rotationVector(rotation)];
}

/** 2·|δ| of a check point by six errors. */
export function twiceDisplacement(six: Six, at: Vec3): number {
  const { rotation: r, translation: t } = motion(six);
  return (
    2 *
    Math.hypot(
      ...([0, 1, 2] as const).map((i) => r[i][0] * at[0] + r[i][1] * at[1] + r[i][2] * at[2] + t[i] - at[i]),
    )
  );
}
