/** The text of every file of the sample discs. */
import { conforming } from './conforming/scenario.ts';
import { makeDisc, type PlantedStation } from './disc.ts';
import { drifting } from './drifting/scenario.ts';
import { offCentre } from './off-centre/scenario.ts';
import { seededRandom } from './random.ts';
import type { ExportedPoint, Scenario } from './scenario.ts';
import { fixed, readableJson } from './text.ts';

export const scenarios: readonly Scenario[] = [conforming, offCentre, drifting];

export interface SampleFile {
  /** Relative to this folder. */
  path: string;
  text: string;
}

export function sampleFiles(): SampleFile[] {
  return scenarios.flatMap((scenario) => {
    const disc = makeDisc(scenario);
    return [
      { path: `${scenario.folder}/points.csv`, text: pointsCsv(scenario, disc.points) },
      { path: `${scenario.folder}/plan.json`, text: readableJson(scenario.plan) },
      { path: `${scenario.folder}/welds.csv`, text: weldsCsv(scenario) },
      { path: `${scenario.folder}/truth.csv`, text: truthCsv(disc.stations) },
    ];
  });
}

function pointsCsv({ csv }: Scenario, points: readonly ExportedPoint[]): string {
  const rows = points.map((point) =>
    csv
      .row(point)
      .map((text) => (/^-?\d+\.\d+$/.test(text) ? text.replace('.', csv.decimal) : text))
      .join(csv.delimiter),
  );
  return `${[csv.header.join(csv.delimiter), ...rows].join('\n')}\n`;
}

/** The weld list, with two process values (burn-off in mm, forge force in kN) that carry no cause: only scatter. */
function weldsCsv({ welds, seed }: Scenario): string {
  const random = seededRandom(seed + 1000);
  const rows = welds.map(({ station, sequence, tool, date }) => {
    const burnOff = fixed(5.2 + 0.04 * random.normal(), 2);
    const forgeForce = fixed(128 + 1.2 * random.normal(), 1);
    return [station, sequence, tool, date, burnOff, forgeForce].join(',');
  });
  return `${['station,sequence,tool,date,burnOff,forgeForce', ...rows].join('\n')}\n`;
}

function truthCsv(stations: readonly PlantedStation[]): string {
  const header = [
    'station',
    'oscillation',
    'lateral',
    'upset',
    'rotOscillation',
    'rotLateral',
    'rotUpset',
    ...stations[0]!.positions.map(({ name }) => `${name}Position`),
    'verdict',
  ];
  const rows = stations.map(({ station, errors, positions, conforms }) => [
    String(station),
    ...errors.map((value, i) => fixed(value, i < 3 ? 9 : 11)),
    ...positions.map(({ value }) => fixed(value, 6)),
    conforms ? 'conforming' : 'nonconforming',
  ]);
  return `${[header, ...rows].map((row) => row.join(',')).join('\n')}\n`;
}
