/** The loopback host: serves the window to a browser on this machine, and the api behind it. */
import { randomBytes } from 'node:crypto';
import { createReadStream, statSync } from 'node:fs';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Download, Outcome } from '../../api.ts';
import { describe } from '../../problems.ts';
import type { Outlet } from '../outlet.ts';
import { pageHeaders } from '../page-policy.ts';
import type { Service } from '../service.ts';
import { staticFile } from '../static-file.ts';
import { createEventStream } from './event-stream.ts';
import { admit, cookieName } from './guard.ts';
import { createUploads, TooLarge } from './uploads.ts';

export interface BrowserHostOptions {
  readonly service: Service;
  /** Folder of the built page. */
  readonly pageFolder: string;
  readonly mostUploadBytes?: number;
}

export interface BrowserHost {
  /** `http://127.0.0.1:PORT` */
  readonly origin: string;
  readonly token: string;
  /** Address for the person, with the token; `query` is added to it. */
  address(query?: Readonly<Record<string, string>>): string;
  close(): Promise<void>;
}

/** A point file of a million rows is about 100 MB; this leaves ample room and still bounds a mistake. */
const MOST_UPLOAD_BYTES = 2 * 1024 ** 3;
/** Calls carry a few tickets. */
const MOST_CALL_BYTES = 64 * 1024;
/** These carry a whole text, or exclusions and notes. */
const LONG_CALLS: ReadonlySet<string> = new Set([
  '/api/autosave',
  '/api/check-plan',
  '/api/open-text',
  '/api/preview-points',
  '/api/reduce',
  '/api/save-session',
]);
const MOST_LONG_CALL_BYTES = 20 * 1024 * 1024;

export async function startBrowserHost(options: BrowserHostOptions): Promise<BrowserHost> {
  const { service, pageFolder } = options;
  const token = randomBytes(32).toString('hex');
  const uploads = createUploads(options.mostUploadBytes ?? MOST_UPLOAD_BYTES);
  const events = createEventStream();
  const stopListening = service.onJob((event) => events.send(event));
  const calls: Readonly<Record<string, (argument: unknown) => Outcome<unknown> | Promise<Outcome<unknown>>>> =
    {
      '/api/facts': service.facts,
      '/api/open-sample': service.openSample,
      '/api/reduce': service.reduce,
      '/api/cancel': service.cancel,
      '/api/feature-points': service.featurePoints,
      '/api/disc-points': service.discPoints,
      '/api/open-session': service.openSession,
      '/api/match-session-file': service.matchSessionFile,
      '/api/autosave': service.autosave,
      '/api/end-session': service.endSession,
      '/api/recent': service.recent,
      '/api/forget-recent': service.forgetRecent,
      '/api/recover': service.recover,
      '/api/discard-recovery': service.discardRecovery,
      '/api/save-session': (argument) => withDownload((outlet) => service.saveSession(argument, outlet)),
      '/api/save-output': (argument) => withDownload((outlet) => service.saveOutput(argument, outlet)),
      '/api/preview-report': service.previewReport,
      '/api/preview-points': service.previewPoints,
      '/api/check-plan': service.checkPlan,
      '/api/plan-text': service.planText,
      '/api/open-text': service.openText,
    };
  let authority = '';

  async function answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const admission = admit(request, authority, token);
    if (!admission.admitted) return refuse(response, admission.status, admission.reason);
    const { address } = admission;
    if (admission.byAddress) return welcome(response, address);
    if (request.method === 'GET' || request.method === 'HEAD') {
      if (address.pathname === '/api/events' && request.method === 'GET') {
        events.open(response, request.headers['last-event-id']?.toString());
        // A page is there.
        service.expectWork();
      } else serve(request, response, address);
      return;
    }
    if (request.method !== 'POST')
      return refuse(response, 405, 'Only GET and POST are served.', { Allow: 'GET, HEAD, POST' });
    if (request.headers.origin === undefined) return refuse(response, 403, 'The request names no origin.');
    if (address.pathname === '/api/upload') return upload(request, response, address);
    const call = calls[address.pathname];
    if (call === undefined) return refuse(response, 404, 'There is nothing here.');
    if (request.headers['content-type'] !== 'application/json')
      return refuse(response, 415, 'Calls carry application/json.');
    const body = await readBody(
      request,
      response,
      LONG_CALLS.has(address.pathname) ? MOST_LONG_CALL_BYTES : MOST_CALL_BYTES,
    );
    if (body !== null) json(response, 200, await call(body.value));
  }

  /** The first address carries the token; it becomes a cookie and leaves the address bar and the history. */
  function welcome(response: ServerResponse, address: URL): void {
    address.searchParams.delete('token');
    response.writeHead(303, {
      ...pageHeaders,
      'Set-Cookie': `${cookieName(authority)}=${token}; HttpOnly; SameSite=Strict; Path=/`,
      Location: `/${address.search}`,
    });
    response.end();
  }

  function serve(request: IncomingMessage, response: ServerResponse, address: URL): void {
    const file = staticFile(pageFolder, address.pathname);
    const facts = file === null ? undefined : statSync(file.path, { throwIfNoEntry: false });
    if (file === null || !facts?.isFile()) {
      refuse(response, 404, 'There is nothing here.');
      return;
    }
    response.writeHead(200, { ...pageHeaders, 'Content-Type': file.type, 'Content-Length': facts.size });
    if (request.method === 'HEAD') response.end();
    else
      createReadStream(file.path)
        .on('error', () => response.destroy())
        .pipe(response);
  }

  async function upload(request: IncomingMessage, response: ServerResponse, address: URL): Promise<void> {
    const name = address.searchParams.get('name') ?? '';
    try {
      const path = await uploads.store(request, name);
      const opened = service.openPaths([path], true);
      json(response, 200, opened.ok ? { ok: true, value: opened.value[0] } : opened);
    } catch (error) {
      if (!(error instanceof TooLarge)) throw error;
      response.setHeader('Connection', 'close');
      const problem = describe({
        code: 'file-too-large',
        file: name,
        says: 'the file is too large for the browser host',
        remedy: 'reduce it on the command line',
      });
      json(response, 413, { ok: false, problems: [problem] });
    }
  }

  const server = createServer((request, response) => {
    answer(request, response).catch((error: unknown) => {
      // A connection that the page broke off is no fault; anything else must not pass unseen.
      if (request.destroyed && response.destroyed) return;
      console.error(error);
      if (response.headersSent) response.destroy();
      else refuse(response, 500, 'The program failed to answer; see the terminal it runs in.');
    });
  });
  // An upload of a large file may take longer than Node's default for whole requests.
  server.requestTimeout = 0;
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(0, '127.0.0.1', resolve);
  });
  authority = `127.0.0.1:${(server.address() as AddressInfo).port}`;

  return {
    origin: `http://${authority}`,
    token,
    address: (query = {}) => `http://${authority}/?${new URLSearchParams({ ...query, token })}`,
    async close() {
      stopListening();
      events.close();
      await new Promise<void>((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      });
      uploads.close();
      await service.close();
    },
  };
}

