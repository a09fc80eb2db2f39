/**
 * Time of every fit against NumPy and SciPy fitting the same points on this machine in this run, as ratios.
 * Run: npx tsx test/bench/fits-against-scipy.bench.ts [largest n]
 *
 * SciPy has vectorised residuals, an analytic Jacobian, `least_squares(method="lm")` and a start near the solution; for planes
 * and lines NumPy's singular values, or, cheaper and less accurate, the eigenvectors of the scatter matrix. Both sides run on
 * one thread, start-up and reading not counted, medians of several runs, and give rms, form and cofactors beside the feature.
 * The fits here find their starts themselves. A ratio counts only where both found the same.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type * as Association from '../../shared-math/association/index.ts';
import { applyToPoint } from '../../shared-math/geometry/rigid-motion.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { normalize } from '../../shared-math/geometry/vector.ts';
import { randomSource } from '../support/random.ts';
import { asShipped } from './as-shipped.ts';
import { medianMilliseconds, runPython, tableLine } from './measuring.ts';

type Type = 'plane' | 'line' | 'circle' | 'sphere' | 'cylinder' | 'cone';

interface Case {
  readonly type: Type;
  readonly n: number;
  readonly xyz: Float64Array;
  readonly file: string;
  readonly repeats: number;
  /** The starts, near the truth: what a plan would state. */
  readonly direction: Vec3;
  readonly point: Vec3;
  readonly radius: number;
  readonly halfAngle: number;
}

interface Found {
  readonly type: Type;
  readonly n: number;
  readonly method: string;
  readonly milliseconds: number;
  readonly point: number[];
  readonly direction?: number[];
  readonly radius?: number;
  readonly halfAngle?: number;
  readonly rms: number;
  readonly form: number;
}

/** mm, rad: results that differ by more are not the same. Both sides stop at rounding; the cone's apex magnifies that. */
const SAME = 1e-7;
const TYPES: readonly Type[] = ['plane', 'line', 'circle', 'sphere', 'cylinder', 'cone'];
const REPEATS: readonly (readonly [n: number, repeats: number])[] = [
  [30, 3001],
  [1000, 1501],
  [100_000, 7],
  [1_000_000, 5],
];
const NOISE = 0.002;
const TAPER = 0.3;

const { associateCircle, associateCone, associateCylinder, associateLine, associatePlane, associateSphere } =
  await asShipped<typeof Association>('shared-math/association/index.ts');
const largest = Number(process.argv[2] ?? 1_000_000);
const random = randomSource(11);
const folder = mkdtempSync(join(tmpdir(), 'hubtrue-bench-'));
try {
  const cases = REPEATS.filter(([n]) => n <= largest).flatMap(([n, repeats]) =>
    TYPES.map((type) => makeCase(type, n, repeats)),
  );
  const { numpy, scipy, results } = runPython(
    'fits.py',
    cases.map(({ xyz: _, ...rest }) => rest),
  ) as { numpy: string; scipy: string; results: Found[] };
  console.log(`Node ${process.version}, NumPy ${numpy}, SciPy ${scipy}; medians, one thread each\n`);
  const widths = [10, 9, 10, 10, 6, 14];
  console.log(tableLine(['fit', 'points', 'ours, ms', 'NumPy, ms', 'ratio', 'their method'], widths));
  for (const one of cases) {
    const ours = medianMilliseconds(() => associate(one), one.repeats, one.n <= 1000 ? 1000 : 2);
    const feature = associate(one);
    for (const theirs of results.filter((r) => r.type === one.type && r.n === one.n)) {
      requireSame(feature, theirs);
      const ratio = (ours / theirs.milliseconds).toFixed(2);
      const columns = [
        one.type,
        one.n,
        ours.toFixed(3),
        theirs.milliseconds.toFixed(3),
        ratio,
        theirs.method,
      ];
      console.log(tableLine(columns, widths));
    }
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

function makeCase(type: Type, n: number, repeats: number): Case {
  const motion = random.motion(300);
  const axis = motion.rotation.map((row) => row[2]) as unknown as Vec3;
  const xyz = new Float64Array(3 * n);
  for (let i = 0; i < n; i++) xyz.set(applyToPoint(motion, surfacePoint(type)), 3 * i);
  const file = join(folder, `${type}-${n}`);
  writeFileSync(file, xyz);
  const along: Vec3 = type === 'line' ? (motion.rotation.map((row) => row[0]) as unknown as Vec3) : axis;
  // A circle is fitted square to a direction that earlier datums hold: it is exact there.
  const tilt = type === 'circle' ? 0 : 1e-3;
  return {
    type,
    n,
    xyz,
    file,
    repeats,
    direction: normalize([along[0] + tilt, along[1] - tilt, along[2] + tilt]),
    point: motion.translation.map((c) => c + 0.05) as unknown as Vec3,
    radius: type === 'sphere' ? 20 : 70,
    halfAngle: TAPER,
  };
}

function surfacePoint(type: Type): Vec3 {
  const noise = (): number => NOISE * random.normal();
  const turn = 2 * Math.PI * random.uniform();
  const z = random.between(-20, 20);
  const around = (r: number, height: number): Vec3 => [r * Math.cos(turn), r * Math.sin(turn), height];
  switch (type) {
    case 'plane':
      return [random.between(-50, 50), random.between(-25, 25), noise()];
    case 'line':
      return [random.between(-50, 50), noise(), noise()];
    case 'circle':
      return around(70 + noise(), 0);
    case 'sphere':
      return random.direction().map((c) => (20 + noise()) * c) as unknown as Vec3;
    case 'cylinder':
      return around(70 + noise(), z);
    case 'cone': {
      const d = noise();
      return around(70 + z * Math.tan(TAPER) + d * Math.cos(TAPER), z - d * Math.sin(TAPER));
    }
  }
}

function associate({ type, xyz, direction, radius, halfAngle }: Case): Association.SubstituteFeature {
  const free = { kind: 'free', start: direction } as const;
  switch (type) {
    case 'plane':
      return associatePlane({ xyz }, free);
    case 'line':
      return associateLine({ xyz }, free);
    case 'circle':
      return associateCircle({ xyz }, { kind: 'fixed', direction });
    case 'sphere':
      return associateSphere({ xyz });
    case 'cylinder':
      return associateCylinder({ xyz }, free, { radius });
    case 'cone':
      return associateCone({ xyz }, free, { halfAngle, radius });
  }
}

function requireSame(ours: Association.SubstituteFeature, theirs: Found): void {
  const sense =
    theirs.direction === undefined || theirs.direction.reduce((s, c, k) => s + c * ours.direction![k]!, 0) > 0
      ? 1
      : -1;
  const differences = [
    ...theirs.point.map((c, k) => c - ours.point[k]!),
    ...(theirs.direction ?? []).map((c, k) => sense * c - ours.direction![k]!),
    ...(theirs.radius === undefined ? [] : [theirs.radius - ours.radius!]),
    ...(theirs.halfAngle === undefined ? [] : [theirs.halfAngle - ours.halfAngle!]),
    theirs.rms - ours.rms,
    ...(ours.type === 'line' ? [] : [theirs.form - ours.form]),
  ];
  const largestDifference = Math.max(...differences.map(Math.abs));
  if (!(largestDifference <= SAME))
    throw new Error(
      `${theirs.type}, ${theirs.n} points, ${theirs.method}: the results differ by ${largestDifference}.`,
    );
}
