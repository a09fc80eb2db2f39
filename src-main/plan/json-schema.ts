import { z } from 'zod';
import { planSchema } from './plan-schema.ts';

/** The plan's JSON Schema (draft 2020-12) as the text of `plan.schema.json`, for editors that complete and check. */
export function planJsonSchema(): string {
  const schema = z.toJSONSchema(planSchema, { io: 'input', reused: 'inline' });
  return `${JSON.stringify({ ...schema, title: 'Hubtrue plan, hubtrue-plan/1' }, null, 2)}\n`;
}
