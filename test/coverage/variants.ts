/** The measuring tasks of the coverage experiment. All are invented. Lengths mm, angles rad. */
import type {
  BladeSeat,
  CheckPoint,
  DatumDefinition,
  PartDefinition,
  UncertaintyDefinition,
  ZoneShape,
} from '../../shared-math/definition.ts';
import { DEGREE, datum, discDefinition } from '../support/synthetic-disc.ts';
import type { Patch } from './forward-model.ts';

export interface Variant {
  readonly name: string;
  readonly definition: PartDefinition;
  readonly patches: ReadonlyMap<string, Patch>;
  readonly sigma: 'plan' | 'column';
  readonly tip: number | null;
  readonly statesNormals: boolean;
}

export const STATIONS = 9;
export const TOLERANCE = 0.05;
/** Standard deviation of every coordinate, mm; in a sigma column it is the middle of half to double. */
export const SIGMA = 0.0015;
const SEAT: BladeSeat = { radius: 236, axial: -18, heightAngle: 5.5 * DEGREE, staggerAngle: 36 * DEGREE };

const FACE = datum('A', 'plane', { point: [0, 0, 0], direction: [0, 0, 1] });
const BORE = datum(
  'B',
  'cylinder',
  { point: [0, 0, -15], direction: [0, 0, 1], radius: 72 },
  { side: 'inside' },
);
const SLOT = datum('C', 'midplane', { point: [96, 0, -10], direction: [0, 1, 0] });
const FLANK = datum('D', 'plane', { point: [0, 9, 80], direction: [0, 1, 0] });
const EDGE = datum('E', 'plane', { point: [28, 0, 80], direction: [1, 0, 0] });
const BLADE_SEAT = datum('F', 'plane', { point: [0, 0, 12], direction: [0, 0, 1] });
const PIN = datum(
  'D',
  'cylinder',
  { point: [0, 0, 60], direction: [0, 0, 1], radius: 9 },
  { side: 'outside' },
);
const BALL = datum(
  'G',
  'sphere',
  { point: [0, 12, 150], direction: [0, 0, 1], radius: 4 },
  { side: 'outside' },
);

const HUB: readonly (readonly [string, Patch])[] = [
  ['A', { shape: 'ring', inner: 82, outer: 112, points: 120 }],
  ['B', { shape: 'barrel', length: 28, points: 200 }],
  ['C', { shape: 'rectangle', length: 16, width: 24, points: 40 }],
];
const FEW_HUB: readonly (readonly [string, Patch])[] = [
  ['A', { shape: 'ring', inner: 82, outer: 112, points: 40 }],
  ['B', { shape: 'barrel', length: 60, points: 96 }],
  ['C', { shape: 'rectangle', length: 16, width: 24, points: 20 }],
];
const blade = (flank: number, edge: number, seat: number): readonly (readonly [string, Patch])[] => [
  ['D', { shape: 'rectangle', length: 120, width: 40, points: flank }],
  ['E', { shape: 'rectangle', length: 120, width: 8, points: edge }],
  ['F', { shape: 'rectangle', length: 40, width: 14, points: seat }],
  ['G', { shape: 'cap', points: 12 }],
];
const pinned: readonly (readonly [string, Patch])[] = [
  ['D', { shape: 'barrel', length: 90, points: 30 }],
  ['E', { shape: 'rectangle', length: 120, width: 8, points: 16 }],
  ['F', { shape: 'rectangle', length: 40, width: 14, points: 12 }],
];

const root = (zone: ZoneShape): CheckPoint => point('root', 0, zone);
const tip = (zone: ZoneShape): CheckPoint => point('tip', 160, zone);
function point(name: string, height: number, zone: ZoneShape): CheckPoint {
  const direction = zone === 'planar' ? ([0, 1, 0] as const) : null;
  return { name, at: [0, 0, height], zone, tolerance: TOLERANCE, direction };
}

