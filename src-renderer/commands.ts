/** One table of what can be asked for by key or by menu: the same in both hosts, and what the list of shortcuts shows. */
import type { AppCommand } from '../src-main/api.ts';

export type CommandName = AppCommand | 'next-length' | 'next-rotation' | 'next-colours';

/** A key with what is held down. Letters are by the sign they make, figures by their place on the keyboard. */
export interface Chord {
  readonly key: string;
  /** Ctrl, or the Command key of a Mac. */
  readonly main?: boolean;
  readonly shift?: boolean;
  readonly alt?: boolean;
  /** A browser keeps it for itself. */
  readonly desktopOnly?: boolean;
}

export interface Command {
  readonly name: CommandName;
  readonly title: string;
  readonly group: 'Files' | 'Edit' | 'View' | 'Help';
  /** The first one is shown in menus and titles. */
  readonly chords: readonly Chord[];
}

/**
 * Alt with a letter goes by the key itself, since a browser keeps Ctrl+N for itself and Alt makes other signs on a Mac.
 * No command lies on a bare letter or sign: it would fire under speech input (WCAG 2.1.4).
 */
export const commands: readonly Command[] = [
  {
    name: 'new-plan',
    title: 'New plan',
    group: 'Files',
    chords: [
      { key: 'n', alt: true },
      { key: 'n', main: true, desktopOnly: true },
    ],
  },
  {
    name: 'open',
    title: 'Open points, plan, welds or a session',
    group: 'Files',
    chords: [{ key: 'o', main: true }],
  },
  {
    name: 'save-session',
    title: 'Save the session; while a plan is being written, the plan',
    group: 'Files',
    chords: [{ key: 's', main: true }],
  },
  {
    name: 'save-session-as',
    title: 'Save the session as another file',
    group: 'Files',
    chords: [{ key: 's', main: true, shift: true }],
  },
  { name: 'save-report', title: 'Report', group: 'Files', chords: [{ key: 'p', main: true }] },
  { name: 'undo', title: 'Undo', group: 'Edit', chords: [{ key: 'z', main: true }] },
  {
    name: 'redo',
    title: 'Redo',
    group: 'Edit',
    chords: [
      { key: 'y', main: true },
      { key: 'z', main: true, shift: true },
    ],
  },
  { name: 'next-length', title: 'Next unit of length', group: 'View', chords: [{ key: 'l', alt: true }] },
  {
    name: 'next-rotation',
    title: 'Next unit of rotation',
    group: 'View',
    chords: [{ key: 'r', alt: true }],
  },
  {
    name: 'next-colours',
    title: 'Light, system or dark colours',
    group: 'View',
    chords: [{ key: 't', alt: true }],
  },
  {
    name: 'calculator',
    title: 'Calculator for budget lines that no point can show',
    group: 'View',
    chords: [{ key: 'c', alt: true }],
  },
  {
    name: 'shortcuts',
    title: 'This list',
    group: 'Help',
    chords: [{ key: 'F1' }, { key: '/', main: true }],
  },
];

/** What is worth knowing beside the commands. */
export const furtherKeys: readonly { readonly title: string; readonly keys: readonly string[] }[] = [
  { title: 'Next or previous station on the ring', keys: ['→', '←'] },
  { title: 'First or last station', keys: ['Home', 'End'] },
  { title: 'Close a dialog', keys: ['Esc'] },
];

/** The parts of a keyboard event that matter here. */
export type KeyPressed = Pick<KeyboardEvent, 'key' | 'code' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey'>;

export function isMac(): boolean {
  return /mac|iphone|ipad/i.test(navigator.platform);
}

export function pressed(event: KeyPressed, chord: Chord, mac: boolean): boolean {
  const main = mac ? event.metaKey : event.ctrlKey;
  const other = mac ? event.ctrlKey : event.metaKey;
  if (other || main !== (chord.main ?? false) || event.altKey !== (chord.alt ?? false)) return false;
  // Where "/" needs Shift on a keyboard, it still is the same sign.
  if (chord.key !== '/' && event.shiftKey !== (chord.shift ?? false)) return false;
  return chord.alt === true
    ? event.code === `Key${chord.key.toUpperCase()}`
    : event.key.toLowerCase() === chord.key.toLowerCase();
}

export function commandOf(event: KeyPressed, mac: boolean): CommandName | null {
  return commands.find(({ chords }) => chords.some((chord) => pressed(event, chord, mac)))?.name ?? null;
}

/** Number of the workspace that Alt and a figure ask for. */
export function workspaceAsked(event: KeyPressed): number | null {
  if (!event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return null;
  const figure = /^Digit([1-9])$/.exec(event.code)?.[1];
  return figure === undefined ? null : Number(figure);
}

/** As the platform writes it: `Ctrl+Shift+S`, or `⇧⌘S`. */
export function chordText({ key, main, shift, alt }: Chord, mac: boolean): string {
  const sign = key.length === 1 ? key.toUpperCase() : key;
  if (mac) return `${alt ? '⌥' : ''}${shift ? '⇧' : ''}${main ? '⌘' : ''}${sign}`;
  return [...(main ? ['Ctrl'] : []), ...(alt ? ['Alt'] : []), ...(shift ? ['Shift'] : []), sign].join('+');
}

/** The first shortcut of a command, for titles of buttons. */
export function shortcutOf(name: CommandName, mac = isMac()): string {
  const chord = commands.find((command) => command.name === name)?.chords[0];
  return chord === undefined ? '' : chordText(chord, mac);
}
