/** Points of a finished reduction against its substitute features, as the window plots them. */
import type { Datum, PartDefinition } from '../../shared-math/definition.ts';
import { ReductionError } from '../../shared-math/errors.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { IDENTITY_MOTION } from '../../shared-math/geometry/rigid-motion.ts';
import type { FeatureReport } from '../../shared-math/result.ts';
import { type FeatureResiduals, featureResiduals } from '../../shared-math/stations/feature-residuals.ts';
import type { DiscPoints, FeaturePoints, PointExclusion } from '../api.ts';
import { refuse } from '../problems.ts';
import type { ReductionMade } from './run-reduction.ts';

/** Points that a plot can show and a page can take at once. */
const MOST_POINTS = 20_000;
/** Even of a small feature among many this many points are shown. */
const FEWEST_POINTS = 8;

/** @throws RefusedInput where the reduction has no such feature */
export function featurePoints(
  made: ReductionMade,
  station: number | null,
  feature: string,
  most = MOST_POINTS,
): FeaturePoints {
  const datum = datumOf(made.plan.definition, station, feature);
  if (datum === undefined) refuseFeature(station, feature, 'the plan has no such feature');
  return pointsOf(made, station, datum, feature, most);
}

/** All features that the plan uses and the file has, hub first, then by station. */
export function discPoints(made: ReductionMade, most = MOST_POINTS): DiscPoints {
  const total = made.read.blocks.reduce((sum, block) => sum + block.xyz.length / 3, 0);
  const features = [...made.read.blocks]
    .sort((a, b) => (a.station ?? 0) - (b.station ?? 0))
    .flatMap((block) => {
      const datum = datumOf(made.plan.definition, block.station, block.feature);
      if (datum === undefined) return [];
      const share = Math.max(FEWEST_POINTS, Math.floor((most * block.xyz.length) / 3 / total));
      return [pointsOf(made, block.station, datum, block.feature, share)];
    });
  const shown = features.reduce((sum, { lines }) => sum + lines.length, 0);
  return { features, total, shown };
}

function datumOf(
  { hubDatums, bladeDatums }: PartDefinition,
  station: number | null,
  feature: string,
): Datum | undefined {
  return (station === null ? hubDatums : bladeDatums).find(({ features }) => features.includes(feature));
}

function pointsOf(
  made: ReductionMade,
  station: number | null,
  datum: Datum,
  feature: string,
  most: number,
): FeaturePoints {
  const { definition } = made.plan;
  const planned = definition.stations.find((entry) => entry.station === station);
  const places = datum.features.map((name) =>
    made.read.blocks.findIndex((block) => block.station === station && block.feature === name),
  );
  const used = places.map((at) => usedOf(made, at));
  let residuals: FeatureResiduals;
  try {
    residuals = featureResiduals({
      datum,
      feature,
      blocks: places.map((at) => made.read.blocks[at] ?? null),
      used,
      report: reportOf(made, station, datum),
      frame: made.result.frame,
      nominal: planned === undefined ? IDENTITY_MOTION : nominalBladeFrame(planned.angle, planned.seat),
      temperature: definition.temperature,
    });
  } catch (error) {
    if (!(error instanceof ReductionError)) throw error;
    refuseFeature(station, feature, error.message.replace(/\.$/, ''));
  }
  const own = datum.features.indexOf(feature);
  const lines = made.read.lines[places[own] as number] as Uint32Array;
  return shown(residuals, station, feature, lines, used[own] as Uint8Array, reasonsOf(made), most);
}

function reportOf({ result }: ReductionMade, station: number | null, { label }: Datum): FeatureReport | null {
  const reports =
    station === null
      ? result.frame.datums
      : (result.stations.find((entry) => entry.station === station)?.features ?? []);
  return reports.find((report) => report.label === label) ?? null;
}

