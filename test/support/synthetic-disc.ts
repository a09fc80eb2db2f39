/**
 * Noise-free discs from known truth, made independently of the associations: every point lies exactly on its nominal
 * feature, moved by the blade's error and by the machine pose.
 */
import type {
  BladeRequirement,
  BladeSeat,
  Datum,
  DatumDefinition,
  DecisionDefinition,
  FeatureType,
  PartDefinition,
  PatternDatum,
  StationDefinition,
} from '../../shared-math/definition.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { applyToPoint, compose } from '../../shared-math/geometry/rigid-motion.ts';
import { rotationFromVector } from '../../shared-math/geometry/rotation.ts';
import type { RigidMotion, Vec3 } from '../../shared-math/geometry/types.ts';
import { addScaled, cross, normalize, perpendicular, scale } from '../../shared-math/geometry/vector.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import type { RandomSource } from './random.ts';

export const DEGREE = Math.PI / 180;

export function datum(
  label: string,
  type: FeatureType,
  nominal: { point: Vec3; direction?: Vec3; radius?: number; halfAngle?: number },
  more: Partial<DatumDefinition> = {},
): DatumDefinition {
  return {
    label,
    features: type === 'midplane' ? [`${label}-1`, `${label}-2`] : [`${label}-FEATURE`],
    type,
    nominal: {
      point: nominal.point,
      direction: nominal.direction ? normalize(nominal.direction) : null,
      radius: nominal.radius ?? null,
      halfAngle: nominal.halfAngle ?? null,
    },
    side: null,
    material: 'negative',
    clocking: type === 'plane' || type === 'line' ? 'direction' : 'location',
    weights: 'equal',
    association: 'gaussian',
    ...more,
  };
}

/** A pattern of the given features, whose names and labels follow its label. */
export function pattern(label: string, members: readonly DatumDefinition[]): PatternDatum {
  const named = members.map((m, k) => ({
    ...m,
    label: `${label}.${k + 1}`,
    features: m.features.map((_, i) => `${label}-${k + 1}${m.features.length > 1 ? `-${i + 1}` : ''}`),
  }));
  const mean = (k: 0 | 1 | 2): number =>
    members.reduce((sum, m) => sum + m.nominal.point[k], 0) / members.length;
  return {
    label,
    type: 'pattern',
    features: named.flatMap((m) => m.features),
    nominal: { point: [mean(0), mean(1), mean(2)], direction: null, radius: null, halfAngle: null },
    members: named,
  };
}

export const FACE = datum('A', 'plane', { point: [0, 0, 0], direction: [0, 0, 1] });
export const BORE = datum(
  'B',
  'cylinder',
  { point: [0, 0, 0], direction: [0, 0, 1], radius: 70 },
  { side: 'inside' },
);
export const SLOT = datum('C', 'plane', { point: [0, 8, 0], direction: [0, 1, 0] });

export const SEAT_DATUMS: readonly DatumDefinition[] = [
  datum('D', 'plane', { point: [0, 0, 12], direction: [0, 0, 1] }),
  datum('E', 'plane', { point: [0, 9, 6], direction: [0, 1, 0] }),
  datum('F', 'plane', { point: [30, 0, 6], direction: [1, 0, 0] }),
];

export const REQUIREMENT: BladeRequirement = {
  checkPoints: [
    { name: 'root', at: [0, 0, 0], zone: 'cylindrical', tolerance: 0.05, direction: null },
    { name: 'tip', at: [0, 0, 160], zone: 'cylindrical', tolerance: 0.05, direction: null },
  ],
  limits: { oscillation: 0.025, rotUpset: 0.001 },
};

export interface DiscOptions {
  readonly stations?: number;
  readonly firstAngle?: number;
  readonly sense?: 'counterclockwise' | 'clockwise';
  /** rad */
  readonly angles?: readonly number[];
  readonly seat?: BladeSeat;
  readonly hubDatums?: readonly Datum[];
  readonly bladeDatums?: readonly Datum[];
  readonly pose?: 'datum' | 'bestfit';
  readonly requirement?: BladeRequirement;
  readonly decision?: DecisionDefinition;
}

export const SEAT: BladeSeat = {
  radius: 240,
  axial: 15,
  heightAngle: 6 * DEGREE,
  staggerAngle: 38 * DEGREE,
};

