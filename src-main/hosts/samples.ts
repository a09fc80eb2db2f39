/** The invented sample discs that come with the program. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { SampleDisc } from '../api.ts';

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

/** Order: points, plan, welds. */
const names = ['points.csv', 'plan.json', 'welds.csv'] as const;

export function samplePaths(folder: string, id: string): readonly string[] {
  return names.map((name) => join(folder, id, name));
}

/** Those whose files are all there. */
export function presentSamples(folder: string): readonly SampleDisc[] {
  return catalogue.filter((sample) => samplePaths(folder, sample.id).every((path) => existsSync(path)));
}
