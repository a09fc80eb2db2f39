/** What a page may send, checked before anything else looks at it. */
import { z } from 'zod';
import type { Outcome } from '../api.ts';
import { planSchema } from '../plan/plan-schema.ts';
import { describe } from '../problems.ts';

/** Names of features are short; a plan is some kilobytes, or some megabytes with ten thousand stations. */
const featureNames = z.array(z.string().max(256)).max(10_000);
const planText = z.string().max(16 * 1024 * 1024);
/** The last part of a path and nothing else. */
const fileName = z
  .string()
  .min(1)
  .max(120)
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what no file name may have.
  .regex(/^(?!\.)[^\u0000-\u001f\\/<>:"|?*]+$/, 'a file name without folder');

/** Tickets and job names are short words of our own making. */
const word = z.string().min(1).max(200);

/** Some words on why; empty ones are refused where the points are known, with a message of their own. */
const reason = z.string().max(2000);
const station = z.int().min(1).max(10_000).nullable();
const feature = z.string().max(256);
const exclusions = z.array(z.strictObject({ line: z.int().min(1), reason })).max(100_000);
const excludedFeatures = z.array(z.strictObject({ station, feature, reason })).max(10_000);
/** Points that a page may ask to show at once. */
const most = z.int().min(1).max(1_000_000).optional();

const ticketOrNone = word.nullable();
const note = z.string().max(100_000);
const sessionContent = z.strictObject({
  points: ticketOrNone,
  plan: ticketOrNone,
  welds: ticketOrNone,
  exclusions,
  excludedFeatures,
  notes: z.strictObject({
    disc: note,
    stations: z.array(z.strictObject({ station: z.int().min(1).max(10_000), text: note })).max(10_000),
  }),
  job: ticketOrNone,
});
/** What a report may be asked to look like. */
const reportWishes = {
  language: z.enum(['en', 'de', 'fr']).optional(),
  paper: z.enum(['a4', 'letter']).optional(),
  length: z.enum(['mm', 'µm', 'inch']).optional(),
};
const title = z.string().max(500).optional();

export const requests = {
  facts: z.strictObject({}),
  openSample: z.strictObject({ id: word }),
  openPaths: z.array(z.string().min(1).max(4096)).min(1).max(20),
  reduce: z.strictObject({
    points: word,
    plan: word,
    welds: word.optional(),
    exclusions: exclusions.optional(),
    excludedFeatures: excludedFeatures.optional(),
    diagnose: z.boolean().optional(),
  }),
  featurePoints: z.strictObject({ job: word, station, feature, most }),
  discPoints: z.strictObject({ job: word, most }),
  saveSession: z.strictObject({
    content: sessionContent,
    session: word.nullable(),
    saveAs: z.boolean().optional(),
    title,
  }),
  openSession: z.strictObject({ ticket: word, candidates: z.array(word).max(20).optional() }),
  matchSessionFile: z.strictObject({ session: word, role: z.enum(['points', 'welds']), ticket: word }),
  autosave: z.strictObject({ content: sessionContent, session: word.nullable(), title }),
  endSession: z.strictObject({ session: word, keep: z.boolean().optional() }),
  recent: z.strictObject({}),
  forgetRecent: z.strictObject({ ticket: word }),
  recover: z.strictObject({}),
  discardRecovery: z.strictObject({ ticket: word }),
  saveOutput: z.strictObject({
    job: word,
    kind: z.enum(['stations.csv', 'stations.xlsx', 'result.json', 'result.qif', 'report.html', 'report.pdf']),
    ...reportWishes,
  }),
  previewReport: z.strictObject({ job: word, ...reportWishes }),
  cancel: z.strictObject({ job: word }),
  previewPoints: z.strictObject({
    points: word,
    import: planSchema.shape.import,
    plan: z
      .strictObject({ stations: z.int().min(1).max(10_000), hub: featureNames, blade: featureNames })
      .optional(),
  }),
  checkPlan: z.strictObject({ text: planText }),
  planText: z.strictObject({ plan: word }),
  openText: z.strictObject({ name: fileName, role: z.enum(['points', 'plan', 'welds']), text: planText }),
  savePlan: z.strictObject({ name: fileName, text: planText }),
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
