import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { type IncomingHttpHeaders, type IncomingMessage, request } from 'node:http';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { Readable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type BrowserHost, startBrowserHost } from '../../src-main/hosts/browser/server.ts';
import { createUploads, harmlessName } from '../../src-main/hosts/browser/uploads.ts';
import { createService } from '../../src-main/hosts/service.ts';
import { createWaitingJobs, type WaitingJobs } from '../support/waiting-jobs.ts';

const samplesFolder = fileURLToPath(new URL('../../sample-data/', import.meta.url));
let folder = '';
let host: BrowserHost;
let jobs: WaitingJobs;
let cookie = '';

interface Reply {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

interface Sent {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Buffer;
  /** Without the session's cookie. */
  readonly stranger?: boolean;
}

function ask(
  path: string,
  { method = 'GET', headers = {}, body, stranger = false }: Sent = {},
): Promise<Reply> {
  const { hostname, port } = new URL(host.origin);
  return new Promise((resolve, reject) => {
    const sent = request(
      { hostname, port, path, method, headers: { ...(stranger ? {} : { Cookie: cookie }), ...headers } },
      (response) => {
        const chunks: Buffer[] = [];
        response.on('data', (chunk: Buffer) => chunks.push(chunk));
        response.on('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            headers: response.headers,
            body: Buffer.concat(chunks).toString(),
          }),
        );
      },
    );
    sent.on('error', reject);
    sent.end(body);
  });
}

const call = (name: string, argument: unknown, more: Sent = {}): Promise<Reply> =>
  ask(`/api/${name}`, {
    method: 'POST',
    body: JSON.stringify(argument),
    ...more,
    headers: { 'Content-Type': 'application/json', Origin: host.origin, ...more.headers },
  });

const upload = (name: string, body: string | Buffer, more: Sent = {}): Promise<Reply> =>
  ask(`/api/upload?name=${encodeURIComponent(name)}`, {
    method: 'POST',
    body,
    ...more,
    headers: { Origin: host.origin, ...more.headers },
  });

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'hubtrue-test-'));
  mkdirSync(join(folder, 'page', 'assets'), { recursive: true });
  writeFileSync(join(folder, 'secret.html'), 'secret');
  writeFileSync(join(folder, 'page', 'index.html'), '<!doctype html><title>page</title>');
  writeFileSync(join(folder, 'page', '.hidden.js'), 'hidden');
  writeFileSync(join(folder, 'page', 'notes.txt'), 'notes');
  writeFileSync(join(folder, 'page', 'assets', 'index.js'), 'export {};');
  jobs = createWaitingJobs();
  host = await startBrowserHost({
    service: createService({ host: 'browser', samplesFolder, jobs }),
    pageFolder: join(folder, 'page'),
    mostUploadBytes: 1000,
  });
  const first = await ask(`/?token=${host.token}`, { stranger: true });
  cookie = String(first.headers['set-cookie']?.[0]).split(';')[0] ?? '';
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

