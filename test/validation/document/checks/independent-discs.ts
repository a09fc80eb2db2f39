/** Whole reductions against the independent reduction in test/validation/independent. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { DiscErrorName, ErrorName } from '../../../../shared-math/definition.ts';
import { runReduction } from '../../../../src-main/jobs/run-reduction.ts';
import { type Chapter, Checks } from '../check.ts';

const GROUP = 'Whole discs against an independent reduction';
const FOLDER = fileURLToPath(new URL('../../independent/discs', import.meta.url));

/** Far inside what is demanded of whole discs (1e-6 mm, 1e-8 rad); the independent reduction is good to 1e-12 mm, 1e-14 rad. */
const BOUNDS = { mm: 1e-9, rad: 1e-11 } as const;
type Unit = keyof typeof BOUNDS;

const ROTATIONS = new Set(['rotOscillation', 'rotLateral', 'rotUpset', 'lean', 'sweep', 'stagger']);

interface Expected {
  readonly frame: { readonly rotation: readonly (readonly number[])[]; readonly origin: readonly number[] };
  readonly stations: readonly {
    readonly station: number;
    readonly error: Readonly<Record<ErrorName, number>>;
    readonly disc: Readonly<Record<DiscErrorName, number>>;
    readonly position: { readonly value: number };
  }[];
}

export async function independentDiscs(): Promise<Chapter> {
  const checks = new Checks(
    GROUP,
    'A second reduction in Python (NumPy 2.4.6, SciPy 1.17.1), written without sight of the product; test/validation/independent',
  );
  const discs = readdirSync(FOLDER).sort();
  for (const disc of discs) {
    const folder = join(FOLDER, disc);
    const expected: Expected = JSON.parse(readFileSync(join(folder, 'expected.json'), 'utf8'));
    const { result } = await runReduction(
      { pointsPath: join(folder, 'points.csv'), planPath: join(folder, 'plan.json') },
      {},
    );
    const off: Record<Unit, number> = { mm: 0, rad: 0 };
    const take = (unit: Unit, ours: number | null | undefined, wanted: number): void => {
      off[unit] = Math.max(off[unit], Math.abs((ours ?? Number.NaN) - wanted));
    };
    for (const wanted of expected.stations) {
      const found = result.stations.find((s) => s.station === wanted.station);
      for (const [name, value] of Object.entries(wanted.error))
        take(ROTATIONS.has(name) ? 'rad' : 'mm', found?.error[name as ErrorName], value);
      for (const [name, value] of Object.entries(wanted.disc))
        take(ROTATIONS.has(name) ? 'rad' : 'mm', found?.disc[name as DiscErrorName], value);
      take('mm', found?.position.value, wanted.position.value);
    }
    for (const [i, row] of expected.frame.rotation.entries())
      for (const [j, value] of row.entries()) take('rad', result.frame.rotation[i]?.[j], value);
    for (const [i, value] of expected.frame.origin.entries()) take('mm', result.frame.origin[i], value);
    checks.add(disc, off.mm, 0, BOUNDS.mm, 'mm');
    checks.add(disc, off.rad, 0, BOUNDS.rad, 'rad');
  }
  return {
    group: GROUP,
    text: `${discs.length} invented discs through the whole product, files in and result out: datum orders and types, tip centres, temperature, units, labels,
uneven pitch, gaps, best fit. Each row holds the largest length and the largest angle over all stations: six errors,
disc-frame view, position, hub frame. Demanded of whole discs are 1e-6 mm and 1e-8 rad; held here are 1e-9 mm and 1e-11 rad.`,
    checks: checks.list,
  };
}
