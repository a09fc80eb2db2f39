/** Which file of a folder an address names, if any: nothing outside the folder, nothing hidden, known types only. */
import { extname, isAbsolute, join, relative, resolve, sep } from 'node:path';

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
};

export interface StaticFile {
  readonly path: string;
  readonly type: string;
}

/**
 * @param folder root of what may be served
 * @param address path part of the address, still percent-encoded, e.g. `/assets/index.js`; `/` is the page
 * @returns null where the address leaves the folder, is malformed or names a type that is not served
 */
export function staticFile(folder: string, address: string): StaticFile | null {
  let decoded: string;
  try {
    decoded = decodeURIComponent(address);
  } catch {
    return null;
  }
  if (decoded.includes('\0') || decoded.includes('\\')) return null;
  const root = resolve(folder);
  const path = resolve(join(root, decoded === '/' ? 'index.html' : decoded));
  const inside = relative(root, path);
  if (inside === '' || isAbsolute(inside) || inside.split(sep).some((part) => part.startsWith('.')))
    return null;
  const type = types[extname(path)];
  return type === undefined ? null : { path, type };
}
