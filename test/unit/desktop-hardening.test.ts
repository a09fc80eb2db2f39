/**
 * Electron's published security checklist (docs/tutorial/security.md), item by item, as far as it can be tested without
 * Electron's program: a stand-in records what the host registers, and the test plays Chromium's part.
 */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { channels } from '../../src-main/hosts/desktop/channels.ts';
import { handleRequests } from '../../src-main/hosts/desktop/ipc.ts';
import {
  denyForeignDownloads,
  denyNavigation,
  denyNetwork,
  denyPermissions,
} from '../../src-main/hosts/desktop/lockdown.ts';
import { isLocalAddress, pageAddress } from '../../src-main/hosts/desktop/page-address.ts';
import { registerScheme, serveScheme } from '../../src-main/hosts/desktop/protocol.ts';
import { windowOptions } from '../../src-main/hosts/desktop/window-options.ts';
import { firstState } from '../../src-main/hosts/desktop/window-state.ts';
import { pageHeaders } from '../../src-main/hosts/page-policy.ts';
import type { Service } from '../../src-main/hosts/service.ts';

type Listener = (...words: never[]) => unknown;

const electron = vi.hoisted(() => ({
  app: new Map<string, Listener>(),
  session: new Map<string, Listener>(),
  ipc: new Map<string, Listener>(),
  schemes: [] as { scheme: string; privileges: Record<string, boolean> }[],
  served: new Map<string, (request: Request) => Promise<Response>>(),
}));

vi.mock('electron', () => ({
  app: { on: (name: string, listener: Listener) => electron.app.set(name, listener) },
  session: {
    defaultSession: {
      setPermissionRequestHandler: (handler: Listener) => electron.session.set('request', handler),
      setPermissionCheckHandler: (handler: Listener) => electron.session.set('check', handler),
      setDevicePermissionHandler: (handler: Listener) => electron.session.set('device', handler),
      webRequest: { onBeforeRequest: (handler: Listener) => electron.session.set('network', handler) },
      on: (name: string, handler: Listener) => electron.session.set(name, handler),
    },
  },
  protocol: {
    registerSchemesAsPrivileged: (list: typeof electron.schemes) => electron.schemes.push(...list),
    handle: (scheme: string, answer: (request: Request) => Promise<Response>) =>
      electron.served.set(scheme, answer),
  },
  ipcMain: { handle: (channel: string, answer: Listener) => electron.ipc.set(channel, answer) },
  dialog: {},
}));

const call = (listener: Listener | undefined, ...words: unknown[]): unknown => {
  if (listener === undefined) throw new Error('nothing was registered');
  return (listener as (...all: unknown[]) => unknown)(...words);
};

beforeEach(() => {
  for (const map of [electron.app, electron.session, electron.ipc, electron.served]) map.clear();
  electron.schemes.length = 0;
});

describe('options of the window', () => {
  const { webPreferences } = windowOptions('/preload.cjs', firstState);
  // Items 2, 3, 4, 6, 8, 9, 11 of the list.
  test.each([
    ['nodeIntegration', false],
    ['nodeIntegrationInWorker', false],
    ['nodeIntegrationInSubFrames', false],
    ['contextIsolation', true],
    ['sandbox', true],
    ['webSecurity', true],
    ['allowRunningInsecureContent', false],
    ['experimentalFeatures', false],
    ['webviewTag', false],
    ['navigateOnDragDrop', false],
  ] as const)('%s is %s', (option, value) => {
    expect(webPreferences?.[option]).toBe(value);
  });

  test('name no feature of Blink and load one preload script', () => {
    expect(webPreferences).not.toHaveProperty('enableBlinkFeatures');
    expect(webPreferences?.preload).toBe('/preload.cjs');
  });
});

