/**
 * Design of the separation: what each cause makes of the six errors of each station, block by block in the order of
 * separation.
 *
 * Ring shift: displacement x, y and tilt about x, y of the disc frame. Common: axial displacement and clocking of all blades.
 * Tool set-up: a constant offset in blade axes, as far as it is none of the common ones. Tool change: an offset from the first
 * weld of each further tool on. Wear: an offset for each weld that the tool made before. Index and other harmonics.
 */

import { smallSpectrum } from '../association/small-spectrum.ts';
import type { ErrorName } from '../definition.ts';
import { ERRORS } from '../pose/error-names.ts';
import type { ComponentName, HarmonicChannel, Parameter } from './findings.ts';
import { displacementGradient, inBladeAxes, type Observation, PER_MM, PER_RAD } from './observations.ts';
import { inverseDefinite, product, type ReadonlyRows, type Rows, zeros } from './symmetric.ts';
import type { OrderedWeld, WeldOrder } from './weld-order.ts';

/** Component that has columns in the design. */
export type DesignName = Exclude<ComponentName, 'outliers' | 'scatter'>;

export interface ParameterKey extends Pick<Parameter, 'key' | 'name' | 'unit' | 'of'> {
  /** Natural units (mm, rad) in one scaled unit. */
  readonly scale: number;
}

/** Columns that belong together: six rows for each station, one entry a column. */
export interface DesignBlock {
  readonly name: DesignName;
  readonly rows: readonly ReadonlyRows[];
  readonly keys: readonly ParameterKey[];
  /** Harmonics: the channel and order of these columns. */
  readonly harmonic: { readonly channel: HarmonicChannel; readonly order: number } | null;
}

const MM = { unit: 'mm', scale: 1 / PER_MM } as const;
const RAD = { unit: 'rad', scale: 1 / PER_RAD } as const;
/** Index of motions in `Observation.motions`. */
const [X, Y, Z, TURN_X, TURN_Y, TURN_Z] = [0, 1, 2, 3, 4, 5] as const;

const ERROR_WORDS: Readonly<Record<ErrorName, string>> = {
  oscillation: 'along oscillation',
  lateral: 'along lateral',
  upset: 'along upset',
  rotOscillation: 'about oscillation',
  rotLateral: 'about lateral',
  rotUpset: 'about upset',
};

/** The six errors as parameters, of a tool or in general. */
export function errorKeys(of: string | null, perWeld = false): ParameterKey[] {
  return ERRORS.map((name, i) => {
    const { unit, scale } = i < 3 ? MM : RAD;
    return { key: name, name: ERROR_WORDS[name], unit: perWeld ? `${unit}/weld` : unit, of, scale };
  });
}

function motionColumns({ motions }: Observation, which: readonly number[]): Rows {
  return [0, 1, 2, 3, 4, 5].map((i) => which.map((m) => motions[m]![i]!));
}

/** Columns of the ring of blades shifted along x and y and tilted about them against the hub, disc frame. */
export function ringShiftBlock(observations: readonly Observation[]): DesignBlock {
  return {
    name: 'ringShift',
    rows: observations.map((o) => motionColumns(o, [X, Y, TURN_X, TURN_Y])),
    keys: [
      { key: 'x', name: 'shift along x', of: null, ...MM },
      { key: 'y', name: 'shift along y', of: null, ...MM },
      { key: 'tiltX', name: 'tilt about x', of: null, ...RAD },
      { key: 'tiltY', name: 'tilt about y', of: null, ...RAD },
    ],
    harmonic: null,
  };
}

/** Columns of all blades shifted along the disc axis and turned about it together. */
export function commonBlock(observations: readonly Observation[]): DesignBlock {
  return {
    name: 'common',
    rows: observations.map((o) => motionColumns(o, [Z, TURN_Z])),
    keys: [
      { key: 'axial', name: 'axial shift of all blades', of: null, ...MM },
      { key: 'clocking', name: 'clocking of all blades', of: null, ...RAD },
    ],
    harmonic: null,
  };
}

/**
 * The constant offset beyond the common ones. The common part of an offset c is the axial shift and clocking A·γ nearest to it in
 * the displacement of all check points of all stations (mean square): what a later cause shares with an earlier one belongs to
 * the earlier one. Columns: I − A_k·G with G = (ΣAᵀMA)⁻¹·ΣAᵀM, M the metric of the check points. Where the seats differ so much from
 * station to station that a constant offset and a common motion can be told apart, the columns are those of the offset itself.
 */
export function toolSetupBlock(observations: readonly Observation[], common: DesignBlock): DesignBlock {
  if (tellsOffsetFromMotion(observations, common))
    return { ...TOOL_SETUP, rows: observations.map(() => scaledIdentity(1)) };
  const gram = zeros(2, 2);
  const side = zeros(2, 6);
  observations.forEach((o, k) => {
    const a = common.rows[k]!;
    for (const row of displacementRows(o)) {
      const ra = [0, 1].map((c) => row.reduce((sum, x, i) => sum + x * a[i]![c]!, 0));
      for (let c = 0; c < 2; c++) {
        for (let d = 0; d < 2; d++) gram[c]![d] = gram[c]![d]! + ra[c]! * ra[d]!;
        for (let i = 0; i < 6; i++) side[c]![i] = side[c]![i]! + ra[c]! * row[i]!;
      }
    }
  });
  const inverted = inverseDefinite(gram);
  const g = inverted === null ? zeros(2, 6) : product(inverted.inverse, side);
  return {
    ...TOOL_SETUP,
    rows: observations.map((_, k) => {
      const taken = product(common.rows[k]!, g);
      return taken.map((row, i) => row.map((x, j) => (i === j ? 1 : 0) - x));
    }),
  };
}

