/**
 * Rough alignment: the motion from the disc frame to an arbitrary machine frame, from the stations' points and numbers.
 *
 * The measured centroids of the blade features are registered to their nominal places in closed form, using the station
 * numbers; a best fit of the points to their nominal features then removes the effect of patches that do not lie about
 * their nominal points. It only chooses senses of directions and starts of fits: no result depends on it otherwise.
 *
 * Sources: Arun, Huang & Blostein 1987 and Umeyama 1991 (closed form, in geometry/registration); the tests of the
 * hypotheses are our own.
 */
import type { PartDefinition, StationDefinition } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import { nominalBladeFrame } from '../frame/blade-frame.ts';
import { registerPoints } from '../geometry/registration.ts';
import { applyToPoint, inverse } from '../geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { distance } from '../geometry/vector.ts';
import { alignFromFewStations } from './few-stations.ts';
import { fitBody } from './fit-body.ts';
import { centroid, distanceToNominal, type FeatureTarget, placeNominal } from './targets.ts';

/** Part of the station spacing that a station may lie away from its place (the whole disc is refused above it). */
const LARGEST_MISPLACEMENT = 0.2;

/**
 * The other sense of counting is taken for the true one where it fits at least four times closer than the plan, and
 * the plan is off by more than a hundredth of the spacing. Blade errors stay far below that (0.8 mm at 84 mm spacing).
 */
const CLEARLY_CLOSER = 0.25;
const NOTABLE_MISFIT = 0.01;

/** Second to first singular value below which the station centroids count as lying on a line. */
const COLLINEAR = 1e-4;

/** The measured features of one station; datum nominals in the blade frame, some points of each in machine coordinates. */
export interface StationTargets {
  readonly station: StationDefinition;
  readonly targets: readonly FeatureTarget[];
}

type Counting = 'as planned' | 'the other way';

interface Candidate {
  readonly motion: RigidMotion;
  /** Median distance of each station's points from their nominal features, mm. */
  readonly misfits: readonly number[];
  /** Root mean square of the misfits. */
  readonly misfit: number;
}

/**
 * @param stations the stations that have points, with all their datum features.
 * @param hub the hub datum features in the disc frame; used where the stations alone do not fix the alignment.
 * @returns the motion that carries disc coordinates into machine coordinates, to within a few tenths of the errors.
 * @throws ReductionError `alignment` where the stations do not lie where the plan says, with what fits instead.
 */
export function alignRoughly(
  stations: readonly StationTargets[],
  hub: readonly FeatureTarget[],
  definition: PartDefinition,
): RigidMotion {
  const spacing = stationSpacing(definition);
  const planned = candidate(stations, 'as planned');
  if (planned === null) return alignFromFewStations(placeAll(stations, 'as planned'), hub, spacing);
  const mirrored = candidate(stations, 'the other way');
  const worst = Math.max(...planned.misfits);
  const otherFits =
    mirrored !== null &&
    mirrored.misfit < CLEARLY_CLOSER * planned.misfit &&
    planned.misfit > NOTABLE_MISFIT * spacing;
  if (worst <= LARGEST_MISPLACEMENT * spacing && !otherFits) return planned.motion;
  throw misaligned(definition, stations, planned, otherFits ? mirrored : null, spacing);
}

function candidate(stations: readonly StationTargets[], counting: Counting): Candidate | null {
  const places = placeAll(stations, counting);
  const all = places.flat();
  const rough = registerPoints(
    Float64Array.from(all.flatMap((t) => t.inputs.flatMap(() => [...t.nominal.point]))),
    Float64Array.from(all.flatMap((t) => t.inputs.flatMap((input) => [...centroid(input)]))),
  );
  const [first, second] = rough.singularValues;
  const seats = new Set(stations.map(({ station }) => station.station)).size;
  if (seats < 3 || second <= COLLINEAR * first) return null;
  const motion = refine(all, rough.motion);
  const misfits = places.map((targets) => distanceToNominal(targets, motion));
  const misfit = Math.sqrt(misfits.reduce((sum, m) => sum + m * m, 0) / misfits.length);
  return { motion, misfits, misfit };
}

function refine(targets: readonly FeatureTarget[], start: RigidMotion): RigidMotion {
  try {
    return fitBody(targets, start).motion;
  } catch (error) {
    if (error instanceof ReductionError) return start;
    throw error;
  }
}

/** The targets of each station with their nominal features in the disc frame. */
function placeAll(
  stations: readonly StationTargets[],
  counting: Counting,
): readonly (readonly FeatureTarget[])[] {
  return stations.map(({ station, targets }) => {
    const angle = counting === 'as planned' ? station.angle : -station.angle;
    const place = nominalBladeFrame(angle, station.seat);
    return targets.map((t) => ({ ...t, nominal: placeNominal(t.nominal, place) }));
  });
}

