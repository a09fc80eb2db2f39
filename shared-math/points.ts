/**
 * Measured points as the mathematics takes them: one block for each feature of the hub or of a station.
 * Lengths in mm, machine frame. All arrays of a block have the same number of points n.
 */
export interface PointBlock {
  /** Station number (1 …), or null for a hub feature. */
  readonly station: number | null;
  readonly feature: string;
  /** Interleaved coordinates, length 3n. */
  readonly xyz: Float64Array;
  /** Unit normals pointing out of the material, interleaved, length 3n; null where the file has none. */
  readonly normals: Float64Array | null;
  /** Probe tip radius of each point, length n: xyz are then tip-centre coordinates; null: surface points. */
  readonly tipRadius: Float64Array | null;
  /** Standard uncertainty of each point, length n, or null. */
  readonly sigma: Float64Array | null;
  /** Part temperature at each point in °C, length n, or null. */
  readonly temperature: Float64Array | null;
  /**
   * Run in which each point was taken, length n; runs are counted from 1 as they first appear in the file. Null or absent where
   * the file names no runs. The points of all runs are reduced together; runs serve repeatability alone.
   */
  readonly run?: Uint32Array | null;
  /** Direction in which each station was approached, length n: 1 up (positive), −1 down, 0 not stated; null or absent: none stated. */
  readonly direction?: Int8Array | null;
}
