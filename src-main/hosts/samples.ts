/** The invented sample discs that come with the program. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { SampleDisc } from '../api.ts';
import type { ReductionPaths } from '../jobs/run-reduction.ts';

const catalogue: readonly SampleDisc[] = [
  {
    id: 'conforming',
    title: 'A disc that conforms',
    description: '18 stations, every blade inside its zone. Face, bore and slot as datums.',
  },
  {
    id: 'off-centre',
    title: 'Seated off-centre',
    description: '20 stations, the ring shifted on its hub, index errors and one bad blade. Decimal commas.',
  },
  {
    id: 'drifting',
    title: 'Drifting over the welds',
    description: '16 stations, tool wear and a tool change, one station not measured. Tip-centre points.',
  },
];

/** Paths of a sample's files as a reduction takes them. */
export function samplePathsByRole(folder: string, id: string): Required<ReductionPaths> {
  return {
    pointsPath: join(folder, id, 'points.csv'),
    planPath: join(folder, id, 'plan.json'),
    weldsPath: join(folder, id, 'welds.csv'),
  };
}

/** Order: points, plan, welds. */
export function samplePaths(folder: string, id: string): readonly string[] {
  return Object.values(samplePathsByRole(folder, id));
}

/** Those whose files are all there. */
export function presentSamples(folder: string): readonly SampleDisc[] {
  return catalogue.filter((sample) => samplePaths(folder, sample.id).every((path) => existsSync(path)));
}
