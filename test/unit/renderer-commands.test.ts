import { describe, expect, test } from 'vitest';
import { applicationMenu } from '../../src-main/hosts/desktop/menu.ts';
import {
  chordText,
  commandOf,
  commands,
  type KeyPressed,
  shortcutOf,
  workspaceAsked,
} from '../../src-renderer/commands.ts';
import { nextSetting } from '../../src-renderer/state/settings.ts';

const key = (part: Partial<KeyPressed>): KeyPressed => ({
  key: '',
  code: '',
  ctrlKey: false,
  metaKey: false,
  shiftKey: false,
  altKey: false,
  ...part,
});

describe('keys', () => {
  test('ask for the command of the platform', () => {
    expect(commandOf(key({ key: 's', ctrlKey: true }), false)).toBe('save-session');
    expect(commandOf(key({ key: 'S', ctrlKey: true, shiftKey: true }), false)).toBe('save-session-as');
    expect(commandOf(key({ key: 's', ctrlKey: true }), true)).toBe(null);
    expect(commandOf(key({ key: 's', metaKey: true }), true)).toBe('save-session');
    expect(commandOf(key({ key: 'Z', ctrlKey: true, shiftKey: true }), false)).toBe('redo');
    expect(commandOf(key({ key: 'y', ctrlKey: true }), false)).toBe('redo');
    expect(commandOf(key({ key: 'F1' }), false)).toBe('shortcuts');
  });

  test('open the calculator, with a disc or without', () => {
    expect(commandOf(key({ key: 'ç', code: 'KeyC', altKey: true }), true)).toBe('calculator');
    expect(commandOf(key({ key: 'c', code: 'KeyC', altKey: true }), false)).toBe('calculator');
    expect(commandOf(key({ key: 'c', code: 'KeyC', ctrlKey: true }), false)).toBe(null);
  });

  test('with Alt go by their place, since Alt makes other signs', () => {
    expect(commandOf(key({ key: '˜', code: 'KeyN', altKey: true }), true)).toBe('new-plan');
    expect(workspaceAsked(key({ key: '¡', code: 'Digit1', altKey: true }))).toBe(1);
    expect(workspaceAsked(key({ key: '1', code: 'Digit1', altKey: true, ctrlKey: true }))).toBe(null);
  });

  test('alone ask for nothing: no command lies on a bare letter or sign', () => {
    for (const code of 'abcdefghijklmnopqrstuvwxyz?/.,1234567890')
      expect(commandOf(key({ key: code }), false)).toBe(null);
  });

  test('ask for one command each', () => {
    const texts = commands.flatMap(({ chords }) => chords.map((chord) => chordText(chord, false)));
    expect(new Set(texts).size).toBe(texts.length);
  });

  test('are written as the platform writes them', () => {
    expect(shortcutOf('save-session-as', false)).toBe('Ctrl+Shift+S');
    expect(shortcutOf('save-session-as', true)).toBe('⇧⌘S');
  });
});

test.each(['win32', 'darwin', 'linux'] as const)(
  'the menu of %s shows keys that the page knows, too',
  (platform) => {
    const mac = platform === 'darwin';
    const asked: string[] = [];
    const items = applicationMenu(platform, (name) => asked.push(name)).flatMap(({ submenu }) =>
      Array.isArray(submenu) ? submenu : [],
    );
    const own = items.filter(({ click }) => click !== undefined);
    expect(own.map(({ label }) => label)).toContain('Calculator');
    expect(own.length).toBeGreaterThan(6);
    for (const { click, accelerator } of own) {
      (click as unknown as () => void)();
      const name = asked.at(-1);
      const command = commands.find((entry) => entry.name === name);
      expect(command, name).toBeDefined();
      if (accelerator === undefined) continue;
      const parts = String(accelerator)
        .replace('CmdOrCtrl', mac ? 'Cmd' : 'Ctrl')
        .split('+');
      const letter = parts.at(-1) ?? '';
      const pressed = key({
        key: letter.length === 1 ? letter.toLowerCase() : letter,
        ctrlKey: parts.includes('Ctrl'),
        metaKey: parts.includes('Cmd'),
        shiftKey: parts.includes('Shift'),
      });
      expect(commandOf(pressed, mac), `${accelerator}`).toBe(name);
    }
  },
);

test('a setting goes round its values', () => {
  expect(nextSetting('length', 'mm')).not.toBe('mm');
  expect(nextSetting('theme', 'dark')).toBe('light');
});
