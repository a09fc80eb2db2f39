/**
 * Runs all random orientations and stores what became of them in data/random-orientation.json.
 * Run: npx tsx test/validation/document/run-random-orientation.ts (some tens of seconds)
 */
import { writeFileSync } from 'node:fs';
import { CONFIGURATIONS, ORIENTATION_SEED, orientationOutcome } from './random-orientation.ts';

const wrong: { configuration: number; excess: number }[] = [];
const refused: { configuration: number; code: string }[] = [];
for (let k = 0; k < CONFIGURATIONS; k++) {
  const outcome = orientationOutcome(k);
  if (outcome.kind === 'wrong')
    wrong.push({ configuration: k, excess: Number(outcome.excess.toPrecision(2)) });
  if (outcome.kind === 'refused') refused.push({ configuration: k, code: outcome.code });
}
const result = {
  source: 'test/validation/document/run-random-orientation.ts',
  seed: ORIENTATION_SEED,
  configurations: CONFIGURATIONS,
  wrong,
  refused,
};
const file = new URL('../data/random-orientation.json', import.meta.url);
writeFileSync(file, `${JSON.stringify(result, null, 1)}\n`);
console.log(
  `${CONFIGURATIONS} random orientations: ${wrong.length} wrong minima, ${refused.length} refused.`,
);
