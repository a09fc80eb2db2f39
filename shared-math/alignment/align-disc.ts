/**
 * The disc frame of a part in an arbitrary machine frame, or a refusal that says what would fit instead.
 *
 * The ring of stations gives a rough alignment, the hub datums give the frame; the two must agree. Where they do not, the
 * other sense of counting, other units and another first angle are tried, for the message only.
 */
import type { PartDefinition } from '../definition.ts';
import { ReductionError } from '../errors.ts';
import { nominalBladeFrame } from '../frame/blade-frame.ts';
import type { DiscFrame } from '../frame/disc-frame.ts';
import { LARGEST_MISPLACEMENT, stationSpacing } from '../frame/station-spacing.ts';
import { applyToPoint, inverse } from '../geometry/rigid-motion.ts';
import type { RigidMotion, Vec3 } from '../geometry/types.ts';
import { distance } from '../geometry/vector.ts';
import { alignRoughly, type Counting, placeStations, type StationTargets } from './rough-alignment.ts';
import { centroid, type FeatureTarget, spatialMedian } from './targets.ts';

/**
 * The other sense of counting is taken for the true one where it fits at least four times closer than the plan, and
 * the plan is off by more than a hundredth of the spacing. Blade errors stay far below that (0.8 mm at 84 mm spacing).
 */
const CLEARLY_CLOSER = 0.25;
const NOTABLE_MISPLACEMENT = 0.01;

interface Attempt {
  readonly ring: RigidMotion;
  readonly disc: DiscFrame;
  readonly misfits: readonly number[];
  /** Largest distance of a planned seat between the ring's alignment and the hub's frame, mm. */
  readonly ringOffset: number;
  /** Turn of the ring about the disc axis against the hub, rad. */
  readonly ringTurn: number;
  /** Largest of all misfits and the ring offset, mm. */
  readonly off: number;
}

/**
 * @param stations the stations that have points; hub: the hub datum features in the disc frame.
 * @param buildFrame builds the disc frame from the hub datums, given the rough alignment (disc to machine).
 * @param wildHubPoints names wild points of the hub, given the rough alignment; asked only where something is amiss.
 * @throws ReductionError `alignment` where the points do not lie where the plan says, with what fits instead;
 *   `degenerate-points` where wild points spoil the hub; errors of `buildFrame`.
 */
export function alignDisc(
  stations: readonly StationTargets[],
  hub: readonly FeatureTarget[],
  definition: PartDefinition,
  buildFrame: (ring: RigidMotion) => DiscFrame,
  wildHubPoints: (ring: RigidMotion) => string | null,
): DiscFrame {
  const spacing = stationSpacing(definition);
  const attempt = (counting: Counting): Attempt => {
    const { motion, misfits } = alignRoughly(stations, hub, spacing, counting);
    const disc = buildOrName(buildFrame, wildHubPoints, motion);
    const { ringOffset, ringTurn } = ringAgainstHub(disc.motion, motion, definition, counting);
    return { ring: motion, disc, misfits, ringOffset, ringTurn, off: Math.max(ringOffset, ...misfits) };
  };
  const planned = attempt('as planned');
  if (planned.off <= NOTABLE_MISPLACEMENT * spacing) return planned.disc;
  const mirrored = orNull(() => attempt('the other way'));
  const mirroredFits = mirrored !== null && mirrored.off < CLEARLY_CLOSER * planned.off;
  if (planned.off <= LARGEST_MISPLACEMENT * spacing && !mirroredFits) return planned.disc;
  refuseWildHub(wildHubPoints(planned.ring));
  throw misaligned(definition, stations, planned, mirroredFits ? mirrored : null, spacing);
}

/** The frame, or a refusal that names wild hub points where they are why there is none. */
function buildOrName(
  buildFrame: (ring: RigidMotion) => DiscFrame,
  wildHubPoints: (ring: RigidMotion) => string | null,
  ring: RigidMotion,
): DiscFrame {
  try {
    return buildFrame(ring);
  } catch (error) {
    if (error instanceof ReductionError && error.failure !== 'missing-side')
      refuseWildHub(wildHubPoints(ring));
    throw error;
  }
}

function refuseWildHub(wild: string | null): void {
  if (wild === null) return;
  throw new ReductionError(
    'degenerate-points',
    `Hub points lie far from the others of their feature: ${wild}.`,
    'Remove or correct these points, or their feature names; points are counted within their feature, in file order.',
    { station: null },
  );
}