/** 1 for every point that the reduction used: neither excluded by hand nor left out by a robust screen. */
function usedOf({ read, points, result }: ReductionMade, at: number): Uint8Array {
  const all = read.lines[at];
  const block = read.blocks[at];
  if (all === undefined || block === undefined) return new Uint8Array(0);
  const { station, feature } = block;
  const left = points.blocks.findIndex((entry) => entry.station === station && entry.feature === feature);
  const screened = new Set(
    result.screened
      .filter((point) => point.excluded && point.station === station && point.feature === feature)
      .map(({ line }) => line),
  );
  const used = new Set(points.lines[left] ?? []);
  return Uint8Array.from(all, (line) => (used.has(line) && !screened.has(line) ? 1 : 0));
}

function reasonsOf({ result }: ReductionMade): ReadonlyMap<number, string> {
  const screened = result.screened.flatMap(({ line, excluded }) =>
    excluded && line !== undefined ? [[line, 'left out by the robust screen of the plan'] as const] : [],
  );
  return new Map([
    ...screened,
    ...result.source.points.excluded.map(({ line, reason }) => [line, reason] as const),
  ]);
}

function shown(
  { member, xyz, residual, place, axes, surface, basis, rms, form }: FeatureResiduals,
  station: number | null,
  feature: string,
  lines: Uint32Array,
  used: Uint8Array,
  reasonOf: ReadonlyMap<number, string>,
  most: number,
): FeaturePoints {
  const picked = thinned(residual, used, most);
  const rounded = (values: Float64Array, width: number, step: number): number[] =>
    picked.flatMap((i) =>
      Array.from({ length: width }, (_, k) => Math.round((values[width * i + k] as number) / step) * step),
    );
  const left = picked.filter((i) => used[i] === 0);
  return {
    station,
    feature,
    datum: member.label,
    type: member.type,
    total: residual.length,
    lines: picked.map((i) => lines[i] as number),
    xyz: rounded(xyz, 3, LENGTH_STEP),
    residual: rounded(residual, 1, RESIDUAL_STEP),
    place: rounded(place, 2, LENGTH_STEP),
    axes,
    excluded: picked.map((i) => used[i] === 0),
    reasons: left.map((i): PointExclusion => {
      const line = lines[i] as number;
      return { line, reason: reasonOf.get(line) ?? '' };
    }),
    surface: {
      point: surface.point,
      direction: surface.direction,
      radius: surface.radius,
      halfAngle: surface.halfAngle,
    },
    basis,
    rms: Number.isNaN(rms) ? null : rms,
    form: Number.isNaN(form) ? null : form,
  };
}

/** Powers of two near 1e-6 and 1e-8 mm: far below what is drawn, and rounding to them is exact. */
const LENGTH_STEP = 2 ** -20;
const RESIDUAL_STEP = 2 ** -27;

/** Indices, ascending, evenly spread in file order; the extremes of the used points and those left out stay. */
function thinned(residual: Float64Array, used: Uint8Array, most: number): number[] {
  const count = residual.length;
  if (count <= most) return Array.from({ length: count }, (_, i) => i);
  const picked = new Set<number>();
  let [lowest, highest] = [-1, -1];
  for (let i = 0; i < count; i += 1) {
    if (used[i] === 0) {
      if (picked.size < most / 2) picked.add(i);
      continue;
    }
    if (lowest < 0 || (residual[i] as number) < (residual[lowest] as number)) lowest = i;
    if (highest < 0 || (residual[i] as number) > (residual[highest] as number)) highest = i;
  }
  for (const i of [lowest, highest]) if (i >= 0) picked.add(i);
  const room = Math.max(0, most - picked.size);
  for (let k = 0; k < room; k += 1) picked.add(Math.floor((k * count) / room));
  return [...picked].sort((a, b) => a - b);
}

function refuseFeature(station: number | null, feature: string, says: string): never {
  refuse({
    code: 'no-such-feature',
    says: `${station === null ? 'hub' : `station ${station}`}, ${feature}: ${says}`,
    remedy: 'choose a feature that has been measured',
  });
}
