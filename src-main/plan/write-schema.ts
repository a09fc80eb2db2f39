/** Writes `plan.schema.json` beside this file: `npx tsx src-main/plan/write-schema.ts`. */
import { writeFileSync } from 'node:fs';
import { planJsonSchema } from './json-schema.ts';

writeFileSync(new URL('plan.schema.json', import.meta.url), planJsonSchema());