export function discDefinition(options: DiscOptions = {}): PartDefinition {
  const {
    stations = 18,
    firstAngle = 0,
    sense = 'counterclockwise',
    seat = SEAT,
    requirement = REQUIREMENT,
  } = options;
  const sign = sense === 'counterclockwise' ? 1 : -1;
  const angles =
    options.angles ??
    Array.from({ length: stations }, (_, k) => firstAngle + (sign * k * 2 * Math.PI) / stations);
  return {
    sense,
    explicitAngles: options.angles !== undefined,
    hubDatums: options.hubDatums ?? [FACE, BORE, SLOT],
    bladeDatums: options.bladeDatums ?? SEAT_DATUMS,
    pose: options.pose ?? 'datum',
    stations: angles.map((angle, k): StationDefinition => ({ station: k + 1, angle, seat, requirement })),
    temperature: null,
    uncertainty: { probing: 0.001, scale: 0, temperatureScale: 0, formCorrelation: 0, coverage: 0.95 },
    decision: options.decision ?? { rule: 'simple' },
  };
}

/** A small error motion: mm and rad of the given sizes. */
export function randomError(random: RandomSource, mm = 0.05, rad = 5e-4): RigidMotion {
  const three = (size: number): Vec3 => [
    random.between(-size, size),
    random.between(-size, size),
    random.between(-size, size),
  ];
  return { rotation: rotationFromVector(three(rad)), translation: three(mm) };
}

/** Points of a disc in machine coordinates: hub at its nominal place, blade k moved by errors[k]. */
export function discBlocks(
  definition: PartDefinition,
  errors: readonly RigidMotion[],
  machine: RigidMotion,
  random: RandomSource,
): readonly PointBlock[] {
  const hub = definition.hubDatums.flatMap((d) => featureBlocks(d, null, machine, random, 40));
  const blades = definition.stations.flatMap((s, k) => {
    const place = compose(machine, compose(nominalBladeFrame(s.angle, s.seat), errors[k]!));
    return definition.bladeDatums.flatMap((d) => featureBlocks(d, s.station, place, random, 9));
  });
  return [...hub, ...blades];
}

export function featureBlocks(
  d: Datum,
  station: number | null,
  place: RigidMotion,
  random: RandomSource,
  count: number,
): readonly PointBlock[] {
  if (d.type === 'pattern')
    return d.members.flatMap((member) => featureBlocks(member, station, place, random, count));
  return d.features.map((feature, face) => {
    const points = Array.from({ length: count }, (_, i) =>
      applyToPoint(place, surfacePoint(d, face, i, random)),
    );
    return block(station, feature, Float64Array.from(points.flat()));
  });
}

export function block(station: number | null, feature: string, xyz: Float64Array): PointBlock {
  return { station, feature, xyz, normals: null, tipRadius: null, sigma: null, temperature: null };
}

/** Several features of one datum (not the faces of a mid-plane) lie this far apart on its surface, mm. */
const PATCHES_APART = 12;

/** A point on the nominal feature, in its nominal frame; the first points spread so that no fit is degenerate. */
function surfacePoint(d: DatumDefinition, face: number, i: number, random: RandomSource): Vec3 {
  const { point: first, direction, radius, halfAngle } = d.nominal;
  const reach = (radius ?? 8) * 0.8;
  const turn = 2.4 * i + random.between(0, 0.3);
  const along = direction ?? [0, 0, 1];
  const one = perpendicular(along);
  const two = cross(along, one);
  const patch = d.type === 'midplane' || d.type === 'sphere' || d.type === 'point' ? 0 : face;
  const apart = d.type === 'plane' ? one : along;
  const point = d.type === 'circle' ? first : addScaled(first, apart, PATCHES_APART * patch);
  const around = (r: number): Vec3 => addScaled(scale(one, r * Math.cos(turn)), two, r * Math.sin(turn));
  const height = reach * (((i * 0.37) % 1) - 0.4 + random.between(0, 0.05));
  const onAxis = addScaled(point, along, height);
  const offset = (from: Vec3, by: Vec3): Vec3 => addScaled(from, by, 1);
  switch (d.type) {
    case 'plane':
      return offset(point, around(reach * Math.sqrt(random.between(0.1, 1))));
    case 'midplane':
      return offset(
        addScaled(point, along, face === 0 ? 4 : -4),
        around(reach * Math.sqrt(random.between(0.1, 1))),
      );
    case 'line':
      return addScaled(point, along, reach * (i - 3) * 0.3);
    case 'circle':
      return offset(point, around(radius!));
    case 'cylinder':
      return offset(onAxis, around(radius!));
    case 'cone':
      return offset(onAxis, around(radius! + (height + PATCHES_APART * patch) * Math.tan(halfAngle!)));
    case 'sphere': {
      const z = Math.cos(0.3 + ((i * 0.77) % 2));
      return offset(addScaled(point, along, radius! * z), around(radius! * Math.sqrt(1 - z * z)));
    }
    case 'point':
      return point;
  }
}
