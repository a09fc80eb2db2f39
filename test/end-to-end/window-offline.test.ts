/**
 * Offline by design: in a whole session of work the browser asks nobody but the loopback server of this program, and the
 * program itself listens there and connects to nobody.
 */
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { expect, test } from 'vitest';
import { chromiumArguments, chromiumProgram } from '../support/chromium.ts';
import { temporaryFolder } from '../support/disc-files.ts';
import { discShown, startBuiltHost, watchedPage } from '../support/window.ts';

/** Loaded into Node before the program: notes every socket that is opened, every name looked up, every port listened on. */
const watcher = `
import { appendFileSync } from 'node:fs';
import net from 'node:net';
import dns from 'node:dns';
import dgram from 'node:dgram';
import { syncBuiltinESMExports } from 'node:module';
const note = (what, how) => appendFileSync(process.env.SOCKET_LOG, what + ' ' + JSON.stringify(how.filter((part) => typeof part !== 'function')) + '\\n');
const watch = (owner, name, what) => {
  const original = owner[name];
  owner[name] = function (...how) {
    note(what, how);
    return original.apply(this, how);
  };
};
watch(net.Socket.prototype, 'connect', 'connect');
watch(net.Server.prototype, 'listen', 'listen');
watch(dgram.Socket.prototype, 'send', 'send');
watch(dgram.Socket.prototype, 'bind', 'bind');
for (const name of ['lookup', 'resolve', 'resolve4', 'resolve6']) watch(dns, name, 'look up');
syncBuiltinESMExports();
`;

test('a whole session speaks to this program alone, and this program to nobody', async () => {
  const folder = temporaryFolder();
  const watcherFile = join(folder, 'watcher.mjs');
  writeFileSync(watcherFile, watcher);
  const loaded = `--import ${pathToFileURL(watcherFile).href}`;

  // The watcher sees a connection where there is one.
  const control = join(folder, 'control.log');
  execFileSync(
    process.execPath,
    [
      '--eval',
      "fetch('http://127.0.0.1:50999/').catch(() => {}).then(() => fetch('http://no.invalid/')).catch(() => {})",
    ],
    { env: { ...process.env, NODE_OPTIONS: loaded, SOCKET_LOG: control } },
  );
  expect(readFileSync(control, 'utf8')).toMatch(/connect .*127\.0\.0\.1/);
  expect(readFileSync(control, 'utf8')).toMatch(/no\.invalid/);

  const socketLog = join(folder, 'sockets.log');
  const before = process.env['NODE_OPTIONS'];
  Object.assign(process.env, { NODE_OPTIONS: loaded, SOCKET_LOG: socketLog });
  const host = await startBuiltHost().finally(() => {
    if (before === undefined) delete process.env['NODE_OPTIONS'];
    else process.env['NODE_OPTIONS'] = before;
  });
  const netLog = join(folder, 'net-log.json');
  const browser = await chromium.launch({
    executablePath: chromiumProgram(),
    args: [...chromiumArguments, `--log-net-log=${netLog}`],
  });
  const { origin } = new URL(host.address);
  const asked: string[] = [];
  try {
    const { page, complaints } = await watchedPage(browser);
    page.on('request', (request) => asked.push(request.url()));
    await page.goto(host.address);
    await page.locator('[data-sample="off-centre"]').click();
    await discShown(page);
    const tabs = page.locator('.tabs button');
    for (let index = 0; index < (await tabs.count()); index += 1) {
      await tabs.nth(index).click();
      await page.locator('main').waitFor();
      for (const choice of await page.locator('main .topics input[type="radio"]').all()) {
        if (!(await choice.isVisible())) continue;
        await choice.check({ force: true });
        await page.waitForLoadState('networkidle');
      }
    }
    await page.locator('.tabs').getByRole('button', { name: 'Report' }).click();
    await page.locator('.report-preview').waitFor();
    for (const name of ['Save PDF', 'Save HTML', 'CSV', 'Spreadsheet', 'JSON', 'QIF']) {
      const button = page.locator('.report-choices').getByRole('button', { name, exact: true });
      await Promise.all([page.waitForEvent('download'), button.click()]);
      await page.locator('.outcome').getByText('Saved: ').waitFor();
    }
    await Promise.all([page.waitForEvent('download'), page.keyboard.press('Control+s')]);
    expect(complaints).toEqual([]);
  } finally {
    await browser.close();
    await host.stop();
  }

  // What the page asked for.
  expect(asked.length).toBeGreaterThan(20);
  expect(asked.filter((url) => !/^(blob|data):/.test(url) && new URL(url).origin !== origin)).toEqual([]);
  // What the browser put on the net for it, by the browser's own log. What it asks of its maker has no page behind it.
  const logged = [
    ...readFileSync(netLog, 'utf8').matchAll(/"initiator":"(https?:[^"]*)".*?"url":"([^"]*)"/g),
  ];
  expect(logged.length).toBeGreaterThan(20);
  expect(logged.filter(([, by, url]) => by !== origin || new URL(url ?? '').origin !== origin)).toEqual([]);
  // What the program did.
  const sockets = readFileSync(socketLog, 'utf8').trim().split('\n');
  // Node looks its own address up before it listens there; numbers need no server of names.
  expect(sockets).toEqual(['listen [0,"127.0.0.1"]', 'look up ["127.0.0.1"]']);
});

const sources = fileURLToPath(new URL('../../', import.meta.url));

/** Every module of the floors. */
function modules(folder: string): readonly string[] {
  return readdirSync(join(sources, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(ts|tsx|mjs)$/.test(name))
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`);
}

test('no module holds the means to connect, but for the page that calls its own server', () => {
  const means: readonly (readonly [string, RegExp])[] = [
    ['a module of the network', /from '(?:node:)?(?:net|https?|http2|tls|dgram|dns|dns\/promises)'/],
    ['fetch', /\bfetch\(/],
    [
      'a socket or stream',
      /\bnew (?:WebSocket|EventSource|XMLHttpRequest|RTCPeerConnection)\b|\bsendBeacon\(/,
    ],
    ["Electron's network", /\bnet\.(?:request|fetch)\(|\bnet\b.*from 'electron'/],
  ];
  const found = ['shared-math', 'src-main', 'src-renderer'].flatMap(modules).flatMap((path) => {
    // Types vanish when the program is built.
    const text = readFileSync(join(sources, path), 'utf8').replaceAll(/^import type .*$/gm, '');
    return means.filter(([, pattern]) => pattern.test(text)).map(([what]) => `${path}: ${what}`);
  });
  expect(found.sort()).toEqual([
    // Listens on the loopback address; the type of an address.
    'src-main/hosts/browser/server.ts: a module of the network',
    // Calls the server that served the page: every address begins with a slash, and the policy allows no other.
    'src-renderer/host/browser-api.ts: a socket or stream',
    'src-renderer/host/browser-api.ts: fetch',
  ]);
});