/** The answer of a call, with the file that the call hands over beside it. */
async function withDownload(
  call: (outlet: Outlet) => Promise<Outcome<unknown>>,
): Promise<Outcome<unknown> & { readonly download?: Download }> {
  let handed: Download | null = null;
  const answer = await call({
    place: async () => ({ kind: 'download' }),
    hand(file) {
      handed = file;
    },
  });
  return handed === null ? answer : { ...answer, download: handed };
}

function refuse(
  response: ServerResponse,
  status: number,
  reason: string,
  headers: Readonly<Record<string, string>> = {},
): void {
  response.writeHead(status, {
    ...pageHeaders,
    ...headers,
    'Content-Type': 'text/plain; charset=utf-8',
    Connection: 'close',
  });
  response.end(`${reason}\n`);
}

function json(response: ServerResponse, status: number, value: unknown): void {
  response.writeHead(status, { ...pageHeaders, 'Content-Type': 'application/json; charset=utf-8' });
  response.end(JSON.stringify(value));
}

/** Null when the request has been refused already. */
async function readBody(
  request: IncomingMessage,
  response: ServerResponse,
  mostBytes: number,
): Promise<{ readonly value: unknown } | null> {
  const chunks: Buffer[] = [];
  let bytes = 0;
  for await (const chunk of request as AsyncIterable<Buffer>) {
    bytes += chunk.length;
    if (bytes > mostBytes) {
      refuse(response, 413, 'The call is too long.');
      return null;
    }
    chunks.push(chunk);
  }
  try {
    return { value: JSON.parse(Buffer.concat(chunks).toString('utf8')) };
  } catch {
    refuse(response, 400, 'The call is not JSON.');
    return null;
  }
}
