/** Blade frames in the disc frame, nominal and displaced at a magnification. */
import { apply, applyTransposed } from '../../../shared-math/geometry/matrix.ts';
import { rotationFromVector } from '../../../shared-math/geometry/rotation.ts';
import type { Vec3 } from '../../../shared-math/geometry/types.ts';
import { add, addScaled, subtract } from '../../../shared-math/geometry/vector.ts';
import type { StationResult, Verdict } from '../../../shared-math/result.ts';
import { roundDown } from '../features/points.ts';

/** A place of the blade frame with its displacement, both in the disc frame, mm. */
export interface Place {
  readonly at: Vec3;
  readonly delta: Vec3;
}

export interface BladeFrame {
  readonly station: number;
  readonly verdict: Verdict;
  readonly origin: Place;
  /** Ends of the drawn axes. */
  readonly oscillation: Place;
  readonly lateral: Place;
  /** Along the stacking axis, as far as the outermost check point. */
  readonly upset: Place;
  readonly checkPoints: readonly (Place & { readonly name: string })[];
}

/** A short axis, as a share of the stacking axis. */
const SHORT = 0.3;
/** Length of the stacking axis where no check point lies on it, as a share of the radius. */
const WITHOUT_CHECK_POINT = 0.3;

/** One for each station whose six errors are all known. */
export function bladeFrames(stations: readonly StationResult[]): readonly BladeFrame[] {
  return stations.flatMap((station) => {
    const { oscillation, lateral, upset, rotOscillation, rotLateral, rotUpset } = station.error;
    if (oscillation === null || lateral === null || upset === null) return [];
    if (rotOscillation === null || rotLateral === null || rotUpset === null) return [];
    const rotation = rotationFromVector([rotOscillation, rotLateral, rotUpset]);
    const { origin, axes } = station.nominal;
    const place = (point: Vec3): Place => {
      const delta = add(subtract(apply(rotation, point), point), [oscillation, lateral, upset]);
      return { at: add(origin, applyTransposed(axes, point)), delta: applyTransposed(axes, delta) };
    };
    const reach = station.position.checkPoints.reduce((most, { at }) => Math.max(most, at[2]), 0);
    const long = reach > 0 ? reach : WITHOUT_CHECK_POINT * Math.hypot(origin[0], origin[1]);
    return [
      {
        station: station.station,
        verdict: station.verdict,
        origin: place([0, 0, 0]),
        oscillation: place([SHORT * long, 0, 0]),
        lateral: place([0, SHORT * long, 0]),
        upset: place([0, 0, long]),
        checkPoints: station.position.checkPoints.map(({ name, at }) => ({ name, ...place(at) })),
      },
    ];
  });
}

/** Where a place is drawn: its displacement `magnification` times as large. */
export function moved({ at, delta }: Place, magnification: number): Vec3 {
  return addScaled(at, delta, magnification);
}

/** Largest drawn displacement as a share of the disc's radius, where the magnification is chosen for the person. */
const LARGEST = 0.16;

/** A round magnification at which the displacements are well seen. */
export function fittingMagnification(frames: readonly BladeFrame[]): number {
  const places = frames.flatMap(({ origin, upset, checkPoints }) => [origin, upset, ...checkPoints]);
  const radius = places.reduce((most, { at: [x, y] }) => Math.max(most, Math.hypot(x, y)), 1);
  const largest = places.reduce((most, { delta }) => Math.max(most, Math.hypot(...delta)), 1e-9);
  return Math.max(1, roundDown((LARGEST * radius) / largest));
}