describe('permissions (item 5)', () => {
  test('are denied but for writing to the clipboard, asked or checked, and devices always', () => {
    denyPermissions();
    const own = { getURL: () => pageAddress };
    const asked = (permission: string, contents: unknown = own) => {
      let given: unknown;
      call(electron.session.get('request'), contents, permission, (value: boolean) => {
        given = value;
      });
      return given;
    };
    const checked = (permission: string, contents: unknown = own) =>
      call(electron.session.get('check'), contents, permission);
    for (const permission of [
      'media',
      'geolocation',
      'notifications',
      'openExternal',
      'clipboard-read',
      'display-capture',
      'fileSystem',
      'fullscreen',
      'usb',
    ]) {
      expect(asked(permission), permission).toBe(false);
      expect(checked(permission), permission).toBe(false);
    }
    expect(asked('clipboard-sanitized-write')).toBe(true);
    expect(checked('clipboard-sanitized-write')).toBe(true);
    // And to the own page only.
    const other = { getURL: () => 'https://elsewhere.example/' };
    expect(asked('clipboard-sanitized-write', other)).toBe(false);
    expect(checked('clipboard-sanitized-write', other)).toBe(false);
    expect(checked('clipboard-sanitized-write', null)).toBe(false);
    expect(call(electron.session.get('device'), {})).toBe(false);
  });
});

describe('navigation, new windows and embedded views (items 12, 13, 14)', () => {
  function contents() {
    const listeners = new Map<string, Listener>();
    let open: Listener | undefined;
    denyNavigation();
    call(
      electron.app.get('web-contents-created'),
      {},
      {
        on: (name: string, listener: Listener) => listeners.set(name, listener),
        setWindowOpenHandler: (handler: Listener) => {
          open = handler;
        },
      },
    );
    return { listeners, open: () => call(open, { url: 'https://elsewhere.example/' }) };
  }
  const prevented = (listener: Listener | undefined, url: string): boolean => {
    let stopped = false;
    call(listener, {
      url,
      preventDefault: () => {
        stopped = true;
      },
    });
    return stopped;
  };

  test('lead nowhere but to the own page, for every web contents ever made', () => {
    const { listeners, open } = contents();
    for (const name of ['will-navigate', 'will-frame-navigate', 'will-redirect']) {
      expect(prevented(listeners.get(name), 'https://elsewhere.example/'), name).toBe(true);
      expect(prevented(listeners.get(name), 'file:///etc/passwd'), name).toBe(true);
      expect(prevented(listeners.get(name), 'hubtrue://app.elsewhere.example/'), name).toBe(true);
      expect(prevented(listeners.get(name), pageAddress), name).toBe(false);
    }
    expect(prevented(listeners.get('will-attach-webview'), '')).toBe(true);
    expect(open()).toEqual({ action: 'deny' });
  });
});

describe('the network', () => {
  test('is never reached: only the own page and what it holds itself', () => {
    denyNetwork();
    const cancelled = (url: string): unknown => {
      let answer: { cancel?: boolean } = {};
      call(electron.session.get('network'), { url }, (given: { cancel?: boolean }) => {
        answer = given;
      });
      return answer.cancel;
    };
    for (const url of [
      'https://elsewhere.example/',
      'http://127.0.0.1/',
      'ws://elsewhere.example/',
      'file:///etc/passwd',
      'blob:https://elsewhere.example/1',
      'ftp://elsewhere.example/',
    ])
      expect(cancelled(url), url).toBe(true);
    for (const url of [
      pageAddress,
      'hubtrue://app/assets/a.js',
      'blob:hubtrue://app/1',
      'data:image/png;base64,',
    ])
      expect(cancelled(url), url).toBe(false);
    expect(isLocalAddress('')).toBe(false);
  });
});

describe('downloads', () => {
  test('are made of what the page holds itself, and of nothing else', () => {
    denyForeignDownloads();
    const refused = (address: string): boolean => {
      let stopped = false;
      call(
        electron.session.get('will-download'),
        {
          preventDefault: () => {
            stopped = true;
          },
        },
        { getURL: () => address },
      );
      return stopped;
    };
    for (const address of ['https://elsewhere.example/a.exe', 'file:///etc/passwd', 'blob:https://x/1', ''])
      expect(refused(address), address).toBe(true);
    for (const address of ['blob:hubtrue://app/1', 'data:image/png;base64,'])
      expect(refused(address)).toBe(false);
  });
});

