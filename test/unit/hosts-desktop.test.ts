import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { isOwnAddress, pageAddress } from '../../src-main/hosts/desktop/page-address.ts';
import { isTrustedSender } from '../../src-main/hosts/desktop/sender.ts';
import { desktopObstacle } from '../../src-main/hosts/desktop-obstacle.ts';
import { staticFile } from '../../src-main/hosts/static-file.ts';

describe('the page of the desktop window', () => {
  test('is our own address and no other', () => {
    expect(isOwnAddress(pageAddress)).toBe(true);
    for (const other of [
      'https://hubtrue.example/',
      'hubtrue://app.evil/index.html',
      'hubtrue://evil/index.html',
      'hubtrue-evil://app/index.html',
      'file:///index.html',
      'javascript:alert(1)',
      'not an address',
      '',
    ])
      expect(isOwnAddress(other), other).toBe(false);
  });

  test('is heard in its top frame only', () => {
    expect(isTrustedSender({ url: pageAddress, parent: null })).toBe(true);
    expect(isTrustedSender({ url: pageAddress, parent: {} })).toBe(false);
    expect(isTrustedSender({ url: 'https://hubtrue.example/', parent: null })).toBe(false);
    expect(isTrustedSender(null)).toBe(false);
  });

  test('gets files of its folder only', () => {
    expect(staticFile('/page', '/')).toMatchObject({ path: '/page/index.html' });
    expect(staticFile('/page', '/assets/a.js')).toMatchObject({ path: '/page/assets/a.js' });
    for (const address of [
      '/../page-2/a.js',
      '/%2e%2e/a.js',
      '/..%5ca.js',
      '/a.exe',
      '/a',
      '/.git/a.js',
      '/%zz',
    ])
      expect(staticFile('/page', address), address).toBeNull();
  });
});

describe('npm start', () => {
  test('says why the desktop window cannot open', () => {
    expect(desktopObstacle(null, 'linux', { DISPLAY: ':0' })).toContain('npm run fetch-electron');
    expect(desktopObstacle('/electron', 'linux', {})).toContain('no graphical display');
    expect(desktopObstacle('/electron', 'linux', { WAYLAND_DISPLAY: 'wayland-0' })).toBeNull();
    expect(desktopObstacle('/electron', 'win32', {})).toBeNull();
  });
});

test('fetching Electron without a network says so and fails nothing', () => {
  const script = fileURLToPath(new URL('../../src-main/hosts/desktop/fetch-electron.mjs', import.meta.url));
  const folder = mkdtempSync(join(tmpdir(), 'hubtrue-test-'));
  const run = spawnSync(process.execPath, [script], {
    encoding: 'utf8',
    // Nothing listens on the discard port, and neither the cache nor an installed program can stand in.
    env: {
      ...process.env,
      ELECTRON_MIRROR: 'http://127.0.0.1:9/',
      electron_config_cache: folder,
      ELECTRON_OVERRIDE_DIST_PATH: join(folder, 'dist'),
    },
  });
  rmSync(folder, { recursive: true });
  expect(run.status).toBe(0);
  expect(run.stdout).toContain('could not be fetched');
  expect(run.stdout).toContain('`npm start` opens the browser instead');
});
