/**
 * Runs the coverage experiment and writes its figures to `results.json` beside this file.
 * Run: `npm run coverage`, about three minutes on an idle core; `npx tsx test/coverage/run.ts 20` for 20 discs of each task, printed only.
 */
import { writeFileSync } from 'node:fs';
import { BOUNDS, failures } from './bounds.ts';
import { Counts, runVariant } from './experiment.ts';
import { SIGMA, STATIONS, TOLERANCE, UNSTATED, VARIANTS } from './variants.ts';

const SEED = 20_250_301;
const DISCS_PER_VARIANT = 250;
const asked = process.argv[2];
const discs = asked === undefined ? DISCS_PER_VARIANT : Number(asked);

const total = new Counts();
const variants = VARIANTS.map((variant, i) => {
  const begin = performance.now();
  const own = new Counts();
  runVariant(variant, discs, SEED + i, [own, total]);
  console.error(`${variant.name}: ${discs} discs, ${((performance.now() - begin) / 1000).toFixed(1)} s`);
  const report = own.report();
  return { name: variant.name, ...report, failures: failures(report) };
});
const beyond = UNSTATED.map((variant, i) => {
  const own = new Counts();
  runVariant(variant, discs, SEED + 100 + i, [own]);
  const report = own.report();
  return { name: variant.name, ...report, failures: failures(report) };
});
const whole = total.report();
const document = {
  what: 'Coverage of stated intervals on simulated discs of known truth, normal noise of the stated sigma on every coordinate',
  run: 'npm run coverage',
  seed: SEED,
  sigma: SIGMA,
  tolerance: TOLERANCE,
  stationsPerDisc: STATIONS,
  coverage: 0.95,
  bounds: BOUNDS,
  failures: failures(whole),
  total: whole,
  variants,
  nothingStated: beyond,
};
if (asked === undefined)
  writeFileSync(new URL('results.json', import.meta.url), `${JSON.stringify(document, null, 1)}\n`);

for (const { name, intervals, position, acceptedJustOutside: accepted } of [
  { name: 'all together', ...whole },
  ...variants,
  ...beyond,
]) {
  const percent = (share: number): string => (100 * share).toFixed(1);
  console.log(`\n${name}`);
  for (const [quantity, t] of Object.entries(intervals))
    console.log(
      `  ${quantity.padEnd(15)} ${percent(t.share)} ± ${(100 * t.standardErrorByDiscs).toFixed(2)} %   χ²/n ${t.meanSquareOverVariance.toFixed(3)}`,
    );
  console.log(`  position  ${position.map((p) => `${p.truth}: ${percent(p.share)}`).join('  ')}`);
  console.log(
    `  accepted just outside: by probability ${percent(accepted.byProbability.share)} %, by factor ${percent(accepted.byFactor.share)} %`,
  );
}
console.log(`\n${document.failures.length === 0 ? 'within all bounds' : document.failures.join('\n')}`);
