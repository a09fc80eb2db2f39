/** The stations as corrections see them: where each blade is, what moves it, and the check points that must come into their zones. */
import type { CheckPoint, PartDefinition, StationDefinition } from '../../definition.ts';
import { nominalBladeFrame } from '../../frame/blade-frame.ts';
import type { RigidMotion, Vec3 } from '../../geometry/types.ts';
import type { Covariance6, StationResult } from '../../result.ts';
import { errorMotion } from '../../stations/rejudge-station.ts';
import { zoneDirections } from '../../uncertainty/position-distribution.ts';

/** What of a weld counts here. */
export interface WeldOrder {
  readonly station: number;
  readonly sequence: number;
  readonly tool: string;
}

export interface Blade {
  readonly measured: StationResult;
  readonly definition: StationDefinition;
  /** N, disc frame. */
  readonly nominal: RigidMotion;
  /** E, nominal blade axes. */
  readonly error: RigidMotion;
  /** Covariance of the six errors from the blade's own points. */
  readonly own: Covariance6;
  /** Tool that welded it; null where one tool made all welds, or where nobody wrote which. */
  readonly tool: string | null;
  /** Welds made with that tool before this one. */
  readonly age: number;
  /** False for stations that are left out of the optimisation. */
  readonly served: boolean;
}

/** A check point of one blade. */
export interface BladePoint {
  readonly blade: number;
  readonly at: Vec3;
  readonly directions: readonly Vec3[];
  /** Full zone size, mm. */
  readonly tolerance: number;
}

/** Tools in the order of their first weld; empty where welds tell of one tool only, or of none. */
export function toolsInOrder(welds: readonly WeldOrder[] | null): readonly string[] {
  if (welds === null) return [];
  const inOrder = [...welds].sort((a, b) => a.sequence - b.sequence);
  const tools = [...new Set(inOrder.map((w) => w.tool))];
  return tools.length > 1 ? tools : [];
}

/**
 * Blades whose six errors were all observed with a known uncertainty, in station order.
 *
 * A blade of which no weld is written cannot be served by a tool setting where there are several tools, and is left out.
 */
export function bladesOf(
  stations: readonly StationResult[],
  { stations: planned }: PartDefinition,
  welds: readonly WeldOrder[] | null,
  outliers: readonly number[],
): readonly Blade[] {
  const several = toolsInOrder(welds).length > 0;
  return stations.flatMap((measured): Blade[] => {
    const definition = planned.find((s) => s.station === measured.station);
    const error = errorMotion(measured.error);
    const own = measured.covarianceOwn;
    if (definition === undefined || error === null || own === null) return [];
    const weld = welds?.find((w) => w.station === measured.station);
    const age =
      weld === undefined
        ? 0
        : welds!.filter((w) => w.tool === weld.tool && w.sequence < weld.sequence).length;
    const known = !several || weld !== undefined;
    return [
      {
        measured,
        definition,
        nominal: nominalBladeFrame(definition.angle, definition.seat),
        error,
        own,
        tool: several ? (weld?.tool ?? null) : null,
        age,
        served: known && !outliers.includes(measured.station),
      },
    ];
  });
}

/** Check points of all blades given. */
export function pointsOf(blades: readonly Blade[]): readonly BladePoint[] {
  return blades.flatMap(({ definition }, blade) =>
    definition.requirement.checkPoints.map((c) => bladePoint(c, blade)),
  );
}

function bladePoint(checkPoint: CheckPoint, blade: number): BladePoint {
  const { at, tolerance } = checkPoint;
  return { blade, at, directions: zoneDirections(checkPoint), tolerance };
}
