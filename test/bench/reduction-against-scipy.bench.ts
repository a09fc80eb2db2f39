/**
 * A 20-station disc: the whole reduction, with uncertainty, against (a) papaparse merely reading the same file and (b) NumPy
 * and SciPy reducing the same points. Both in this run, start-up not counted, medians, one thread each.
 * Run: npx tsx test/bench/reduction-against-scipy.bench.ts
 *
 * (a) is the whole command inside the process: plan and points read and checked, reduced, written as JSON text.
 * (b) leaves the reading out on both sides. NumPy finds the six errors and the position and, in a second line, its upper bound
 * by as many trials as the product's precision needs; it gets the covariances for nothing. Ours always does the whole
 * uncertainty: covariances by source, intervals, probabilities of conformance. A ratio counts only where both found the
 * same.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Papa from 'papaparse';
import { memberDatums } from '../../shared-math/frame/pattern-fit.ts';
import type { PointBlock } from '../../shared-math/points.ts';
import type * as Reducing from '../../shared-math/reduce.ts';
import type { Reduction } from '../../shared-math/result.ts';
import type * as Running from '../../src-main/jobs/run-reduction.ts';
import { readPlan } from '../../src-main/plan/read-plan.ts';
import {
  bladePlacement,
  moved,
  type Patch,
  place,
  probe,
  randomPlacement,
} from '../coverage/forward-model.ts';
import { randomSource } from '../support/random.ts';
import { asShipped } from './as-shipped.ts';
import { median, medianMilliseconds, runPython, tableLine } from './measuring.ts';

const STATIONS = 20;
/** Below the plan's 0.0012 mm, so that no residual scatter enters the uncertainties and NumPy may do without Student's t. */
const SIGMA = 0.0008;
const REPEATS = 9;
/** mm, rad. */
const SAME = 1e-9;
/** Standard error of a probability at which the product stops sampling. */
const STANDARD_ERROR = 4e-4;
/** Relative difference of bounds, minus the values, that sampling on both sides explains: 5 × √2 × 4e-4/(φ(1.64) × 1.64). */
const SAME_BOUND = 0.017;
/** Points in total, about: three tenths on the hub, the rest on the blades alike. */
const SIZES = [2000, 100_000];

