/**
 * What-if on a 20-station disc: a hub motion, a tool offset and another tolerance at once, against the reduction that measured it. In
 * this run, start-up not counted, medians, one thread.
 * Run: npx tsx test/bench/what-if.bench.ts
 *
 * Each repeat judges a state that was not judged before. "Verdicts" is what runs while something moves; "with bounds" what runs when it
 * rests. The corrections of the same disc are beside them: all kinds, with intervals and predicted tables.
 */
import { fileURLToPath } from 'node:url';
import type * as Correcting from '../../shared-math/diagnosis/corrections/corrections.ts';
import type { Scatter } from '../../shared-math/diagnosis/findings.ts';
import type * as Applying from '../../shared-math/what-if/apply.ts';
import { MEASURED_STATE, type WhatIfState } from '../../shared-math/what-if/state.ts';
import type * as Running from '../../src-main/jobs/run-reduction.ts';
import { readPlan } from '../../src-main/plan/read-plan.ts';
import { asShipped } from './as-shipped.ts';
import { medianMilliseconds, tableLine } from './measuring.ts';

const REPEATS = 15;
/** What an interactive bench may take for a step. */
const INTERACTIVE = 50;

const path = (name: string): string =>
  fileURLToPath(new URL(`../../sample-data/off-centre/${name}`, import.meta.url));
const { runReduction } = await asShipped<typeof Running>('src-main/jobs/run-reduction.ts');
const { applyWhatIf } = await asShipped<typeof Applying>('shared-math/what-if/apply.ts');
const { corrections } = await asShipped<typeof Correcting>(
  'shared-math/diagnosis/corrections/corrections.ts',
);
const { definition } = await readPlan(path('plan.json'));
const { result, welds } = await runReduction({
  pointsPath: path('points.csv'),
  planPath: path('plan.json'),
  weldsPath: path('welds.csv'),
});
const disc = { result, definition, welds };

let turns = 0;
function nextState(): WhatIfState {
  turns++;
  return {
    ...MEASURED_STATE,
    hub: { ...MEASURED_STATE.hub, x: -0.003 - 1e-5 * turns, y: 0.02 },
    tools: { '': [0.002, 1e-5 * turns, 0, 1e-5, 0, 0] },
    tolerance: 0.06,
  };
}

const scatter: Scatter = {
  process: [0.0022, 0.0022, 0.0022, 1.5e-5, 1.5e-5, 1.5e-5],
  measurement: [0, 0, 0, 0, 0, 0],
  index: 4e-6,
  degreesOfFreedom: 80,
};
const rows: readonly (readonly [string, () => unknown])[] = [
  ['what-if, verdicts', () => applyWhatIf(disc, nextState(), { bounds: false })],
  ['what-if, with bounds', () => applyWhatIf(disc, nextState())],
  [
    'corrections, all kinds',
    () =>
      corrections({
        stations: result.stations,
        definition: { ...definition, adjustments: null },
        frame: result.frame.covariance,
        welds,
        outliers: [13],
        scatter,
      }),
  ],
];

console.log(`Node ${process.version}; ${result.stations.length} stations; medians of ${REPEATS}\n`);
const widths = [24, 9, 26];
console.log(tableLine(['', 'ms', `ratio to ${INTERACTIVE} ms`], widths));
for (const [name, run] of rows) {
  const time = medianMilliseconds(run, REPEATS, 5);
  console.log(tableLine([name, time.toFixed(1), (time / INTERACTIVE).toFixed(2)], widths));
}