describe('admission', () => {
  test('the server listens on 127.0.0.1 and nowhere else', async () => {
    const { hostname, port } = new URL(host.origin);
    expect(hostname).toBe('127.0.0.1');
    // The whole of 127.0.0.0/8 leads to this machine on Linux; a server on all addresses would answer there.
    const reached = await new Promise<boolean>((resolve) => {
      const socket = connect(Number(port), '127.0.0.2');
      socket.on('connect', () => {
        socket.destroy();
        resolve(true);
      });
      socket.on('error', () => resolve(false));
    });
    expect(reached).toBe(false);
  });

  test('the first address carries a token of 256 bits, which becomes a cookie out of reach of scripts and other sites', async () => {
    expect(host.token).toMatch(/^[0-9a-f]{64}$/);
    const reply = await ask(new URL(host.address({ sample: 'off-centre' })).href.slice(host.origin.length), {
      stranger: true,
    });
    expect(reply.status).toBe(303);
    expect(reply.headers.location).toBe('/?sample=off-centre');
    const [set] = reply.headers['set-cookie'] ?? [];
    expect(set).toMatch(/; HttpOnly; SameSite=Strict; Path=\//);
    // Cookies know no ports: two servers must not overwrite each other's.
    expect(set).toContain(`hubtrue-${new URL(host.origin).port}=`);
  });

  test('with the cookie, or the token as a bearer, the page is served', async () => {
    expect(await ask('/')).toMatchObject({
      status: 200,
      body: expect.stringContaining('<title>page</title>'),
    });
    const bearer = await ask('/', { stranger: true, headers: { Authorization: `Bearer ${host.token}` } });
    expect(bearer.status).toBe(200);
  });

  test.each([
    ['no token', '/', {}],
    ['a wrong token in the address', `/?token=${'0'.repeat(64)}`, {}],
    ['a shortened token', '/?token=0', {}],
    ['a wrong cookie', '/', { Cookie: 'hubtrue-1=0' }],
    ['a wrong bearer', '/', { Authorization: `Bearer ${'0'.repeat(64)}` }],
  ])('%s is refused', async (_, path, headers) => {
    const reply = await ask(path, { stranger: true, headers });
    expect(reply.status).toBe(401);
    expect(reply.body).not.toContain('page');
    expect(reply.headers['set-cookie']).toBeUndefined();
  });

  test('without a token no call is run', async () => {
    expect((await call('facts', {}, { stranger: true })).status).toBe(401);
    expect((await upload('a.csv', 'x', { stranger: true })).status).toBe(401);
    expect((await ask('/api/events', { stranger: true })).status).toBe(401);
  });

  test.each(['localhost', 'hubtrue.example', '127.0.0.1', '127.0.0.1:1'])(
    'Host %s is refused',
    async (name) => {
      expect((await ask('/', { headers: { Host: name } })).status).toBe(421);
      expect((await ask(`/?token=${host.token}`, { headers: { Host: name }, stranger: true })).status).toBe(
        421,
      );
    },
  );

  test.each(['http://localhost', 'https://hubtrue.example', 'null', 'http://127.0.0.1'])(
    'Origin %s is refused',
    async (origin) => {
      expect((await call('facts', {}, { headers: { Origin: origin } })).status).toBe(403);
      expect((await upload('a.csv', 'x', { headers: { Origin: origin } })).status).toBe(403);
    },
  );

  test('a call that names no origin, or comes from another site, is refused', async () => {
    const anonymous = await ask('/api/facts', {
      method: 'POST',
      body: '{}',
      headers: { 'Content-Type': 'application/json' },
    });
    expect(anonymous.status).toBe(403);
    expect((await ask('/', { headers: { 'Sec-Fetch-Site': 'cross-site' } })).status).toBe(403);
    expect((await ask('/', { headers: { 'Sec-Fetch-Site': 'same-site' } })).status).toBe(403);
  });
});

describe('files of the page', () => {
  test('carry headers that keep the page to itself', async () => {
    const { headers } = await ask('/');
    const policy = String(headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toMatch(/unsafe|https?:|\*/);
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['referrer-policy']).toBe('no-referrer');
    expect(headers['cache-control']).toBe('no-store');
  });

  test('are served with their type; HEAD gives no body', async () => {
    const script = await ask('/assets/index.js');
    expect(script).toMatchObject({ status: 200, body: 'export {};' });
    expect(script.headers['content-type']).toMatch(/^text\/javascript/);
    expect(await ask('/assets/index.js', { method: 'HEAD' })).toMatchObject({ status: 200, body: '' });
  });

  test.each([
    '/../secret.html',
    '/%2e%2e/secret.html',
    '/..%2fsecret.html',
    '/assets/..%2f..%2fsecret.html',
    '/..%5csecret.html',
    '/%2fetc%2fpasswd',
    '/index.html%00.js',
    '/%',
    '/.hidden.js',
    '/notes.txt',
    '/assets',
    '/absent.js',
  ])('%s is not there', async (path) => {
    const reply = await ask(path);
    expect(reply.status).toBe(404);
    expect(reply.body).toBe('There is nothing here.\n');
  });
});

test.each(['//etc/passwd', '//[', 'http://elsewhere.example/'])('the address %s is refused', async (path) => {
  expect((await ask(path)).status).toBe(400);
});

describe('calls', () => {
  test('answer with outcomes, problems included', async () => {
    const facts = JSON.parse((await call('facts', {})).body);
    expect(facts).toMatchObject({ ok: true, value: { host: 'browser' } });
    const sample = await call('open-sample', { id: 'nowhere' });
    expect(sample.status).toBe(200);
    expect(JSON.parse(sample.body)).toMatchObject({ ok: false, problems: [{ code: 'unknown-sample' }] });
    expect(
      JSON.parse((await call('reduce', { points: '/etc/passwd', plan: '/etc/passwd' })).body),
    ).toMatchObject({
      ok: false,
      problems: [{ code: 'unknown-ticket' }],
    });
  });

  test('other routes, methods, types and forms are refused', async () => {
    expect((await call('nothing', {})).status).toBe(404);
    expect((await ask('/api/facts')).status).toBe(404);
    for (const method of ['PUT', 'DELETE', 'PATCH', 'OPTIONS'])
      expect((await ask('/', { method })).status).toBe(405);
    expect((await call('facts', {}, { headers: { 'Content-Type': 'text/plain' } })).status).toBe(415);
    expect((await call('facts', {}, { body: '{' })).status).toBe(400);
    expect((await call('facts', {}, { body: `"${'x'.repeat(70_000)}"` })).status).toBe(413);
  });
});

describe('uploads', () => {
  test('give a ticket under the name that the person knows', async () => {
    const reply = JSON.parse((await upload('Disc 7.csv', 'station,feature,x,y,z\n')).body);
    expect(reply).toMatchObject({ ok: true, value: { name: 'Disc 7.csv', role: 'points', bytes: 22 } });
  });

  test('a name can lead nowhere', async () => {
    const reply = JSON.parse((await upload('../../../../tmp/evil.csv', 'station,feature,x,y,z\n')).body);
    expect(reply).toMatchObject({ ok: true, value: { name: 'evil.csv' } });
    expect(harmlessName('..')).toBe('file');
    expect(harmlessName('a\\b\\..\\c.csv')).toBe('c.csv');
    expect(harmlessName('x\u0000\u202e\u001b[31m.csv')).toBe('x___[31m.csv');
    expect(harmlessName(`${'n'.repeat(500)}.csv`)).toHaveLength(120);
  });

  test('what is too large is refused with a problem, whether or not it says so', async () => {
    const body = Buffer.alloc(2000, 'x');
    const declared = await upload('big.csv', body);
    expect(declared.status).toBe(413);
    expect(JSON.parse(declared.body)).toMatchObject({
      ok: false,
      problems: [{ code: 'file-too-large', file: 'big.csv' }],
    });
    const chunked = await upload('big.csv', body, { headers: { 'Transfer-Encoding': 'chunked' } });
    expect(chunked.status).toBe(413);
  });

  test('large files arrive whole, in whatever pieces they come', async () => {
    const roomy = createUploads(10_000_000);
    const row = Buffer.from('1,SEAT,1.25,-3.5,0.125\n');
    const whole = Buffer.concat(Array.from({ length: 150_000 }, () => row));
    const pieces = [0, 1, 65_000, 1_048_577, 1_048_578, 2_500_000, whole.length].map((from, k, all) =>
      whole.subarray(from, all[k + 1] ?? from),
    );
    const request = Object.assign(Readable.from(pieces), { headers: {} }) as unknown as IncomingMessage;
    const path = await roomy.store(request, 'points.csv');
    expect(readFileSync(path).equals(whole)).toBe(true);
    expect(statSync(path).mode & 0o777).toBe(0o600);
    roomy.close();
    expect(existsSync(path)).toBe(false);
  });

  test('a file that is not text is refused as a value', async () => {
    const reply = await upload('book.csv', Buffer.from([0x50, 0x4b, 3, 4, 0, 0, 0, 0]));
    expect(reply.status).toBe(200);
    expect(JSON.parse(reply.body)).toMatchObject({
      ok: false,
      problems: [{ code: 'binary-file', file: 'book.csv' }],
    });
  });
});

describe('events', () => {
  function listen(
    headers: Readonly<Record<string, string>> = {},
  ): Promise<{ text: () => string; close: () => void }> {
    const { hostname, port } = new URL(host.origin);
    return new Promise((resolve, reject) => {
      const sent = request(
        { hostname, port, path: '/api/events', headers: { Cookie: cookie, ...headers } },
        (response) => {
          let text = '';
          response.setEncoding('utf8');
          response.on('data', (chunk: string) => {
            text += chunk;
          });
          response.on('error', () => {});
          response.once('data', () => resolve({ text: () => text, close: () => sent.destroy() }));
        },
      );
      sent.on('error', reject);
      sent.end();
    });
  }

  test('of a job reach the page, and again a page whose connection broke off', async () => {
    const sample = JSON.parse((await call('open-sample', { id: 'conforming' })).body);
    const [points, plan] = sample.value;
    const { value } = JSON.parse((await call('reduce', { points: points.ticket, plan: plan.ticket })).body);
    const page = await listen();
    jobs.tell({ job: value.job, kind: 'progress', progress: { stage: 'hub', fraction: 0.5, note: 'Hub' } });
    jobs.tell({ job: value.job, kind: 'cancelled' });
    await expect.poll(page.text).toContain('"kind":"cancelled"');
    expect(page.text()).toContain('"fraction":0.5');
    const seen = [...page.text().matchAll(/^id: (\d+)$/gm)].map((match) => match[1] ?? '');
    page.close();

    // With the page the worker began to warm up on the sample discs.
    expect(jobs.warmed.at(-1)?.map(({ pointsPath }) => pointsPath)).toContain(
      join(samplesFolder, 'conforming', 'points.csv'),
    );
    // The id that opened the stream, that of the progress, that of the end.
    expect(seen).toEqual(['0', '1', '2']);
    const back = await listen({ 'Last-Event-ID': '1' });
    await expect.poll(back.text).toContain('"kind":"cancelled"');
    expect(back.text()).not.toContain('"fraction":0.5');
    back.close();

    const fresh = await listen();
    jobs.tell({ job: value.job, kind: 'progress', progress: { stage: 'hub', fraction: 0.7, note: 'Hub' } });
    await expect.poll(fresh.text).toContain('"fraction":0.7');
    expect(fresh.text()).not.toContain('"kind":"cancelled"');
    fresh.close();
  });
});

test('uploaded files lie in a private folder, and closing takes them away', async () => {
  const points = JSON.parse((await upload('p.csv', 'station,feature,x,y,z\n')).body).value;
  const plan = JSON.parse((await upload('p.json', '{}')).body).value;
  await call('reduce', { points: points.ticket, plan: plan.ticket });
  const path = jobs.started.at(-1)?.pointsPath ?? '';
  expect(basename(path)).toBe('p.csv');
  if (process.platform !== 'win32') expect(statSync(dirname(dirname(path))).mode & 0o077).toBe(0);
  await host.close();
  expect(existsSync(path)).toBe(false);
  expect(existsSync(dirname(dirname(path)))).toBe(false);
  expect(jobs.closed).toBe(true);
});
