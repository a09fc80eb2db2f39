import { describe, expect, test, vi } from 'vitest';
import type { AppCommand, OpenedFile, Outcome } from '../../src-main/api.ts';
import { applicationMenu } from '../../src-main/hosts/desktop/menu.ts';
import { createOpenedFiles } from '../../src-main/hosts/desktop/opened-files.ts';
import { pathsFromArguments } from '../../src-main/hosts/desktop/opened-paths.ts';
import { firstState, fitToScreens, parseWindowState } from '../../src-main/hosts/desktop/window-state.ts';

const screens = [
  { x: 0, y: 0, width: 1920, height: 1040 },
  { x: 1920, y: 0, width: 1280, height: 1000 },
];

describe('the window', () => {
  const state = { width: 1200, height: 800, place: { x: 2000, y: 50 }, maximised: false };

  test('opens where and as large as it was closed', () => {
    expect(fitToScreens(parseWindowState(JSON.stringify(state)), screens)).toEqual(state);
  });

  test('is placed by the system where its screen has gone, and made no larger than a screen', () => {
    expect(fitToScreens(state, [{ x: 0, y: 0, width: 1024, height: 700 }])).toEqual({
      width: 1024,
      height: 700,
      place: null,
      maximised: false,
    });
  });

  test('keeps its title bar in reach', () => {
    expect(fitToScreens({ ...state, place: { x: 3150, y: 50 } }, screens).place).toBeNull();
    expect(fitToScreens({ ...state, place: { x: 100, y: 1030 } }, screens).place).toBeNull();
    expect(fitToScreens({ ...state, place: { x: -1000, y: 50 } }, screens).place).toEqual({
      x: -1000,
      y: 50,
    });
  });

  test('opens from its first state where nothing sensible was kept', () => {
    for (const text of [null, '', '{', '[]', '{"width":-5}', JSON.stringify({ ...state, extra: 1 })])
      expect(parseWindowState(text)).toEqual(firstState);
  });
});

describe('the menu', () => {
  function commands(platform: NodeJS.Platform): Map<string, AppCommand> {
    const heard: AppCommand[] = [];
    const keys = new Map<string, AppCommand>();
    for (const top of applicationMenu(platform, (command) => heard.push(command)))
      for (const item of Array.isArray(top.submenu) ? top.submenu : []) {
        if (item.click === undefined) continue;
        (item.click as () => void)();
        keys.set(String(item.accelerator), heard.at(-1) as AppCommand);
      }
    return keys;
  }

  test('has the keys of its platform', () => {
    expect(commands('win32').get('Ctrl+Y')).toBe('redo');
    expect(commands('darwin').get('Shift+Cmd+Z')).toBe('redo');
    for (const platform of ['win32', 'darwin', 'linux'] as const) {
      const keys = commands(platform);
      expect(keys.get('CmdOrCtrl+O')).toBe('open');
      expect(keys.get('CmdOrCtrl+S')).toBe('save-session');
      expect(keys.get('CmdOrCtrl+Z')).toBe('undo');
    }
  });

  test('begins with the program on macOS and ends the program from File elsewhere', () => {
    expect(applicationMenu('darwin', () => {})[0]).toEqual({ role: 'appMenu' });
    const file = applicationMenu('linux', () => {})[0];
    expect(file?.submenu).toContainEqual({ role: 'quit' });
  });
});

describe('files that the system opens', () => {
  test('are the plain words of the command line', () => {
    expect(
      pathsFromArguments(['/opt/hubtrue', '/d/a.hubtrue', '--flag', 'b.hubtrue'], true, '/work'),
    ).toEqual(['/d/a.hubtrue', '/work/b.hubtrue']);
    expect(pathsFromArguments(['/opt/electron', '/checkout'], false, '/work')).toEqual([]);
  });

  test('wait until the page listens, then arrive once; refused ones are reported', () => {
    const file: OpenedFile = { ticket: 't', name: 'a.hubtrue', bytes: 1, role: 'points' };
    const openPaths = vi.fn(
      (paths: readonly string[]): Outcome<readonly OpenedFile[]> =>
        paths.includes('/bad')
          ? { ok: false, problems: [{ code: 'x', message: 'bad: cannot be read' }] }
          : { ok: true, value: [file] },
    );
    const sent: (readonly OpenedFile[])[] = [];
    const reported: string[] = [];
    const files = createOpenedFiles(
      openPaths,
      (list) => sent.push(list),
      (text) => reported.push(text),
    );
    files.open(['/a.hubtrue']);
    expect(openPaths).not.toHaveBeenCalled();
    files.listening();
    files.listening();
    expect(sent).toEqual([[file]]);
    files.open(['/b.hubtrue']);
    expect(sent).toHaveLength(2);
    files.open(['/bad']);
    expect(reported).toEqual(['bad: cannot be read']);
    files.open([]);
    expect(openPaths).toHaveBeenCalledTimes(3);
  });
});
