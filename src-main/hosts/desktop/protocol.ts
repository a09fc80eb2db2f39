/** The page's own scheme: files of the built page only, each with the page's security headers. */
import { readFile } from 'node:fs/promises';
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
      const body = new Uint8Array(await readFile(file.path));
      return new Response(body, { headers: { ...pageHeaders, 'Content-Type': file.type } });
    } catch {
      return nothing;
    }
  });
}