function ringAgainstHub(
  disc: RigidMotion,
  ring: RigidMotion,
  definition: PartDefinition,
  counting: Counting,
): { readonly ringOffset: number; readonly ringTurn: number } {
  const toDisc = inverse(disc);
  let [sine, cosine, ringOffset] = [0, 0, 0];
  for (const { angle, seat } of definition.stations) {
    const place: Vec3 = nominalBladeFrame(counting === 'as planned' ? angle : -angle, seat).translation;
    const found = applyToPoint(toDisc, applyToPoint(ring, place));
    ringOffset = Math.max(ringOffset, distance(place, found));
    sine += place[0] * found[1] - place[1] * found[0];
    cosine += place[0] * found[0] + place[1] * found[1];
  }
  return { ringOffset, ringTurn: Math.atan2(sine, cosine) };
}

function orNull<T>(work: () => T): T | null {
  try {
    return work();
  } catch (error) {
    if (error instanceof ReductionError) return null;
    throw error;
  }
}

function misaligned(
  definition: PartDefinition,
  stations: readonly StationTargets[],
  planned: Attempt,
  mirrored: Attempt | null,
  spacing: number,
): ReductionError {
  const limit = LARGEST_MISPLACEMENT * spacing;
  const far = stations.filter((_, i) => planned.misfits[i]! > limit).map(({ station }) => station.station);
  const what = far.length > 0 ? describeStations(far, planned, limit) : describeRing(planned, limit);
  return new ReductionError(
    'alignment',
    `The points do not fit the plan: ${what}. sense, firstAngle or station numbers do not fit.`,
    unitRemedy(stations) ??
      (mirrored ? senseRemedy(definition, mirrored) : numberRemedy(definition, planned, far)),
  );
}

function describeStations(far: readonly number[], { misfits }: Attempt, limit: number): string {
  const listed = far.length > 6 ? `${far.slice(0, 6).join(', ')} and ${far.length - 6} more` : far.join(', ');
  const noun = far.length === 1 ? `station ${listed} lies` : `stations ${listed} lie`;
  return `${noun} up to ${Math.max(...misfits).toFixed(1)} mm from the planned place (allowed ${limit.toFixed(1)} mm)`;
}

function describeRing({ ringOffset, ringTurn }: Attempt, limit: number): string {
  return `the ring of blades lies up to ${ringOffset.toFixed(1)} mm from where the hub datums put it (allowed ${limit.toFixed(1)} mm), turned by ${degrees(ringTurn).toFixed(2)}° about the disc axis`;
}

function senseRemedy(definition: PartDefinition, mirrored: Attempt): string {
  const fit = `fits to ${mirrored.off.toFixed(3)} mm`;
  if (definition.explicitAngles)
    return `Counting the angles the other way round ${fit}: check the signs of "angles".`;
  const other = definition.sense === 'clockwise' ? 'counterclockwise' : 'clockwise';
  return `"sense": "${other}" ${fit}: correct the plan, or the station numbers of the file.`;
}

function numberRemedy(definition: PartDefinition, planned: Attempt, far: readonly number[]): string {
  if (far.length > 0)
    return 'Compare the station numbers of the file, "stations", "angles" and the seat radius with the drawing.';
  const first = (degrees(definition.stations[0]!.angle + planned.ringTurn) + 360) % 360;
  return `Check the clocking datum, firstAngle and station numbers: with this clocking datum, a first station at ${first.toFixed(2)}° would fit.`;
}

/** Set where the size of the ring says that the length unit is wrong. */
function unitRemedy(stations: readonly StationTargets[]): string | null {
  const targets = placeStations(stations, 'as planned').flat();
  const ratio =
    spread(targets.flatMap((t) => t.inputs.map(spatialMedian))) / spread(targets.map((t) => t.nominal.point));
  const units: readonly (readonly [number, string])[] = [
    [1 / 25.4, 'inches read as millimetres'],
    [25.4, 'millimetres read as inches'],
    [1000, 'micrometres read as millimetres'],
    [1 / 1000, 'millimetres read as micrometres'],
  ];
  const unit = units.find(([factor]) => Math.abs(ratio / factor - 1) < 0.1);
  return unit ? `The coordinates look like ${unit[1]}: set "import": { "unit": … } in the plan.` : null;
}

function spread(points: readonly Vec3[]): number {
  const mean = centroid({ xyz: Float64Array.from(points.flat()) });
  return Math.sqrt(points.reduce((sum, p) => sum + distance(p, mean) ** 2, 0) / points.length);
}

function degrees(radians: number): number {
  return (radians * 180) / Math.PI;
}
