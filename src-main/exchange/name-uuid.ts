import { createHash } from 'node:crypto';

/** Namespace of the names below: made at random once, and never changed. */
const NAMESPACE = '6f1d3c52-8a0e-4b57-9c1d-2f7a5e90b3c4';

/** UUID of a name, version 5 (RFC 9562, section 5.5): the same name gives the same UUID, on every machine. */
export function nameUuid(name: string, namespace = NAMESPACE): string {
  const hash = createHash('sha1')
    .update(Buffer.from(namespace.replaceAll('-', ''), 'hex'))
    .update(name, 'utf8')
    .digest()
    .subarray(0, 16);
  hash[6] = ((hash[6] as number) & 0x0f) | 0x50;
  hash[8] = ((hash[8] as number) & 0x3f) | 0x80;
  const hex = hash.toString('hex');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}