describe('the own scheme instead of file: (items 1, 7, 18)', () => {
  const folder = fileURLToPath(new URL('../../src-renderer/', import.meta.url));
  const get = async (address: string, method = 'GET'): Promise<Response> => {
    const answer = electron.served.get('hubtrue');
    if (answer === undefined) throw new Error('no scheme is served');
    return answer({ url: address, method } as Request);
  };

  test('is standard and secure, bypasses no policy and is no service worker', () => {
    registerScheme();
    expect(electron.schemes).toEqual([
      { scheme: 'hubtrue', privileges: { standard: true, secure: true, supportFetchAPI: true } },
    ]);
  });

  test('serves the page with its policy, and nothing outside its folder', async () => {
    serveScheme(folder);
    const page = await get(pageAddress);
    expect(page.status).toBe(200);
    const policy = page.headers.get('Content-Security-Policy') ?? '';
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toContain('unsafe');
    expect(policy).not.toMatch(/https?:|\*/);
    for (const address of [
      'hubtrue://app/../package.json',
      'hubtrue://app/%2e%2e/package.json',
      'hubtrue://app/%2e%2e%2fpackage.json',
      'hubtrue://app/..%2fsrc-main/packaging/icon.svg',
      'hubtrue://app/..%5csrc-main%5cpackaging%5cicon.svg',
      'hubtrue://app/..\\src-main\\packaging\\icon.svg',
      'hubtrue://app/index.html%00.svg',
      'hubtrue://app//etc/passwd',
      'hubtrue://app/%zz',
      'hubtrue://elsewhere/index.html',
      'hubtrue://app:80/index.html',
      'hubtrue://app/tsconfig.json',
      'hubtrue://app/parts',
    ]) {
      const answer = await get(address);
      expect(answer.status, address).toBe(404);
      // Whatever is answered carries the policy.
      expect(answer.headers.get('Content-Security-Policy'), address).toBe(policy);
    }
    expect((await get(pageAddress, 'POST')).status).toBe(404);
    expect(pageHeaders['X-Content-Type-Options']).toBe('nosniff');
  });
});

describe('links in the folder of the page', () => {
  test.skipIf(process.platform === 'win32')('are followed only where they stay inside', async () => {
    const root = mkdtempSync(join(tmpdir(), 'hubtrue-page-'));
    const folder = join(root, 'page');
    mkdirSync(join(folder, 'assets'), { recursive: true });
    writeFileSync(join(root, 'secret.svg'), '<svg/>');
    writeFileSync(join(folder, 'mark.svg'), '<svg/>');
    symlinkSync(join(root, 'secret.svg'), join(folder, 'out.svg'));
    symlinkSync(root, join(folder, 'up'));
    symlinkSync(join(folder, 'mark.svg'), join(folder, 'assets', 'same.svg'));
    serveScheme(folder);
    const status = async (path: string): Promise<number | undefined> =>
      (await electron.served.get('hubtrue')?.({ url: `hubtrue://app/${path}`, method: 'GET' } as Request))
        ?.status;
    expect(await status('mark.svg')).toBe(200);
    expect(await status('assets/same.svg')).toBe(200);
    expect(await status('out.svg')).toBe(404);
    expect(await status('up/secret.svg')).toBe(404);
  });
});

