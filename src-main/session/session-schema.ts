/**
 * The session file, `hubtrue-session/1`, JSON with the ending `.hubtrue`: the plan whole, the fingerprints of points and
 * welds, what was excluded and why, notes, the results as they stood, and the software that wrote it. The points
 * themselves stay in their own file; its SHA-256 tells whether a file is that one.
 *
 * A later format gets a new number, and a file in `migrations` that brings this one up to it.
 */
import { z } from 'zod';
import { byStation, fileName, list, name, sha256, stationNumber, text } from './bounded.ts';
import type { SessionResults } from './result-schema.ts';

export const SESSION_FORMAT = 'hubtrue-session/1';

/** ISO 8601 in UTC, as `Date.toISOString` writes it. */
const instant = z
  .string()
  .max(40)
  .regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z$/, 'a time such as 2026-03-01T12:00:00.000Z');
/** Longer than every window of this program lets a person write. */
const reason = z.string().trim().min(1).max(10_000);

const fingerprint = z.strictObject({
  name: fileName,
  bytes: z.int().nonnegative(),
  sha256,
  /** With `/` between folders, relative to the folder of the session file, or absolute; null where nobody could go there. */
  path: z.string().min(1).max(32_768).nullable(),
});

/** Characters of a plan; one of ten thousand stations, each with everything its own, has some millions. */
const LONGEST_PLAN = 64 * 1024 * 1024;

const plan = z.strictObject({
  name: fileName,
  /** Of the bytes of the plan file. */
  sha256,
  /** `utf-8`: `content` is the text; `base64`: the bytes, where they are no plain UTF-8. */
  encoding: z.enum(['utf-8', 'base64']),
  content: z.string().max(LONGEST_PLAN),
});

export const sessionSchema = z.strictObject({
  format: z.literal(SESSION_FORMAT),
  software: name.min(1),
  saved: instant,
  title: text,
  plan: plan.nullable(),
  points: fingerprint.nullable(),
  welds: fingerprint.nullable(),
  exclusions: list(z.strictObject({ line: z.int().min(1), reason }), 1_000_000),
  excludedFeatures: list(
    z.strictObject({ station: stationNumber.nullable(), feature: name.min(1), reason }),
    100_000,
  ),
  notes: z.strictObject({
    disc: text,
    stations: byStation(z.strictObject({ station: stationNumber, text })),
  }),
  /** Checked by itself (`result-schema.ts`): a session whose results cannot be used still holds the work. */
  reduced: z.looseObject({}).nullable(),
});

export type SessionDocument = Omit<z.infer<typeof sessionSchema>, 'reduced'> & {
  readonly reduced: SessionResults | null;
};
export type Fingerprint = z.infer<typeof fingerprint>;
export type SessionPlan = z.infer<typeof plan>;
