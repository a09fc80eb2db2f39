/**
 * The life of the desktop program (start, second start, files from the system, closing, ending), with a stand-in for Electron
 * whose events the test sends. The real program has not been started by tests.
 */
import { EventEmitter } from 'node:events';
import { copyFileSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { channels } from '../../src-main/hosts/desktop/channels.ts';
import { pageAddress } from '../../src-main/hosts/desktop/page-address.ts';
import { samplePath } from '../support/disc-files.ts';

interface StandIn {
  app: EventEmitter & Record<string, unknown>;
  ready: (() => void) | null;
  windows: FakeWindow[];
  handlers: Map<string, (event: unknown, argument: unknown) => Promise<unknown>>;
  errors: string[];
  answer: number;
  asked: number;
  quits: number;
  lock: boolean;
  sandboxed: number;
  displays: readonly { readonly workArea: object }[];
  order: string[];
  documents: string[];
}

interface FakeWindow extends EventEmitter {
  webContents: EventEmitter & { sent: [string, unknown][]; send(channel: string, message: unknown): void };
  progress: number[];
  loaded: string[];
  restored: number;
  focused: number;
  minimised: boolean;
  shown: boolean;
  options: Record<string, unknown>;
}

const standIn = vi.hoisted(() => ({ current: null as StandIn | null }));
const electron = (): StandIn => {
  if (standIn.current === null) throw new Error('no stand-in');
  return standIn.current;
};

vi.mock('electron', async () => {
  const { EventEmitter: Emitter } = await import('node:events');
  class BrowserWindow extends Emitter {
    webContents = Object.assign(new Emitter(), {
      sent: [] as [string, unknown][],
      send(channel: string, message: unknown): void {
        this.sent.push([channel, message]);
      },
    });
    progress: number[] = [];
    loaded: string[] = [];
    restored = 0;
    focused = 0;
    minimised = false;
    shown = false;
    constructor(readonly options: Record<string, unknown>) {
      super();
      electron().windows.push(this as unknown as FakeWindow);
      electron().order.push('window');
    }
    loadURL = async (address: string): Promise<void> => void this.loaded.push(address);
    isDestroyed = (): boolean => false;
    isMinimized = (): boolean => this.minimised;
    isMaximized = (): boolean => false;
    restore(): void {
      this.restored += 1;
    }
    focus(): void {
      this.focused += 1;
    }
    show(): void {
      this.shown = true;
    }
    maximize = (): void => {};
    setProgressBar = (fraction: number): void => void this.progress.push(fraction);
    getNormalBounds = () => ({ x: 11, y: 22, width: 1300, height: 800 });
  }
  const noted = (name: string) => (): void => void electron().order.push(name);
  return {
    app: new Proxy({} as Record<string, unknown>, {
      get: (_target, name) => {
        const value = electron().app[name as string];
        return typeof value === 'function' ? value.bind(electron().app) : value;
      },
    }),
    BrowserWindow,
    dialog: {
      showErrorBox: (_title: string, message: string) => electron().errors.push(message),
      showMessageBoxSync: () => {
        electron().asked += 1;
        return electron().answer;
      },
    },
    ipcMain: {
      handle: (channel: string, handler: (event: unknown, argument: unknown) => Promise<unknown>) =>
        electron().handlers.set(channel, handler),
    },
    Menu: { setApplicationMenu: noted('menu'), buildFromTemplate: (template: unknown) => template },
    protocol: { registerSchemesAsPrivileged: noted('scheme'), handle: noted('served') },
    screen: { getAllDisplays: () => electron().displays },
    session: {
      defaultSession: {
        setPermissionRequestHandler: noted('permissions'),
        setPermissionCheckHandler: () => {},
        setDevicePermissionHandler: () => {},
        webRequest: { onBeforeRequest: noted('network') },
        on: noted('downloads'),
      },
    },
  };
});

async function launch(options: { readonly lock?: boolean; readonly argv?: readonly string[] } = {}) {
  const folder = mkdtempSync(join(tmpdir(), 'hubtrue-main-'));
  const app = new EventEmitter() as StandIn['app'];
  standIn.current = {
    app,
    ready: null,
    windows: [],
    handlers: new Map(),
    errors: [],
    answer: 0,
    asked: 0,
    quits: 0,
    lock: options.lock ?? true,
    sandboxed: 0,
    displays: [{ workArea: { x: 0, y: 0, width: 1920, height: 1040 } }],
    order: [],
    documents: [],
  };
  Object.assign(app, {
    isPackaged: true,
    enableSandbox: () => {
      electron().sandboxed += 1;
      electron().order.push('sandbox');
    },
    requestSingleInstanceLock: () => electron().lock,
    quit: () => {
      electron().quits += 1;
    },
    getPath: () => folder,
    addRecentDocument: (path: string) => electron().documents.push(path),
    whenReady: () =>
      new Promise<void>((resolve) => {
        electron().ready = resolve;
      }),
  });
  const argv = process.argv;
  process.argv = ['/opt/hubtrue', ...(options.argv ?? [])];
  vi.resetModules();
  await import('../../src-main/hosts/desktop/main.ts');
  process.argv = argv;
  return folder;
}

async function ready(): Promise<FakeWindow> {
  electron().ready?.();
  await vi.waitFor(() => expect(electron().windows.length).toBeGreaterThan(0));
  return electron().windows.at(-1) as FakeWindow;
}

/** A request of the page. */
async function ask(channel: string, argument?: unknown): Promise<unknown> {
  const sender = { senderFrame: { url: pageAddress, parent: null } };
  return electron().handlers.get(channel)?.(sender, argument);
}

/** The page says that it can hear. */
const listen = (): Promise<unknown> => ask(channels.listening);

const openedNames = (window: FakeWindow): string[][] =>
  window.webContents.sent
    .filter(([channel]) => channel === channels.opened)
    .map(([, files]) => (files as { name: string }[]).map(({ name }) => name));

let sessionFile = '';
beforeEach(() => {
  sessionFile = join(mkdtempSync(join(tmpdir(), 'hubtrue-main-')), 'disc.hubtrue');
  writeFileSync(sessionFile, '{}');
});

describe('the start', () => {
  test('sandboxes everything and guards the session before the window is made', async () => {
    await launch();
    expect(electron().sandboxed).toBe(1);
    expect(electron().windows).toHaveLength(0);
    const window = await ready();
    expect(window.loaded).toEqual([pageAddress]);
    const { order } = electron();
    for (const guard of ['sandbox', 'scheme', 'permissions', 'network', 'downloads', 'served', 'menu'])
      expect(order.indexOf(guard), guard).toBeLessThan(order.indexOf('window'));
    for (const guard of ['permissions', 'network', 'downloads', 'served']) expect(order).toContain(guard);
    expect(window.shown).toBe(false);
    window.emit('ready-to-show');
    expect(window.shown).toBe(true);
  });

  test('as a second program ends at once and does nothing', async () => {
    await launch({ lock: false });
    expect(electron().quits).toBe(1);
    expect(electron().ready).toBe(null);
    expect(electron().windows).toHaveLength(0);
  });

  test('opens the window where it was closed, and inside the screens that there are', async () => {
    const folder = await launch();
    const window = await ready();
    window.emit('close');
    expect(JSON.parse(readFileSync(join(folder, 'window.json'), 'utf8'))).toEqual({
      width: 1300,
      height: 800,
      place: { x: 11, y: 22 },
      maximised: false,
    });
    window.emit('closed');
    electron().displays = [{ workArea: { x: 5000, y: 0, width: 1200, height: 700 } }];
    electron().app.emit('activate');
    expect(electron().windows.at(-1)?.options).toMatchObject({ width: 1200, height: 700 });
    expect(electron().windows.at(-1)?.options).not.toHaveProperty('x');
  });
});

describe('files from the system', () => {
  test('of the command line and of an early event wait until the page listens', async () => {
    await launch({ argv: [sessionFile] });
    let prevented = false;
    electron().app.emit(
      'open-file',
      {
        preventDefault: () => {
          prevented = true;
        },
      },
      sessionFile,
    );
    expect(prevented).toBe(true);
    const window = await ready();
    expect(openedNames(window)).toEqual([]);
    await listen();
    expect(openedNames(window)).toEqual([['disc.hubtrue', 'disc.hubtrue']]);
  });

  test('of a second start come to the window of the first, which is brought forward', async () => {
    await launch();
    const window = await ready();
    await listen();
    window.minimised = true;
    electron().app.emit('second-instance', {}, ['/opt/hubtrue', '--flag', sessionFile], '/work');
    expect(openedNames(window)).toEqual([['disc.hubtrue']]);
    expect(window.restored).toBe(1);
    expect(window.focused).toBe(1);
    expect(electron().windows).toHaveLength(1);
  });

  test('open a window where none is, and wait for its page', async () => {
    await launch();
    const first = await ready();
    await listen();
    first.emit('closed');
    electron().app.emit('open-file', { preventDefault: () => {} }, sessionFile);
    expect(electron().windows).toHaveLength(2);
    const second = electron().windows[1] as FakeWindow;
    expect(openedNames(first)).toEqual([]);
    expect(openedNames(second)).toEqual([]);
    await listen();
    expect(openedNames(second)).toEqual([['disc.hubtrue']]);
  });

  test('that are not there are told', async () => {
    await launch();
    await ready();
    await listen();
    electron().app.emit('open-file', { preventDefault: () => {} }, join(sessionFile, 'absent.hubtrue'));
    expect(electron().errors.join()).toContain('absent.hubtrue');
  });
});

describe('a session', () => {
  test('that was opened is among the recent documents of the system; one that was refused is not', async () => {
    await launch();
    const window = await ready();
    await listen();
    const open = async (path: string): Promise<unknown> => {
      electron().app.emit('open-file', { preventDefault: () => {} }, path);
      const [, files] = window.webContents.sent.at(-1) as [string, { ticket: string }[]];
      return ask(channels.openSession, { ticket: files[0]?.ticket });
    };
    const kept = fileURLToPath(new URL('./kept-sessions/session-1.hubtrue', import.meta.url));
    const other = join(sessionFile, '..', 'other.hubtrue');
    copyFileSync(kept, other);
    expect(await open(sessionFile)).toMatchObject({ ok: false });
    expect(electron().documents).toEqual([]);
    expect(await open(other)).toMatchObject({ ok: true });
    expect(electron().documents).toEqual([other]);
  });
});

describe('the taskbar', () => {
  test('shows the progress of a job, and nothing once it has ended', async () => {
    await launch();
    const window = await ready();
    await listen();
    const paths = ['points.csv', 'plan.json'].map((name) => samplePath('conforming', name));
    for (const path of paths) electron().app.emit('open-file', { preventDefault: () => {} }, path);
    const [points, plan] = window.webContents.sent
      .filter(([channel]) => channel === channels.opened)
      .map(([, files]) => (files as { ticket: string }[])[0]?.ticket);
    // The worker of the build is not there beside the sources, so the job ends as refused.
    expect(await ask(channels.reduce, { points, plan })).toMatchObject({ ok: true });
    await vi.waitFor(() => expect(window.progress.at(-1)).toBe(-1));
  });
});

describe('closing', () => {
  test('with unsaved work asks, and closes only on the answer to close', async () => {
    await launch();
    const window = await ready();
    const close = (answer: number): boolean => {
      electron().answer = answer;
      let closes = false;
      window.webContents.emit('will-prevent-unload', {
        preventDefault: () => {
          closes = true;
        },
      });
      return closes;
    };
    expect(close(0)).toBe(false);
    expect(close(1)).toBe(true);
    expect(electron().asked).toBe(2);
  });

  test('the last window ends the program but on macOS', async () => {
    await launch();
    await ready();
    electron().app.emit('window-all-closed');
    expect(electron().quits).toBe(process.platform === 'darwin' ? 0 : 1);
  });

  test('ending waits for the jobs, once', async () => {
    await launch();
    await ready();
    let prevented = 0;
    const event = {
      preventDefault: () => {
        prevented += 1;
      },
    };
    electron().app.emit('will-quit', event);
    expect(prevented).toBe(1);
    await vi.waitFor(() => expect(electron().quits).toBe(1));
    electron().app.emit('will-quit', event);
    expect(prevented).toBe(1);
  });
});
