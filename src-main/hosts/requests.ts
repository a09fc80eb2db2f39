/** What a page may send, checked before anything else looks at it. */
import { z } from 'zod';
import type { Outcome } from '../api.ts';
import { describe } from '../problems.ts';

/** Tickets and job names are short words of our own making. */
const word = z.string().min(1).max(200);

export const requests = {
  facts: z.strictObject({}),
  openSample: z.strictObject({ id: word }),
  openPaths: z.array(z.string().min(1).max(4096)).min(1).max(20),
  reduce: z.strictObject({ points: word, plan: word, welds: word.optional() }),
  cancel: z.strictObject({ job: word }),
} as const;

export function checked<T>(schema: z.ZodType<T>, value: unknown): Outcome<T> {
  const parsed = schema.safeParse(value);
  if (parsed.success) return { ok: true, value: parsed.data };
  return {
    ok: false,
    problems: parsed.error.issues.map((issue) =>
      describe({
        code: 'invalid-request',
        says: 'the window sent a request that is not understood',
        path: issue.path.join('.'),
        expected: issue.message,
        remedy: 'reload the window; if it happens again, report it',
      }),
    ),
  };
}
