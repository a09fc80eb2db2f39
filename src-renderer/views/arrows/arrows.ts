/** Displacements of the check points in the disc frame, as the drawings show them. */
import type { ComponentName, Diagnosis, Vec6 } from '../../../shared-math/diagnosis/findings.ts';
import { applyTransposed } from '../../../shared-math/geometry/matrix.ts';
import type { Vec3 } from '../../../shared-math/geometry/types.ts';
import { add } from '../../../shared-math/geometry/vector.ts';
import type { StationResult } from '../../../shared-math/result.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { roundStep } from '../../chart/scale.ts';
import { exportNumber, plainUnit, type Units } from '../../format/format.ts';
import type { Sheet } from '../../parts/sheet.ts';
import { addErrors, effectsOf, vectorOf } from '../causes/effects.ts';

/** What the arrows show: the measured errors, those without some components, or one component alone. */
export interface Shown {
  readonly of: 'measured' | 'without' | 'alone';
  readonly without: readonly ComponentName[];
  readonly alone: ComponentName | null;
}

export interface Arrow {
  readonly name: string;
  /** Nominal place and displacement in the disc frame, mm. */
  readonly at: Vec3;
  readonly delta: Vec3;
  readonly position: number;
  readonly outside: boolean;
}

export interface BladeArrows {
  readonly station: number;
  /** Place of the blade origin, mm. */
  readonly origin: Vec3;
  readonly arrows: readonly Arrow[];
}

/** One blade for each station whose six errors are all known. */
export function bladeArrows(disc: ReducedDisc, diagnosis: Diagnosis, shown: Shown): readonly BladeArrows[] {
  return disc.result.stations.flatMap((station) => {
    const error = shownError(station, diagnosis, shown);
    if (error === null) return [];
    const { origin, axes } = station.nominal;
    return [
      {
        station: station.station,
        origin,
        arrows: effectsOf(error, station).map(({ name, at, delta, position }, index) => ({
          name,
          at: add(origin, applyTransposed(axes, at)),
          delta: applyTransposed(axes, delta),
          position,
          outside: position > (station.position.checkPoints[index]?.tolerance ?? Number.POSITIVE_INFINITY),
        })),
      },
    ];
  });
}

function shownError(station: StationResult, { components }: Diagnosis, shown: Shown): Vec6 | null {
  const caused = (name: ComponentName | null): Vec6 | null =>
    components
      .find((component) => component.name === name)
      ?.stations.find((entry) => entry.station === station.station)?.error ?? null;
  if (shown.of === 'alone') return caused(shown.alone);
  const measured = vectorOf(station.error);
  if (measured === null || shown.of === 'measured') return measured;
  return shown.without.reduce<Vec6>((left, name) => {
    const part = caused(name);
    return part === null ? left : addErrors(left, part, -1);
  }, measured);
}

/** Largest arrow as a share of the drawing's radius where the magnification is chosen for the person. */
const LARGEST_ARROW = 0.2;

/** A round magnification at which the arrows are well seen. */
export function fittingMagnification(blades: readonly BladeArrows[]): number {
  const largest = Math.max(
    1e-9,
    ...blades.flatMap(({ arrows }) => arrows.map((one) => Math.hypot(...one.delta))),
  );
  const wanted = (LARGEST_ARROW * discRadius(blades)) / largest;
  const up = roundStep(wanted);
  return Math.max(1, up > wanted * 1.5 ? up / 2 : up);
}

/** Largest distance of a blade origin or a check point from the axis. */
export function discRadius(blades: readonly BladeArrows[]): number {
  return Math.max(
    1,
    ...blades.flatMap(({ origin, arrows }) =>
      [origin, ...arrows.map((arrow) => arrow.at)].map(([x, y]) => Math.hypot(x, y)),
    ),
  );
}

/** How far from the disc axis a bore may lie to be drawn about it, mm. */
const ON_AXIS = 1;

/** Radius of the hub's round datum about the axis; null where the hub has none. */
export function boreRadius({ result }: ReducedDisc): number | null {
  const round = result.frame.datums.find(
    ({ type, radius, point: [x, y] }) =>
      (type === 'cylinder' || type === 'circle') && radius !== null && Math.hypot(x, y) < ON_AXIS,
  );
  return round?.radius ?? null;
}

/** Radial and axial part of a vector of the disc frame at a blade; mm. */
export function inSection(blade: BladeArrows, [x, y, z]: Vec3): readonly [radial: number, axial: number] {
  const [ox, oy] = blade.origin;
  const reach = Math.hypot(ox, oy) || 1;
  return [(x * ox + y * oy) / reach, z];
}

/** How far out from the axis the section reaches, arrows at the fitting magnification included; mm. */
export function sectionReach(blades: readonly BladeArrows[]): number {
  const magnification = fittingMagnification(blades);
  const ends = blades.flatMap((blade) =>
    blade.arrows.map(({ at, delta }) => inSection(blade, at)[0] + magnification * inSection(blade, delta)[0]),
  );
  return Math.max(discRadius(blades), ...ends);
}

export function shownWords(shown: Shown, titles: ReadonlyMap<ComponentName, string>): string {
  const title = (name: ComponentName): string => titles.get(name)?.toLowerCase() ?? name;
  if (shown.of === 'measured') return 'as measured';
  if (shown.of === 'alone') return shown.alone === null ? 'nothing chosen' : `${title(shown.alone)} alone`;
  return shown.without.length === 0
    ? 'as measured'
    : `measured without ${shown.without.map(title).join(', ')}`;
}

export function arrowsSheet(blades: readonly BladeArrows[], words: string, units: Units): Sheet {
  const unit = plainUnit('length', units);
  const number = (value: number): string => exportNumber(value, 'length', units);
  return {
    head: [
      'station',
      'check point',
      ...['x', 'y', 'z', 'displacement x', 'displacement y', 'displacement z', 'position'].map(
        (name) => `${name} (${unit})`,
      ),
      'shown',
    ],
    rows: blades.flatMap(({ station, arrows }) =>
      arrows.map(({ name, at, delta, position }) => [
        String(station),
        name,
        ...[...at, ...delta, position].map(number),
        words,
      ]),
    ),
  };
}