const TOOL_SETUP = { name: 'toolSetup', keys: errorKeys(null), harmonic: null } as const;

/** Share of each common motion that must lie beyond any constant offset, so that both can be stated beside each other. */
const OWN_SHARE = 0.1;

/** Whether each combination of the common motions changes in blade axes from station to station by enough of itself. */
export function tellsOffsetFromMotion(observations: readonly Observation[], common: DesignBlock): boolean {
  const n = observations.length;
  const columns = [0, 1].map((c) => {
    const mean = [0, 1, 2, 3, 4, 5].map((i) => common.rows.reduce((sum, rows) => sum + rows[i]![c]!, 0) / n);
    const whole = Math.sqrt(
      common.rows.reduce((sum, rows) => sum + rows.reduce((s, row) => s + row[c]! ** 2, 0), 0),
    );
    return common.rows.flatMap((rows) => rows.map((row, i) => (row[c]! - mean[i]!) / whole));
  });
  return smallSpectrum(columns).singularValues.at(-1)! > OWN_SHARE;
}

const UNIT = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
] as const;

function displacementRows({ checkPoints }: Observation): number[][] {
  return checkPoints.flatMap(({ at }) => UNIT.map((n) => displacementGradient(n, at).map((x) => x * PER_MM)));
}

function scaledIdentity(factor: number): Rows {
  return [0, 1, 2, 3, 4, 5].map((i) => [0, 1, 2, 3, 4, 5].map((j) => (i === j ? factor : 0)));
}

/** Step from tool t − 1 to tool t for each further tool. */
export function toolChangeBlock(welds: readonly OrderedWeld[], { tools }: WeldOrder): DesignBlock {
  return {
    name: 'toolChange',
    rows: welds.map(({ toolNumber }) =>
      concatenate(tools.slice(1).map((_, t) => scaledIdentity(toolNumber >= t + 1 ? 1 : 0))),
    ),
    keys: tools.slice(1).flatMap((tool) => errorKeys(tool)),
    harmonic: null,
  };
}

/** Columns of a drift of each error with the age of the tool, per weld; zero at the first weld of each tool. */
export function wearBlock(welds: readonly OrderedWeld[]): DesignBlock {
  return {
    name: 'wear',
    rows: welds.map(({ age }) => scaledIdentity(age)),
    keys: errorKeys(null, true),
    harmonic: null,
  };
}

function concatenate(parts: readonly ReadonlyRows[]): Rows {
  return [0, 1, 2, 3, 4, 5].map((i) => parts.flatMap((p) => [...p[i]!]));
}

/** cos hθ and sin hθ of one channel; a single column where the stations see only one of them is left to the rank. */
export function harmonicBlock(
  observations: readonly Observation[],
  channel: HarmonicChannel,
  order: number,
): DesignBlock {
  const { unit, scale } = channelUnit(channel);
  return {
    name: channel === 'index' ? 'index' : 'harmonics',
    rows: observations.map((o) => {
      const direction = channelDirection(o, channel);
      const c = Math.cos(order * o.angle);
      const s = Math.sin(order * o.angle);
      return direction.map((x) => [x * c, x * s]);
    }),
    keys: ['cos', 'sin'].map((key) => ({
      key,
      name: `${key} of order ${order}`,
      unit,
      of: `${channel} ${order}`,
      scale,
    })),
    harmonic: { channel, order },
  };
}

/** Unit of an amplitude of a channel, and how much of it one scaled unit is. */
export function channelUnit(channel: HarmonicChannel): {
  readonly unit: 'mm' | 'rad';
  readonly scale: number;
} {
  return channel === 'radial' || channel === 'tangential' || channel === 'axial' ? MM : RAD;
}

/**
 * The six errors (scaled) that one scaled unit of a channel makes. Lean: turn of the stacking axis u towards +e_t; sweep: towards
 * the axial plane's a; stagger: −(turn about u).
 */
export function channelDirection(o: Observation, channel: HarmonicChannel): readonly number[] {
  if (channel === 'index') return o.motions[TURN_Z]!;
  const c = Math.cos(o.angle);
  const s = Math.sin(o.angle);
  const shift = (d: readonly [number, number, number]): number[] => [...inBladeAxes(o.axes, d), 0, 0, 0];
  if (channel === 'radial') return shift([c, s, 0]);
  if (channel === 'tangential') return shift([-s, c, 0]);
  if (channel === 'axial') return shift([0, 0, 1]);
  if (channel === 'stagger') return [0, 0, 0, 0, 0, -1];
  // A turn ω moves u by ω × u; with u = (0, 0, 1) in blade axes towards d by ω = u × d.
  const et = inBladeAxes(o.axes, [-s, c, 0]);
  // a = u × e_t.
  const d = channel === 'lean' ? et : ([-et[1], et[0], 0] as const);
  return [0, 0, 0, -d[1], d[0], 0];
}
