/**
 * `hubtrue-session/0`, the first draft: the plan as parsed JSON under `plan` (its file's bytes were not kept, so the
 * SHA-256 is that of the text written here), exclusions by line alone with one reason for all under `excludedLines`
 * and `exclusionReason`, one note for the disc under `note`, files under `files`, and no results.
 */
import { createHash } from 'node:crypto';
import type { Migration } from './migration.ts';

type Loose = Readonly<Record<string, unknown>>;

export const zeroToOne: Migration = {
  from: 'hubtrue-session/0',
  to: 'hubtrue-session/1',
  up(document) {
    const files = (document['files'] ?? {}) as Loose;
    const lines = document['excludedLines'] ?? [];
    // The draft let the reason be empty; the words that an exclusion now needs say just that.
    const given = document['exclusionReason'];
    const reason =
      typeof given === 'string' && given.trim() !== ''
        ? given
        : 'no reason was written (session of the first draft)';
    return {
      format: 'hubtrue-session/1',
      software: document['software'],
      saved: document['saved'],
      title: document['title'] ?? '',
      plan: planOf(document['plan'], document['planName']),
      points: fileOf(files['points']),
      welds: fileOf(files['welds']),
      // What is no list is left for the check of the present format to refuse.
      exclusions: Array.isArray(lines) ? lines.map((line: unknown) => ({ line, reason })) : lines,
      excludedFeatures: [],
      notes: { disc: document['note'] ?? '', stations: [] },
      reduced: null,
    };
  },
};

function planOf(plan: unknown, name: unknown): unknown {
  if (plan === undefined || plan === null) return null;
  const content = `${JSON.stringify(plan, null, 2)}\n`;
  return {
    name: name ?? 'plan.json',
    sha256: createHash('sha256').update(content).digest('hex'),
    encoding: 'utf-8',
    content,
  };
}

function fileOf(file: unknown): unknown {
  if (file === undefined || file === null) return null;
  const { name, size, sha256, path } = file as Loose;
  return { name, bytes: size, sha256, path: path ?? null };
}
