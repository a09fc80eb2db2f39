/**
 * The session file, `hubtrue-session/1`, JSON with the ending `.hubtrue`: the plan whole, the fingerprints of points and
 * welds, what was excluded and why, notes, the results as they stood, and the software that wrote it. The points
 * themselves stay in their own file; its SHA-256 tells whether a file is that one.
 *
 * A later format gets a new number, and a file in `migrations` that brings this one up to it.
 */
import { z } from 'zod';
import type { ReducedDisc } from '../api.ts';

export const SESSION_FORMAT = 'hubtrue-session/1';

const sha256 = z.string().regex(/^[0-9a-f]{64}$/, 'a SHA-256 in 64 hexadecimal digits');
/** ISO 8601 in UTC, as `Date.toISOString` writes it. */
const instant = z
  .string()
  .regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z$/, 'a time such as 2026-03-01T12:00:00.000Z');
const reason = z.string().trim().min(1);
const fileName = z
  .string()
  .min(1)
  .regex(/^[^/\\]*$/, 'a file name without folder');

const fingerprint = z.strictObject({
  name: fileName,
  bytes: z.int().nonnegative(),
  sha256,
  /** With `/` between folders, relative to the folder of the session file, or absolute; null where nobody could go there. */
  path: z.string().min(1).nullable(),
});

const plan = z.strictObject({
  name: fileName,
  /** Of the bytes of the plan file. */
  sha256,
  /** `utf-8`: `content` is the text; `base64`: the bytes, where they are no plain UTF-8. */
  encoding: z.enum(['utf-8', 'base64']),
  content: z.string(),
});

/** What a reduction gave, less the plan's summary, which follows from the plan. */
const reduced = z.strictObject({
  result: z.looseObject({ format: z.literal('hubtrue-result/1') }),
  import: z.looseObject({ sentence: z.string() }),
  welds: z.array(z.looseObject({ station: z.int(), sequence: z.number() })).nullable(),
  warnings: z.array(z.string()),
});

export const sessionSchema = z.strictObject({
  format: z.literal(SESSION_FORMAT),
  software: z.string().min(1),
  saved: instant,
  title: z.string(),
  plan: plan.nullable(),
  points: fingerprint.nullable(),
  welds: fingerprint.nullable(),
  exclusions: z.array(z.strictObject({ line: z.int().min(1), reason })),
  excludedFeatures: z.array(
    z.strictObject({ station: z.int().min(1).nullable(), feature: z.string().min(1), reason }),
  ),
  notes: z.strictObject({
    disc: z.string(),
    stations: z.array(z.strictObject({ station: z.int().min(1), text: z.string() })),
  }),
  reduced: reduced.nullable(),
});

/** The results of a session; the seal of the file vouches for their shape. */
export type SessionResults = Pick<ReducedDisc, 'result' | 'import' | 'welds' | 'warnings'>;

export type SessionDocument = Omit<z.infer<typeof sessionSchema>, 'reduced'> & {
  readonly reduced: SessionResults | null;
};
export type Fingerprint = z.infer<typeof fingerprint>;
export type SessionPlan = z.infer<typeof plan>;
