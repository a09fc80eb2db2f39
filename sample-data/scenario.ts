/** What one sample disc is made from: its plan, where it was touched, what went wrong in welding, how it was written. */
import type { Seat, SixVector, Triple } from './motion.ts';
import type { SurfacePoint } from './surfaces.ts';

export interface Touched {
  feature: string;
  points: readonly SurfacePoint[];
}

export interface Tool {
  name: string;
  /** Constant error that this tool's setting gives every blade, in the nominal blade frame. */
  setting: SixVector;
}

/**
 * What went wrong, each cause where it acts. The measured blade frame of station k is
 *   M = ring · Rz(index) · N · tool · wear · slip · scatter
 * and its planted error is E = N⁻¹·M, exactly.
 */
export interface Causes {
  /** The whole ring of blades against the hub datums: shift x, y, z (mm) and rotation vector (rad), disc frame. */
  ring: SixVector;
  /** Rotation of each station about the disc axis, arc-seconds: offset + amplitude·cos(θ − phase) + scatter. */
  index: { offset: number; amplitude: number; phaseDegrees: number; scatter: number };
  /** In the order of use. */
  tools: readonly Tool[];
  /** Growth per weld, zero at the first weld of each tool, in the nominal blade frame. */
  wear: SixVector;
  /** One-off displacement of single stations, in the nominal blade frame. */
  slips: Readonly<Record<number, SixVector>>;
  /** Standard deviations of what differs from blade to blade for no cause. */
  scatter: { translation: number; rotation: number };
}

export interface Weld {
  station: number;
  sequence: number;
  tool: string;
  date: string;
}

/** What the generator itself needs of a plan; the rest is copied to the file as it stands. */
export interface Plan {
  disc: {
    stations: number;
    firstAngle: number;
    sense: 'counterclockwise' | 'clockwise';
    datums: readonly object[];
  };
  blade: {
    seat: Seat;
    datums: readonly object[];
    pose: 'datum' | 'bestfit';
    position: {
      tolerance: number;
      zone: 'cylindrical';
      checkPoints: readonly { name: string; at: Triple }[];
    };
    limits: Readonly<Record<string, number>>;
  };
  [key: string]: unknown;
}

export interface Scenario {
  folder: string;
  seed: number;
  /** The plan document, as written to plan.json. */
  plan: Plan;
  hub: readonly Touched[];
  /** In the nominal blade frame; the same for every station. */
  blade: readonly Touched[];
  causes: Causes;
  welds: readonly Weld[];
  /** Where the disc lay on the machine: rotation vector (rad) and translation (mm). */
  machine: { rotation: Triple; translation: Triple };
  measurement: {
    /** Standard uncertainty of a point along its normal, mm. */
    noise: number;
    /** Part temperature (°C) and expansion (1/K) where the file holds lengths as they were on the warm part. */
    warm: { temperature: number; expansion: number } | null;
    /** Probe tip radius (mm) where the file holds tip centres. */
    tipRadius: number | null;
    notMeasured: readonly number[];
  };
  csv: CsvStyle;
}

export interface CsvStyle {
  delimiter: ',' | ';';
  decimal: '.' | ',';
  header: readonly string[];
  /** The columns of one row, as text with a decimal point. */
  row(point: ExportedPoint): readonly string[];
  /** Points of something that the plan does not know, in machine coordinates, written after the hub. */
  strays: readonly { station: null; feature: string; at: Triple }[];
}

export interface ExportedPoint {
  /** Number of the point in the file, from 1. */
  sequence: number;
  station: number | null;
  feature: string;
  at: Triple;
  normal: Triple;
}

/** Weld list from station numbers in the order of welding; `tools` gives each tool's number of welds. */
export function weldOrder(
  stations: readonly number[],
  tools: readonly { name: string; welds: number }[],
  dates: readonly string[],
  perDay: number,
): Weld[] {
  const names = tools.flatMap((tool) => Array.from({ length: tool.welds }, () => tool.name));
  return stations.map((station, i) => ({
    station,
    sequence: i + 1,
    tool: names[i]!,
    date: dates[Math.floor(i / perDay)]!,
  }));
}
