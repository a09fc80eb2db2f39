import { sealOf } from './seal.ts';
import type { SessionDocument } from './session-schema.ts';

/** The text of a session file: two blanks of indent, a line feed at the end, sealed. */
export function sessionText(document: SessionDocument): string {
  return `${JSON.stringify({ ...document, seal: sealOf(document) }, null, 2)}\n`;
}
