/** The parameters of each component with their intervals, and the readings of the common offset. */
import { errorKeys, type ParameterKey } from './design.ts';
import type { Parameter, Reading } from './findings.ts';
import { estimate, jointTest } from './inference.ts';
import type { RankedBlock } from './rank.ts';
import { blocksOf, coefficientsOf, contrastOf, jointOf, type Separation } from './separation.ts';
import { form } from './symmetric.ts';

function parameter(s: Separation, key: ParameterKey, l: readonly number[], coverage: number): Parameter {
  const { scale, ...words } = key;
  return { ...words, ...estimate(contrastOf(s, l), coverage, scale) };
}

/** Each parameter of a block as a row over the coefficients. */
function rowsOf(s: Separation, block: RankedBlock): number[][] {
  return block.map.map((row) => {
    const l = s.fit.beta.map(() => 0);
    row.forEach((x, i) => {
      l[block.first + i] = x;
    });
    return l;
  });
}

/** One parameter for each column that the block was meant to have, in mm, rad or per weld; none where no column could be told. */
export function blockParameters(s: Separation, block: RankedBlock, coverage: number): Parameter[] {
  if (block.dimensions === 0) return [];
  const rows = rowsOf(s, block);
  return block.keys.map((key, j) => parameter(s, key, rows[j]!, coverage));
}

/** x, y and tilts, then shift and direction in polar form. */
export function ringShiftParameters(s: Separation, coverage: number): Parameter[] {
  return blocksOf(s, 'ringShift').flatMap((block) => {
    const plain = blockParameters(s, block, coverage);
    const rows = rowsOf(s, block).slice(0, 2);
    if (block.dimensions < 2) return plain;
    return [
      ...plain,
      ...polar(
        s,
        rows,
        block.keys[0]!.scale,
        ['shift', 'shift of the ring', 'mm'],
        ['direction', 'direction of the shift from +X', 'degree'],
        null,
        coverage,
      ),
    ];
  });
}

/** Amplitude and phase of every harmonic of a component in the fit. */
export function harmonicParameters(
  s: Separation,
  name: 'index' | 'harmonics',
  coverage: number,
): Parameter[] {
  return blocksOf(s, name).flatMap((block) => {
    if (block.dimensions === 0) return [];
    const { channel, order } = block.harmonic!;
    const { unit, scale } = block.keys[0]!;
    return polar(
      s,
      rowsOf(s, block),
      scale,
      ['amplitude', `amplitude of ${channel}, order ${order}`, unit],
      ['phase', `phase of ${channel}, order ${order}`, 'degree'],
      `${channel} ${order}`,
      coverage,
    );
  });
}

/** Length and azimuth of a two-vector with intervals along and across it; no azimuth where the length may be zero. */
function polar(
  s: Separation,
  rows: readonly (readonly number[])[],
  scale: number,
  length: readonly [string, string, Parameter['unit']],
  azimuth: readonly [string, string, Parameter['unit']],
  of: string | null,
  coverage: number,
): Parameter[] {
  const { values, covariance, degreesOf } = jointOf(s, rows);
  const [c = 0, d = 0] = values;
  const size = Math.hypot(c, d);
  const along = size > 0 ? [c / size, d / size] : [1, 0];
  const across = [-along[1]!, along[0]!];
  const radial = estimate(
    { value: size, variance: form(along, covariance, along), degreesOfFreedom: degreesOf(along) },
    coverage,
    scale,
  );
  const result: Parameter[] = [
    {
      key: length[0],
      name: length[1],
      unit: length[2],
      of,
      ...radial,
      // The length of a vector is positive even where both its components are noise.
      low: jointTest(values, covariance, degreesOf).probability > 1 - coverage ? 0 : Math.max(0, radial.low),
    },
  ];
  if (size === 0) return result;
  const turn = estimate(
    {
      value: Math.atan2(d, c),
      variance: form(across, covariance, across) / (size * size),
      degreesOfFreedom: degreesOf(across),
    },
    coverage,
    180 / Math.PI,
  );
  // Beyond half a turn either way the direction is open.
  const half = Math.min(180, turn.high - turn.value);
  result.push({
    key: azimuth[0],
    name: azimuth[1],
    unit: azimuth[2],
    of,
    ...turn,
    low: turn.value - half,
    high: turn.value + half,
  });
  return result;
}

/** The constant offset as the tool's alone, or as far as it is none of the common ones: mean over the stations of what it makes. */
function meanOffset(
  s: Separation,
  names: readonly ('common' | 'toolSetup')[],
  of: string | null,
  coverage: number,
): Parameter[] {
  const coefficients = names.flatMap((name) => coefficientsOf(s, name));
  if (coefficients.length === 0) return [];
  const counted = s.counts.flatMap((c, k) => (c ? [k] : []));
  return errorKeys(of).map((key, i) => {
    const l = s.fit.beta.map(() => 0);
    for (const c of coefficients)
      l[c] = counted.reduce((sum, k) => sum + s.design[k]![i]![c]!, 0) / counted.length;
    return parameter(s, key, l, coverage);
  });
}

/** Mean offset of each error that the first tool makes, beyond what is common. @param firstTool its name; null without welds. */
export function toolSetupParameters(s: Separation, firstTool: string | null, coverage: number): Parameter[] {
  return meanOffset(s, ['toolSetup'], firstTool, coverage);
}

/** Both readings of a constant offset: hub datum or index zero; or the tool. */
export function commonReadings(s: Separation, firstTool: string | null, coverage: number): Reading[] {
  const common = blocksOf(s, 'common').flatMap((block) => blockParameters(s, block, coverage));
  return [
    {
      cause: 'hub datum or index zero: all blades are shifted along the axis and turned about it together',
      remedy: 'shift the hub datum axially and reset the zero of the index',
      parameters: common,
    },
    {
      cause: 'tool: it holds every blade off by the same offset',
      remedy: 'reset the tool by the full constant offset',
      parameters: meanOffset(s, ['common', 'toolSetup'], firstTool, coverage),
    },
  ];
}
