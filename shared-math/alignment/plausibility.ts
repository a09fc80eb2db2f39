/** Warnings about points that contradict the plan without stopping the reduction. */
import type { DatumDefinition, PartDefinition } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import { nominalBladeFrame } from '../frame/blade-frame.ts';
import type { DiscFrame } from '../frame/disc-frame.ts';
import { memberDatums } from '../frame/pattern-fit.ts';
import type { PointIndex } from '../frame/point-index.ts';
import { applyToDirection, applyToPoint, compose, inverse } from '../geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { distance, dot } from '../geometry/vector.ts';
import { wildWords } from '../notes/english.ts';
import type { Note, Owner, WildFeature } from '../notes/notes.ts';
import type { PointBlock } from '../points.ts';
import type { FeatureReport, StationResult } from '../result.ts';
import { distanceRows } from './nominal-distance.ts';
import { wildFeatures } from './wild-points.ts';

/** A hub feature this far (mm) from its nominal place deserves a look; machining puts it there to hundredths. */
const NOTABLE_PLACE = 1;

/** Points of a block whose normals are looked at. */
const NORMALS_PER_FEATURE = 16;

/** Hub features whose associated plane, axis or centre lies far from its nominal place in the finished frame. */
export function hubPlaceWarnings(disc: DiscFrame, { hubDatums }: PartDefinition): readonly Note[] {
  const toDisc = inverse(disc.motion);
  return hubDatums.flatMap((datum, i) => {
    const point = applyToPoint(toDisc, disc.features[i]!.point);
    const off =
      datum.type === 'pattern' ? distance(point, disc.steps[i]!.reference) : placeDistance(datum, point);
    if (off <= NOTABLE_PLACE) return [];
    return [{ code: 'hub-datum-off', values: { datum: datum.label, features: datum.features, off } }];
  });
}

function placeDistance({ type, nominal }: DatumDefinition, point: Vec3): number {
  const shape =
    type === 'cylinder' ? 'line' : type === 'sphere' || type === 'circle' || type === 'cone' ? 'point' : type;
  return Math.hypot(...distanceRows(shape, nominal, point, 0).map((row) => row.value));
}

/**
 * The hub and the stations with a feature whose form is more than twice the position tolerance, or with a position
 * beyond ten times it: the wild points that cause it, where there are any, are named.
 */
export function formWarnings(
  points: PointIndex,
  definition: PartDefinition,
  disc: RigidMotion,
  hub: readonly FeatureReport[],
  stations: readonly StationResult[],
): readonly Note[] {
  const planned = new Map(definition.stations.map((s) => [s.station, s]));
  const tolerance = Math.min(
    ...definition.stations.flatMap((s) => s.requirement.checkPoints.map((c) => c.tolerance)),
  );
  const hubWarnings = roughFeature(null, hub, tolerance, 0, () => hubWild(points, definition, disc));
  return [
    ...hubWarnings,
    ...stations.flatMap((s) => {
      const { angle, seat } = planned.get(s.station)!;
      const place = compose(disc, nominalBladeFrame(angle, seat));
      return roughFeature(s.station, s.features, tolerance, s.position.value ?? 0, () =>
        wildPointsOf(points, s.station, definition.bladeDatums.flatMap(memberDatums), place),
      );
    }),
  ];
}

/** Wild points of the hub features in words, given the motion from disc to machine coordinates; null for none. */
export function hubWildPoints(
  points: PointIndex,
  definition: PartDefinition,
  disc: RigidMotion,
): string | null {
  const wild = hubWild(points, definition, disc);
  return wild.length === 0 ? null : wildWords(wild);
}

function hubWild(
  points: PointIndex,
  { hubDatums }: PartDefinition,
  disc: RigidMotion,
): readonly WildFeature[] {
  return wildPointsOf(points, null, hubDatums.flatMap(memberDatums), disc);
}

function wildPointsOf(
  points: PointIndex,
  station: number | null,
  datums: readonly DatumDefinition[],
  place: RigidMotion,
): readonly WildFeature[] {
  return datums.flatMap((datum) => wildFeatures(datum, points.blocksOf(station, datum), place));
}

function roughFeature(
  station: Owner,
  features: readonly FeatureReport[],
  tolerance: number,
  position: number,
  wild: () => readonly WildFeature[],
): readonly Note[] {
  const worst = features.reduce((a, b) => (b.form > a.form ? b : a));
  const isRough = worst.form > 2 * tolerance;
  if (!isRough && position <= 10 * tolerance) return [];
  const named = wild();
  if (named.length > 0) return [{ code: 'wild-points', values: { station, features: named } }];
  if (!isRough) return [];
  const { feature, type, points, form } = worst;
  return [{ code: 'rough-feature', values: { station, feature, type, points, form } }];
}

/** Features whose exported normals point into the material, judged by the nominal feature and the plan's side. */
export function normalWarnings(
  points: PointIndex,
  definition: PartDefinition,
  disc: RigidMotion,
): readonly Note[] {
  const hub = definition.hubDatums
    .flatMap(memberDatums)
    .flatMap((datum) => normalWarning(datum, points, null, disc));
  const blades = definition.stations.flatMap((s) => {
    if (!points.hasStation(s.station)) return [];
    const place = compose(disc, nominalBladeFrame(s.angle, s.seat));
    return definition.bladeDatums
      .flatMap(memberDatums)
      .flatMap((datum) => normalWarning(datum, points, s.station, place));
  });
  return [...hub, ...blades];
}

function normalWarning(
  datum: DatumDefinition,
  points: PointIndex,
  station: number | null,
  place: RigidMotion,
): readonly Note[] {
  const outward = outwardSign(datum);
  if (outward === 0) return [];
  let blocks: readonly PointBlock[];
  try {
    blocks = points.blocksOf(station, datum);
  } catch (error) {
    if (error instanceof ReductionError) return [];
    throw error;
  }
  const back = inverse(place);
  return blocks.flatMap((block) => {
    if (block.normals === null) return [];
    const wrong = inwardShare(block, block.normals, datum, back, outward);
    if (wrong <= 0.5) return [];
    const { feature, tipRadius } = block;
    return [
      { code: 'inward-normals', values: { station, feature, datum: datum.label, tips: tipRadius !== null } },
    ];
  });
}

/** +1 where the distance gradient points out of the material, −1 where into it, 0 where the plan does not say. */
function outwardSign({ type, material, side }: DatumDefinition): -1 | 0 | 1 {
  if (type === 'plane') return material === 'negative' ? 1 : -1;
  if (type === 'line' || type === 'point' || type === 'midplane' || side === null) return 0;
  return side === 'outside' ? 1 : -1;
}

function inwardShare(
  { xyz }: PointBlock,
  normals: Float64Array,
  datum: DatumDefinition,
  back: RigidMotion,
  outward: -1 | 1,
): number {
  const n = xyz.length / 3;
  const looked = Math.min(n, NORMALS_PER_FEATURE);
  let inward = 0;
  for (let k = 0; k < looked; k++) {
    const at = 3 * Math.floor((k * n) / looked);
    const q = applyToPoint(back, [xyz[at]!, xyz[at + 1]!, xyz[at + 2]!]);
    const normal = applyToDirection(back, [normals[at]!, normals[at + 1]!, normals[at + 2]!]);
    if (outward * dot(normal, distanceRows(datum.type, datum.nominal, q, 0)[0]!.gradient) < 0) inward++;
  }
  return inward / looked;
}
