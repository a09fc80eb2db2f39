/** The stored run of random orientations; document.test.ts repeats part of it. */
import { type Chapter, Checks, fixture } from '../check.ts';

const GROUP = 'Random orientations';

export interface OrientationRun {
  readonly seed: number;
  readonly configurations: number;
  readonly wrong: readonly { readonly configuration: number; readonly excess: number }[];
  readonly refused: readonly { readonly configuration: number; readonly code: string }[];
}

export function randomOrientation(): Chapter {
  const run = fixture<OrientationRun>('random-orientation.json');
  const checks = new Checks(
    GROUP,
    `Own run, seed ${run.seed}; a descent from the true feature decides; test/validation/document/random-orientation.ts`,
  );
  checks.add('wrong minima, not reported', run.wrong.length, 0, 0);
  checks.add('reported as not converged', run.refused.length, 0, 0);
  return {
    group: GROUP,
    text: `${run.configurations} cylinders and cones at random poses up to 10 m away: radii 0.5 mm to 5 m, arcs from 20°, from the minimum number of points plus one,
noise from 1e-6 to 1e-3 of the sagitta; started without a direction, from one 3° off, and from any. A minimum is wrong where its sum of
squares exceeds that found from the true pose by more than a millionth.`,
    checks: checks.list,
  };
}
