/** The plan inside a session: whole, byte for byte, so that its SHA-256 stays the one that results name. */
import { createHash } from 'node:crypto';
import type { SessionPlan } from './session-schema.ts';

/** Text where the bytes are plain UTF-8, so that people can read the plan in the session; base64 otherwise. */
export function planFrom(name: string, bytes: Buffer): SessionPlan {
  const sha256 = sha256Of(bytes);
  const text = bytes.toString('utf8');
  // A byte order mark, another encoding or a damaged character would not come back the same.
  return Buffer.from(text, 'utf8').equals(bytes)
    ? { name, sha256, encoding: 'utf-8', content: text }
    : { name, sha256, encoding: 'base64', content: bytes.toString('base64') };
}

export function bytesOfPlan({ encoding, content }: SessionPlan): Buffer {
  return Buffer.from(content, encoding === 'base64' ? 'base64' : 'utf8');
}

export function sha256Of(bytes: Buffer): string {
  return createHash('sha256').update(bytes).digest('hex');
}