const folder = mkdtempSync(join(tmpdir(), 'hubtrue-bench-'));
try {
  const { runReduction } = await asShipped<typeof Running>('src-main/jobs/run-reduction.ts');
  const { reduce } = await asShipped<typeof Reducing>('shared-math/reduce.ts');
  const planPath = join(folder, 'plan.json');
  const plan = samplePlan();
  writeFileSync(planPath, JSON.stringify(plan));
  const { definition } = await readPlan(planPath);

  const discs = SIZES.map((about) => {
    const blocks = measure(definition, about);
    const size = blocks.reduce((n, b) => n + b.xyz.length / 3, 0);
    const file = join(folder, `${size}.bin`);
    writeFileSync(file, Float64Array.from(blocks.flatMap((b) => [...b.xyz])));
    return { size, blocks, file };
  });

  console.log(`Node ${process.version}; ${STATIONS} stations; medians of ${REPEATS}\n`);
  const widths = [28, 9, 10, 10, 6];
  console.log(tableLine(['whole command, uncertainty', 'points', 'ours, ms', 'read, ms', 'ratio'], widths));
  for (const { size, blocks } of discs) {
    const pointsPath = join(folder, `${size}.csv`);
    writeFileSync(pointsPath, csvOf(blocks));
    const [ours, read]: [number[], number[]] = [[], []];
    // Alternately, so that what else the machine does meets both.
    for (let i = -2; i < REPEATS; i++) {
      const begin = performance.now();
      const { result } = await runReduction({ pointsPath, planPath });
      JSON.stringify(result);
      const between = performance.now();
      const rows = Papa.parse<string[]>(readFileSync(pointsPath, 'utf8')).data.length;
      const end = performance.now();
      if (rows < size) throw new Error('Rows are missing.');
      if (i < 0) continue;
      ours.push(between - begin);
      read.push(end - between);
    }
    const ratio = (median(ours) / median(read)).toFixed(2);
    console.log(
      tableLine(['against papaparse', size, median(ours).toFixed(1), median(read).toFixed(1), ratio], widths),
    );
  }

  const own = discs.map(({ blocks }) => reduce({ blocks, definition, gaps: [] }));
  const { results } = runPython(
    'reduction.py',
    discs.map(({ blocks, file }, d) => ({
      file,
      blocks: blocks.map((b, i) => {
        const from = blocks.slice(0, i).reduce((n, other) => n + other.xyz.length / 3, 0);
        return { station: b.station, feature: b.feature, from, to: from + b.xyz.length / 3 };
      }),
      repeats: REPEATS,
      angles: definition.stations.map((s) => s.angle),
      seat: definition.stations[0]!.seat,
      bore: plan.disc.datums[1]!.nominal.radius,
      slot: plan.disc.datums[2]!.nominal.point[0],
      nominal: Object.fromEntries(plan.blade.datums.map((b) => [b.feature, b.nominal.point])),
      checkPoints: plan.blade.position.checkPoints.map((c) => c.at),
      coverage: definition.uncertainty.coverage,
      standardError: STANDARD_ERROR,
      covariances: own[d]!.stations.map((s) => s.covariance),
    })),
  ) as { results: { valuesOnly: number; withBound: number; stations: number[][] }[] };
  console.log(`\n${tableLine(['reduction of points', 'points', 'ours, ms', 'NumPy, ms', 'ratio'], widths)}`);
  discs.forEach(({ size, blocks }, i) => {
    const ours = medianMilliseconds(() => reduce({ blocks, definition, gaps: [] }), REPEATS, 3);
    const { valuesOnly, withBound, stations } = results[i]!;
    requireSame(own[i]!, stations);
    for (const [name, theirs] of [
      ['NumPy with upper bounds', withBound],
      ['NumPy, values only', valuesOnly],
    ] as const)
      console.log(
        tableLine([name, size, ours.toFixed(1), theirs.toFixed(1), (ours / theirs).toFixed(2)], widths),
      );
  });
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** The plan of the sample disc, with more stations. */
function samplePlan() {
  const path = fileURLToPath(new URL('../../sample-data/conforming/plan.json', import.meta.url));
  const plan = JSON.parse(readFileSync(path, 'utf8')) as {
    disc: { stations: number; datums: { nominal: { point: number[]; radius?: number } }[] };
    blade: {
      datums: { feature: string; nominal: { point: number[] } }[];
      position: { checkPoints: { at: number[] }[] };
    };
  };
  return { ...plan, disc: { ...plan.disc, stations: STATIONS } };
}

function measure(definition: Reducing.ReductionInput['definition'], size: number): readonly PointBlock[] {
  const random = randomSource(5);
  const probing = {
    sigma: () => SIGMA,
    statesSigma: false,
    tip: null,
    statesNormals: false,
    scale: 0,
    machine: randomPlacement(random, 500),
  };
  const share = (part: number): number => Math.round(part * size);
  const hubPatches: readonly Patch[] = [
    { shape: 'ring', inner: 82, outer: 112, points: share(0.1) },
    { shape: 'barrel', length: 40, points: share(0.14) },
    { shape: 'rectangle', length: 16, width: 24, points: share(0.03) },
  ];
  const own = share(0.7 / (3 * STATIONS));
  const bladePatches: readonly Patch[] = [
    { shape: 'rectangle', length: 120, width: 40, points: own },
    { shape: 'rectangle', length: 120, width: 8, points: own },
    { shape: 'rectangle', length: 40, width: 14, points: own },
  ];
  const hub = definition.hubDatums
    .flatMap(memberDatums)
    .flatMap((d, i) => probe(d, hubPatches[i]!, null, (p) => p, probing, random));
  const small = (): number => random.between(-1, 1);
  const blades = definition.stations.flatMap(({ station, angle, seat }) => {
    const truth = {
      displacement: [0.01 * small(), 0.01 * small(), 0.01 * small()],
      rotation: [1e-4 * small(), 1e-4 * small(), 1e-4 * small()],
    } as const;
    const at = bladePlacement(angle, seat);
    return definition.bladeDatums
      .flatMap(memberDatums)
      .flatMap((d, i) =>
        probe(d, bladePatches[i]!, station, (p) => place(at, moved(truth, p)), probing, random),
      );
  });
  return [...hub, ...blades];
}

function csvOf(blocks: readonly PointBlock[]): string {
  const lines = ['station,feature,x,y,z'];
  for (const { station, feature, xyz } of blocks)
    for (let i = 0; i < xyz.length; i += 3)
      lines.push(
        `${station ?? ''},${feature},${xyz[i]!.toFixed(5)},${xyz[i + 1]!.toFixed(5)},${xyz[i + 2]!.toFixed(5)}`,
      );
  return `${lines.join('\n')}\n`;
}

function requireSame({ stations }: Reduction, theirs: readonly (readonly number[])[]): void {
  stations.forEach(({ error, position }, k) => {
    const bound = theirs[k]!.at(-1)! - position.value!;
    if (!(Math.abs(bound / position.expanded! - 1) <= SAME_BOUND))
      throw new Error(`Station ${k + 1}: bounds lie ${bound} and ${position.expanded} above the position.`);
    const ours = [...Object.values(error), position.value];
    const difference = Math.max(...ours.map((value, i) => Math.abs(value! - theirs[k]![i]!)));
    if (!(difference <= SAME)) throw new Error(`Station ${k + 1}: the results differ by ${difference}.`);
  });
}