interface Task {
  readonly hub?: readonly DatumDefinition[];
  readonly blade?: readonly DatumDefinition[];
  readonly pose?: 'datum' | 'bestfit';
  readonly checkPoints?: readonly CheckPoint[];
  readonly weights?: 'equal' | 'sigma';
  readonly uncertainty?: Partial<UncertaintyDefinition>;
  readonly patches: readonly (readonly [string, Patch])[];
  readonly sigma?: 'plan' | 'column';
  readonly tip?: number;
  readonly statesNormals?: boolean;
}

function variant(name: string, task: Task): Variant {
  const { weights = 'equal' } = task;
  const weighted = (datums: readonly DatumDefinition[]) => datums.map((d) => ({ ...d, weights }));
  const base = discDefinition({
    stations: STATIONS,
    firstAngle: 10 * DEGREE,
    seat: SEAT,
    hubDatums: weighted(task.hub ?? [FACE, BORE, SLOT]),
    bladeDatums: weighted(task.blade ?? [FLANK, EDGE, BLADE_SEAT]),
    pose: task.pose ?? 'datum',
    requirement: { checkPoints: task.checkPoints ?? [root('cylindrical'), tip('cylindrical')], limits: {} },
  });
  return {
    name,
    definition: {
      ...base,
      uncertainty: {
        ...base.uncertainty,
        probing: task.sigma === 'column' ? null : SIGMA,
        ...task.uncertainty,
      },
    },
    patches: new Map(task.patches),
    sigma: task.sigma ?? 'plan',
    tip: task.tip ?? null,
    statesNormals: task.statesNormals ?? false,
  };
}

/** Tasks whose noise is as stated: the demanded experiment. */
export const VARIANTS: readonly Variant[] = [
  variant('face first; blade by datums, root and tip', { patches: [...HUB, ...blade(40, 24, 16)] }),
  variant('bore first; few points, tip alone', {
    hub: [BORE, FACE, SLOT],
    checkPoints: [tip('cylindrical')],
    patches: [...FEW_HUB, ...blade(12, 12, 12)],
  }),
  variant('face first; few points, sphere at the tip', {
    checkPoints: [tip('spherical')],
    patches: [...FEW_HUB, ...blade(16, 12, 12)],
  }),
  variant('face first; best fit of planes and ball', {
    pose: 'bestfit',
    blade: [FLANK, EDGE, BLADE_SEAT, BALL],
    patches: [...HUB, ...blade(16, 12, 12)],
  }),
  variant('bore first; best fit, tip alone', {
    hub: [BORE, FACE, SLOT],
    pose: 'bestfit',
    checkPoints: [tip('cylindrical')],
    patches: [...FEW_HUB, ...blade(24, 16, 12)],
  }),
  variant('face first; tip centres without normals', {
    blade: [PIN, EDGE, BLADE_SEAT],
    tip: 1.5,
    patches: [...HUB, ...pinned],
  }),
  variant('bore first; tip centres with normals, width at the tip', {
    hub: [BORE, FACE, SLOT],
    tip: 1.5,
    statesNormals: true,
    checkPoints: [tip('planar')],
    patches: [...FEW_HUB, ...blade(24, 16, 12)],
  }),
  variant('face first; sigma column, weighted', {
    sigma: 'column',
    weights: 'sigma',
    patches: [...HUB, ...blade(20, 16, 12)],
  }),
  variant('bore first; sigma column, not weighted', {
    hub: [BORE, FACE, SLOT],
    sigma: 'column',
    patches: [...FEW_HUB, ...blade(20, 16, 12)],
  }),
  variant('face first; scale and temperature uncertain', {
    uncertainty: { scale: 1.5e-5, temperatureScale: 1e-5 },
    patches: [...HUB, ...blade(24, 16, 12)],
  }),
];

/** Beyond the demand: the plan states nothing, uncertainties come from the residuals alone. */
export const UNSTATED: readonly Variant[] = [
  variant('face first; nothing stated, residuals alone', {
    uncertainty: { probing: null },
    patches: [...HUB, ...blade(16, 12, 12)],
  }),
  variant('bore first; nothing stated, best fit', {
    hub: [BORE, FACE, SLOT],
    pose: 'bestfit',
    uncertainty: { probing: null },
    patches: [...FEW_HUB, ...blade(16, 12, 12)],
  }),
];
