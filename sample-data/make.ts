/**
 * Writes the sample discs from their scenarios: `npx tsx sample-data/make.ts`.
 * The seeds are fixed, so a second run writes the same bytes.
 */
import { writeFileSync } from 'node:fs';
import { sampleFiles } from './files.ts';

for (const { path, text } of sampleFiles()) writeFileSync(new URL(path, import.meta.url), text);
