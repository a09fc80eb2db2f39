/**
 * Pitch deviations of the stations, in the sense of ISO 1328-1: a pitch is the arc from one station to the next at the seat
 * radius; its deviation is measured minus planned. (Definitions: value from memory, the standard was not at hand.)
 */
import type { PartDefinition } from '../definition.ts';

/** Rotation of a station about the disc axis against its planned angle, rad, positive counter-clockwise seen from +Z. */
export interface IndexDeviation {
  readonly station: number;
  readonly deviation: number;
}

export interface StationPitch {
  readonly station: number;
  /** Index deviation at the seat radius, mm. */
  readonly arc: number;
  /** Pitch to the next station, measured minus planned, mm; null where the next station is not known. */
  readonly singlePitch: number | null;
  /** Sum of the single pitch deviations from the first known station to this one, mm. */
  readonly cumulativePitch: number;
}

export interface PitchDeviations {
  /** In the order in which the plan numbers, round the disc from the known station with the lowest number. */
  readonly stations: readonly StationPitch[];
  /** Largest |single pitch deviation|, f_p, mm; null where no two neighbours are known. */
  readonly singlePitch: number | null;
  /** Range of the cumulative pitch deviations over the whole turn, F_p, mm; null below two stations. */
  readonly totalCumulativePitch: number | null;
}

/**
 * Single and cumulative pitch deviations.
 *
 * @param deviations of the stations that were reduced, any order; a common turn of all of them changes nothing but `arc`.
 * @param definition planned angles and seat radii, and the sense in which the stations are numbered: the next station is the
 *   next one in that sense. Where seats differ in radius, each deviation counts at the mean radius, so that a pitch is an
 *   angle times one length.
 */
export function pitchDeviations(
  deviations: readonly IndexDeviation[],
  definition: Pick<PartDefinition, 'stations' | 'sense' | 'explicitAngles'>,
): PitchDeviations {
  const { stations } = definition;
  const radius = stations.reduce((sum, { seat }) => sum + seat.radius, 0) / stations.length;
  const sense = !definition.explicitAngles && definition.sense === 'clockwise' ? -1 : 1;
  const arcs = new Map(deviations.map(({ station, deviation }) => [station, radius * deviation]));
  const known = stations.filter(({ station }) => arcs.has(station));
  const first = known.reduce<(typeof known)[number] | null>(
    (lowest, s) => (lowest === null || s.station < lowest.station ? s : lowest),
    null,
  );
  if (first === null) return { stations: [], singlePitch: null, totalCumulativePitch: null };
  const turn = 2 * Math.PI;
  const fromFirst = (angle: number): number => {
    const way = (((sense * (angle - first.angle)) % turn) + turn) % turn;
    // The first station's own angle may come out as a whole turn.
    return turn - way < SAME_ANGLE ? 0 : way;
  };
  const round = stations
    .map(({ station, angle }) => ({ station, way: fromFirst(angle) }))
    .sort((a, b) => a.way - b.way);
  const found = round.flatMap(({ station }, k): StationPitch[] => {
    const arc = arcs.get(station);
    if (arc === undefined) return [];
    const next = arcs.get(round[(k + 1) % round.length]!.station);
    return [
      {
        station,
        arc,
        singlePitch: next === undefined || round.length < 2 ? null : sense * (next - arc),
        cumulativePitch: sense * (arc - arcs.get(first.station)!),
      },
    ];
  });
  const single = found.flatMap(({ singlePitch }) => (singlePitch === null ? [] : [Math.abs(singlePitch)]));
  const cumulative = found.map(({ cumulativePitch }) => cumulativePitch);
  return {
    stations: found,
    singlePitch: single.length === 0 ? null : Math.max(...single),
    totalCumulativePitch: cumulative.length < 2 ? null : Math.max(...cumulative) - Math.min(...cumulative),
  };
}

/** Plan angles are given in degrees with a few decimals; nearer than this (rad) they are one angle. */
const SAME_ANGLE = 1e-9;
