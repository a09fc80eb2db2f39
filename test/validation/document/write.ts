/** Writes test/validation/RESULTS.md. Run: `npm run validate`. */
import { writeFileSync } from 'node:fs';
import { buildChapters } from './build.ts';
import { passes } from './check.ts';
import { renderDocument } from './render.ts';

const chapters = await buildChapters();
writeFileSync(new URL('../RESULTS.md', import.meta.url), renderDocument(chapters));
const checks = chapters.flatMap((c) => c.checks);
const failed = checks.filter((c) => !passes(c));
for (const c of failed)
  console.error(`${c.group}: ${c.name}: ${c.ours}, not ${c.reference} ± ${c.bound} ${c.unit}`);
console.log(`${checks.length} checks, ${failed.length} beyond their bounds: test/validation/RESULTS.md`);
if (failed.length > 0) process.exitCode = 1;
