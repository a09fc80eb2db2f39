/**
 * Coverage, false claims and power of the diagnosis; writes its figures to `diagnosis-results.json` beside this file.
 * Run: `npx tsx test/coverage/run-diagnosis.ts`, some five minutes on an idle core; with a number: so many discs of each task, printed only.
 */
import { writeFileSync } from 'node:fs';
import { predictedPower } from '../support/diagnosis-power.ts';
import { NO_CAUSES, type SimulatedCauses } from '../support/simulated-stations.ts';
import { discDefinition } from '../support/synthetic-disc.ts';
import { plannedWelds, runCoverage, runPlanted, runScatterOnly } from './diagnosis-experiment.ts';

const SEED = 20_261_125;
const asked = process.argv[2];
const discs = asked === undefined ? 1000 : Number(asked);

const coverage = runCoverage(discs, SEED).report();
const scatterOnly = Object.fromEntries(
  [6, 8, 12, 18].map((stations) => [stations, runScatterOnly(stations, discs / 2, SEED + stations).report()]),
);
const STATIONS = 18;
const definition = discDefinition({ stations: STATIONS });
const order = plannedWelds(STATIONS);
const ages = definition.stations.map((s) => order.findIndex((w) => w.station === s.station));
const power = [0.0012, 0.002, 0.003].flatMap((shift) => {
  const ring = { ...NO_CAUSES, ring: [shift, 0, 0, 0, 0, 0] };
  const perWeld = shift / 6;
  const wear: SimulatedCauses = { ...NO_CAUSES, wear: [0, perWeld, 0, 0, 0, 0] };
  return [
    {
      cause: 'ringShift',
      planted: `${shift * 1000} µm along x`,
      predicted: predictedPower(definition, ages, 'ringShift', [shift, 0, 0, 0], NO_CAUSES.scatter, 60),
      found: runPlanted('ringShift', ring, STATIONS, discs / 4, SEED + 1).report(),
    },
    {
      cause: 'wear',
      planted: `${(perWeld * 1000).toFixed(3)} µm per weld along lateral`,
      predicted: predictedPower(definition, ages, 'wear', [0, perWeld, 0, 0, 0, 0], NO_CAUSES.scatter, 14),
      found: runPlanted('wear', wear, STATIONS, discs / 4, SEED + 2).report(),
    },
  ];
});
const document = {
  what: 'Coverage of stated intervals at 95 %, false claims at a false discovery rate of 5 %, and power of the diagnosis on simulated discs of known causes',
  run: 'npx tsx test/coverage/run-diagnosis.ts',
  seed: SEED,
  discs,
  coverage,
  scatterOnly,
  power,
};
if (asked === undefined)
  writeFileSync(new URL('diagnosis-results.json', import.meta.url), `${JSON.stringify(document, null, 2)}\n`);
console.log(JSON.stringify(document, null, 1));
