/** The page's own scheme: files of the built page only, each with the page's security headers. */
import { readFile, realpath } from 'node:fs/promises';
import { isAbsolute, relative, sep } from 'node:path';
import { protocol } from 'electron';
import { pageHeaders } from '../page-policy.ts';
import { staticFile } from '../static-file.ts';
import { isOwnAddress, scheme } from './page-address.ts';

/** Must run before Electron is ready, once. */
export function registerScheme(): void {
  protocol.registerSchemesAsPrivileged([
    { scheme, privileges: { standard: true, secure: true, supportFetchAPI: true } },
  ]);
}

export function serveScheme(pageFolder: string): void {
  protocol.handle(scheme, async (request) => {
    const nothing = new Response('There is nothing here.', { status: 404, headers: pageHeaders });
    if (request.method !== 'GET' || !isOwnAddress(request.url)) return nothing;
    const file = staticFile(pageFolder, new URL(request.url).pathname);
    if (file === null) return nothing;
    try {
      if (!(await liesWithin(pageFolder, file.path))) return nothing;
      const body = new Uint8Array(await readFile(file.path));
      return new Response(body, { headers: { ...pageHeaders, 'Content-Type': file.type } });
    } catch {
      return nothing;
    }
  });
}

/** Whether a file lies in the folder when every link on the way to it is followed. */
async function liesWithin(folder: string, path: string): Promise<boolean> {
  const way = relative(await realpath(folder), await realpath(path));
  return way !== '' && !isAbsolute(way) && way.split(sep)[0] !== '..';
}
