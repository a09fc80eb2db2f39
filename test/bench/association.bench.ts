/**
 * Time of the fits of a million points, as ratios to one plain pass over the same data, and of small fits in ms.
 * Run: npx tsx test/bench/association.bench.ts
 */
import {
  associateCircle,
  associateCone,
  associateCylinder,
  associateLine,
  associatePlane,
  associateSphere,
  type Orientation,
} from '../../shared-math/association/index.ts';
import { randomSource } from '../support/random.ts';

const random = randomSource(1);
const up: Orientation = { kind: 'free', start: [0.02, 0, 1] };

function cloud(points: number, make: () => readonly number[]): Float64Array {
  const xyz = new Float64Array(3 * points);
  for (let i = 0; i < points; i++) xyz.set(make(), 3 * i);
  return xyz;
}
const noise = (): number => 2e-3 * (random.uniform() - 0.5);
const flat = (): number[] => [1000 + 100 * random.uniform(), 50 * random.uniform(), 9000 + noise()];
const round = (taper: number) => (): number[] => {
  const [t, z] = [2 * Math.PI * random.uniform(), 40 * random.uniform()];
  const r = 70 + taper * z + noise();
  return [1000 + r * Math.cos(t), r * Math.sin(t), z];
};
const ball = (): number[] => random.direction().map((c) => (20 + noise()) * c);

/** Shortest of three runs, ms. */
function milliseconds(run: () => unknown): number {
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 3; k++) {
    const begin = performance.now();
    run();
    least = Math.min(least, performance.now() - begin);
  }
  return least;
}

const large = 1_000_000;
const fits: [string, Float64Array, (xyz: Float64Array) => unknown][] = [
  ['plane', cloud(large, flat), (xyz) => associatePlane({ xyz }, up)],
  ['line', cloud(large, flat), (xyz) => associateLine({ xyz }, { kind: 'free', start: [1, 0, 0] })],
  [
    'circle',
    cloud(large, round(0)),
    (xyz) => associateCircle({ xyz }, { kind: 'fixed', direction: [0, 0, 1] }),
  ],
  ['sphere', cloud(large, ball), (xyz) => associateSphere({ xyz })],
  ['cylinder', cloud(large, round(0)), (xyz) => associateCylinder({ xyz }, up)],
  [
    'cylinder, no start',
    cloud(large, round(0)),
    (xyz) => associateCylinder({ xyz }, { kind: 'free', start: null }),
  ],
  ['cone', cloud(large, round(0.3)), (xyz) => associateCone({ xyz }, up, { halfAngle: 0.3, radius: 70 })],
];

let total = 0;
const pass = milliseconds(() => {
  for (const value of fits[0]![1]) total += value;
});
console.log(`one pass over ${large} points: ${pass.toFixed(1)} ms (sum ${total.toExponential(3)})`);
for (const [name, xyz, associated] of fits) {
  const all = milliseconds(() => associated(xyz));
  const small = xyz.slice(0, 3 * 40);
  const few = milliseconds(() => associated(small));
  console.log(
    `${name.padEnd(20)} ${all.toFixed(0).padStart(5)} ms  ${(all / pass).toFixed(1).padStart(6)} passes   40 points: ${few.toFixed(2)} ms`,
  );
}