describe('messages of the page (items 17, 20)', () => {
  // The service answers with the name of what was asked, so that a test sees whether it was reached.
  const service = new Proxy({} as Service, {
    get: (_target, name) => (name === 'onJob' ? () => () => {} : () => ({ ok: true, value: String(name) })),
  });
  const ask = (channel: string, senderFrame: unknown, argument?: unknown): Promise<unknown> =>
    Promise.resolve(call(electron.ipc.get(channel), { senderFrame }, argument));

  test('are heard on every channel only from the top frame of the own page', async () => {
    handleRequests(
      service,
      () => null,
      () => {},
      () => {},
    );
    expect(electron.ipc.size).toBeGreaterThan(5);
    for (const channel of electron.ipc.keys())
      for (const frame of [
        null,
        { url: 'https://elsewhere.example/', parent: null },
        { url: pageAddress, parent: {} },
      ])
        expect(await ask(channel, frame), channel).toMatchObject({
          ok: false,
          problems: [{ code: 'untrusted-sender' }],
        });
    expect(await ask(channels.facts, { url: pageAddress, parent: null }, {})).toEqual({
      ok: true,
      value: 'facts',
    });
  });

  test('answer a failure of the program with a value', async () => {
    const failing = new Proxy({} as Service, {
      get: (_target, name) =>
        name === 'onJob'
          ? () => () => {}
          : () => {
              throw new Error('out of paper');
            },
    });
    const silence = vi.spyOn(console, 'error').mockImplementation(() => {});
    handleRequests(
      failing,
      () => null,
      () => {},
      () => {},
    );
    expect(await ask(channels.reduce, { url: pageAddress, parent: null }, {})).toMatchObject({
      ok: false,
      problems: [{ code: 'internal', message: expect.stringContaining('out of paper') }],
    });
    silence.mockRestore();
  });

  test('every channel of a request is answered, and the bridge knows no other', () => {
    handleRequests(
      service,
      () => null,
      () => {},
      () => {},
    );
    const toPage: readonly string[] = [channels.job, channels.command, channels.opened];
    const requests = Object.values(channels).filter((channel) => !toPage.includes(channel));
    expect([...electron.ipc.keys()].sort()).toEqual([...requests].sort());
  });
});

describe('sources of the desktop host', () => {
  const folder = fileURLToPath(new URL('../../src-main/hosts/desktop/', import.meta.url));
  const sources = readdirSync(folder)
    .filter((name) => name.endsWith('.ts'))
    .map((name) => readFileSync(join(folder, name), 'utf8'))
    .join('\n');

  test.each([
    ['opens nothing outside (item 15)', /shell\.openExternal|shell\.openPath/],
    ['uses no synchronous message', /sendSync/],
    ['loads no other page (item 1)', /loadURL\((?!pageAddress)/],
    ['switches nothing of Chromium off', /commandLine\.appendSwitch|disable-web-security|bypassCSP/],
    ['evaluates no text in the page', /executeJavaScript/],
  ])('%s', (_says, pattern) => {
    expect(sources).not.toMatch(pattern);
  });

  test('the bridge gives the page named functions, never the messenger itself (item 20)', () => {
    const bridge = readFileSync(join(folder, 'preload.ts'), 'utf8');
    expect(bridge.match(/exposeInMainWorld/g)).toHaveLength(1);
    expect(bridge).not.toMatch(/exposeInMainWorld\([^)]*ipcRenderer/);
    expect(bridge).toContain('satisfies HubtrueApi');
  });
});

describe('what the page is made of', () => {
  const read = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
  const sources = (folder: string): readonly string[] =>
    readdirSync(new URL(`../../${folder}/`, import.meta.url), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.(tsx?|html)$/.test(name))
      .map((name) => `${folder}/${name}`);

  test('embeds no view, no frame and nothing from elsewhere (items 1, 11)', () => {
    const files = sources('src-renderer');
    expect(files.length).toBeGreaterThan(50);
    for (const file of files) {
      const text = read(file);
      expect(text, file).not.toMatch(/<webview|allowpopups|<iframe|srcDoc=/i);
      expect(text, file).not.toMatch(/(src|href)=["'{`]+https?:/);
    }
  });

  test('is written into the document as text, never as markup', () => {
    for (const file of sources('src-renderer'))
      expect(read(file), file).not.toMatch(
        /dangerouslySetInnerHTML|\.innerHTML\s*=|insertAdjacentHTML|document\.write/,
      );
  });

  test('is shown by one pinned version of Electron, the one of the lock file (item 16)', () => {
    const { devDependencies } = JSON.parse(read('package.json'));
    const lock = JSON.parse(read('package-lock.json'));
    expect(devDependencies.electron).toMatch(/^\d+\.\d+\.\d+$/);
    expect(lock.packages['node_modules/electron'].version).toBe(devDependencies.electron);
  });
});
