/**
 * The pose of each station once for every run and direction of approach, for the repeatability of the index.
 *
 * The reduction takes the points of all runs together, and this does not change it: here each run is posed by itself, in the
 * disc frame that all points gave.
 */
import type { PartDefinition, StationDefinition } from '../definition.ts';
import type { Vec6 } from '../diagnosis/findings.ts';
import { ReductionError } from '../errors.ts';
import { indexPoints } from '../frame/point-index.ts';
import { transpose } from '../geometry/matrix.ts';
import { rotationVector } from '../geometry/rotation.ts';
import type { PointBlock } from '../points.ts';
import type { Reduction } from '../result.ts';
import { poseStation } from './pose-station.ts';

/** The six errors of one station from the points of one run and one direction of approach. */
export interface RepeatPose {
  readonly station: number;
  /** As in PointBlock.run. */
  readonly run: number;
  /** As in PointBlock.direction. */
  readonly direction: 1 | -1 | 0;
  /** In the nominal blade frame, mm and rad. */
  readonly error: Vec6;
}

/**
 * Poses every run of every station.
 *
 * @param blocks the points that were reduced (mm, machine frame). @param frame the disc frame of that reduction.
 * @returns poses in the order of stations and runs; null where no station has more than one run or direction. A run whose
 *   points do not determine the blade is left out, and so are stations where the blade datums leave a motion open.
 */
export function repeatPoses(
  blocks: readonly PointBlock[],
  definition: PartDefinition,
  frame: Pick<Reduction['frame'], 'rotation' | 'origin'>,
): readonly RepeatPose[] | null {
  const byStation = new Map<number, PointBlock[]>();
  for (const block of blocks) {
    if (block.station === null || (!block.run && !block.direction)) continue;
    const known = byStation.get(block.station);
    if (known) known.push(block);
    else byStation.set(block.station, [block]);
  }
  const repeats = new Map([...byStation].map(([station, own]) => [station, visitsOf(own)] as const));
  if (![...repeats.values()].some((visits) => visits.length > 1)) return null;
  const disc = {
    motion: { rotation: transpose(frame.rotation), translation: frame.origin },
    scalingCentre: frame.origin,
  };
  return definition.stations.flatMap((station: StationDefinition) =>
    (repeats.get(station.station) ?? []).flatMap((visit): RepeatPose[] => {
      const points = indexPoints(byStation.get(station.station)!.map((block) => pointsOf(block, visit)));
      try {
        const { error, freeMotions } = poseStation(station, points, disc, definition);
        if (freeMotions.length > 0) return [];
        const [x, y, z] = error.translation;
        const [a, b, c] = rotationVector(error.rotation);
        return [{ station: station.station, ...labelsOf(visit), error: [x, y, z, a, b, c] }];
      } catch (failure) {
        if (failure instanceof ReductionError) return [];
        throw failure;
      }
    }),
  );
}

/** One approach to a station, as a number that sorts by run, upwards first. */
type Visit = number;

function visitAt({ run, direction }: PointBlock, i: number): Visit {
  return 3 * (run?.[i] ?? 1) + 1 - (direction?.[i] ?? 0);
}

function labelsOf(visit: Visit): Pick<RepeatPose, 'run' | 'direction'> {
  return { run: Math.floor(visit / 3), direction: (1 - (visit % 3)) as RepeatPose['direction'] };
}

function visitsOf(blocks: readonly PointBlock[]): readonly Visit[] {
  const seen = new Set<Visit>();
  for (const block of blocks) for (let i = 0; i < block.xyz.length / 3; i++) seen.add(visitAt(block, i));
  return [...seen].sort((a, b) => a - b);
}

/** The points of a block that one visit took. */
function pointsOf(block: PointBlock, visit: Visit): PointBlock {
  const picks: number[] = [];
  for (let i = 0; i < block.xyz.length / 3; i++) if (visitAt(block, i) === visit) picks.push(i);
  const values = (a: Float64Array | null, width: number): Float64Array | null => {
    if (a === null) return null;
    const taken = new Float64Array(width * picks.length);
    picks.forEach((i, k) => {
      for (let j = 0; j < width; j++) taken[width * k + j] = a[width * i + j]!;
    });
    return taken;
  };
  return {
    station: block.station,
    feature: block.feature,
    xyz: values(block.xyz, 3)!,
    normals: values(block.normals, 3),
    tipRadius: values(block.tipRadius, 1),
    sigma: values(block.sigma, 1),
    temperature: values(block.temperature, 1),
  };
}
