/**
 * The seal of a session file: a SHA-256 over everything else in it. It does not keep anybody from forging a session; it
 * shows that results were damaged or edited since they were saved, so that they are not shown as measured.
 */
import { createHash } from 'node:crypto';

/** Over the compact JSON of the document, keys in their order, without `seal`. */
export function sealOf(document: object): string {
  const { seal: _, ...rest } = document as { seal?: unknown };
  return createHash('sha256').update(JSON.stringify(rest)).digest('hex');
}
