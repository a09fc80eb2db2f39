/** Brings a session of an older format up to the present one, step by step. */
import { zeroToOne } from './migrations/0-to-1.ts';
import type { Migration } from './migrations/migration.ts';
import { SESSION_FORMAT } from './session-schema.ts';

/** In order; each takes what the one before it gives. */
export const migrations: readonly Migration[] = [zeroToOne];

/** Formats that can be read, oldest first. */
export const knownFormats: readonly string[] = [...migrations.map(({ from }) => from), SESSION_FORMAT];

/** The document in the present format; a format that is not known is returned as it is. */
export function migrate(document: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> {
  let current = document;
  for (const { from, up } of migrations) if (current['format'] === from) current = up(current);
  return current;
}