/** Mean distance of neighbouring seats along the ring, mm; the diameter where there is a single station. */
export function stationSpacing({ stations }: PartDefinition): number {
  const mean = stations.reduce((sum, s) => sum + Math.abs(s.seat.radius), 0) / stations.length;
  return (2 * Math.PI * mean) / Math.max(stations.length, Math.PI);
}

/**
 * Checks the finished disc frame against the ring of stations: a clocking datum that disagrees with the first angle
 * would move every blade by a pitch.
 *
 * @throws ReductionError `alignment` naming the angle between the two and the first angle that would fit.
 */
export function checkRingAgainstHub(disc: RigidMotion, ring: RigidMotion, definition: PartDefinition): void {
  const toDisc = inverse(disc);
  const spacing = stationSpacing(definition);
  const shifts = definition.stations.map((s) => {
    const seat = nominalBladeFrame(s.angle, s.seat).translation;
    const found = applyToPoint(toDisc, applyToPoint(ring, seat));
    return { seat, found, off: distance(seat, found) };
  });
  const largest = Math.max(...shifts.map((s) => s.off));
  if (largest <= LARGEST_MISPLACEMENT * spacing) return;
  const turn = meanTurn(shifts);
  const degrees = (turn * 180) / Math.PI;
  const first = (((((definition.stations[0]!.angle + turn) * 180) / Math.PI) % 360) + 360) % 360;
  throw new ReductionError(
    'alignment',
    `The ring of blades lies up to ${largest.toFixed(1)} mm from where the hub datums put it (allowed ${(LARGEST_MISPLACEMENT * spacing).toFixed(1)} mm); it is turned by ${degrees.toFixed(2)}° about the disc axis. sense, firstAngle or station numbers do not fit.`,
    `Check the clocking datum, firstAngle and station numbers: with this clocking datum, a first station at ${first.toFixed(2)}° would fit.`,
  );
}

function meanTurn(shifts: readonly { readonly seat: Vec3; readonly found: Vec3 }[]): number {
  let [sine, cosine] = [0, 0];
  for (const { seat, found } of shifts) {
    sine += seat[0] * found[1] - seat[1] * found[0];
    cosine += seat[0] * found[0] + seat[1] * found[1];
  }
  return Math.atan2(sine, cosine);
}

function misaligned(
  definition: PartDefinition,
  stations: readonly StationTargets[],
  planned: Candidate,
  mirrored: Candidate | null,
  spacing: number,
): ReductionError {
  const limit = LARGEST_MISPLACEMENT * spacing;
  const far = stations.filter((_, i) => planned.misfits[i]! > limit).map(({ station }) => station.station);
  const listed = far.length > 6 ? `${far.slice(0, 6).join(', ')} and ${far.length - 6} more` : far.join(', ');
  const what =
    far.length > 0
      ? `station ${listed} ${far.length === 1 ? 'lies' : 'lie'} up to ${Math.max(...planned.misfits).toFixed(1)} mm from the planned place (allowed ${limit.toFixed(1)} mm)`
      : `the blades lie ${planned.misfit.toFixed(2)} mm (r.m.s.) from their planned places`;
  return new ReductionError(
    'alignment',
    `The points do not fit the plan: ${what}. sense, firstAngle or station numbers do not fit.`,
    mirrored === null ? unitRemedy(stations) : senseRemedy(definition, mirrored),
  );
}

function senseRemedy(definition: PartDefinition, mirrored: Candidate): string {
  const fit = `fits to ${mirrored.misfit.toFixed(3)} mm`;
  if (definition.explicitAngles)
    return `Counting the angles the other way round ${fit}: check the signs of "angles".`;
  const other = definition.sense === 'clockwise' ? 'counterclockwise' : 'clockwise';
  return `"sense": "${other}" ${fit}: correct the plan, or the station numbers of the file.`;
}

function unitRemedy(stations: readonly StationTargets[]): string {
  const targets = placeAll(stations, 'as planned').flat();
  const ratio =
    spread(targets.flatMap((t) => t.inputs.map(centroid))) / spread(targets.map((t) => t.nominal.point));
  const units: readonly (readonly [number, string])[] = [
    [1 / 25.4, 'inches read as millimetres'],
    [25.4, 'millimetres read as inches'],
    [1000, 'micrometres read as millimetres'],
    [1 / 1000, 'millimetres read as micrometres'],
  ];
  const unit = units.find(([factor]) => Math.abs(ratio / factor - 1) < 0.1);
  if (unit) return `The coordinates look like ${unit[1]}: set "import": { "unit": … } in the plan.`;
  return 'Compare the station numbers of the file, "stations", "angles" and the seat radius with the drawing.';
}

function spread(points: readonly Vec3[]): number {
  const mean = centroid({ xyz: Float64Array.from(points.flat()) });
  return Math.sqrt(points.reduce((sum, p) => sum + distance(p, mean) ** 2, 0) / points.length);
}
