import { useCallback, useEffect, useState } from 'react';
import { type LengthUnit, type RotationUnit, unitNames } from '../format/format.ts';

export type Theme = 'system' | 'light' | 'dark';

export interface Settings {
  readonly length: LengthUnit;
  readonly rotation: RotationUnit;
  readonly theme: Theme;
  /** Which six quantities the table and the card show. */
  readonly frame: 'blade' | 'disc';
}

const key = 'hubtrue-settings';
const initial: Settings = { length: 'mm', rotation: 'degree', theme: 'system', frame: 'blade' };

function oneOf<T extends string>(value: unknown, choices: readonly T[], otherwise: T): T {
  return choices.find((choice) => choice === value) ?? otherwise;
}

/** Settings from stored text; whatever is not understood falls back to its first value. */
export function parseSettings(text: string | null): Settings {
  let stored: Partial<Record<keyof Settings, unknown>> = {};
  try {
    const value: unknown = JSON.parse(text ?? '{}');
    if (typeof value === 'object' && value !== null) stored = value;
  } catch {
    // Damaged storage is no reason to trouble anyone: the first values apply.
  }
  return {
    length: oneOf(stored.length, unitNames.length, initial.length),
    rotation: oneOf(stored.rotation, unitNames.rotation, initial.rotation),
    theme: oneOf(stored.theme, ['system', 'light', 'dark'], initial.theme),
    frame: oneOf(stored.frame, ['blade', 'disc'], initial.frame),
  };
}

const choices = {
  ...unitNames,
  theme: ['light', 'system', 'dark'],
} as const;

/** The next value of a setting, and after the last the first. */
export function nextSetting<Name extends keyof typeof choices>(
  name: Name,
  now: Settings[Name],
): Settings[Name] {
  const all: readonly Settings[Name][] = choices[name] as readonly Settings[Name][];
  return all[(all.indexOf(now) + 1) % all.length] ?? now;
}

export function useSettings(): [Settings, (change: Partial<Settings>) => void] {
  const [settings, setSettings] = useState(() => parseSettings(window.localStorage.getItem(key)));
  useEffect(() => {
    window.localStorage.setItem(key, JSON.stringify(settings));
  }, [settings]);
  const change = useCallback((part: Partial<Settings>) => setSettings((now) => ({ ...now, ...part })), []);
  return [settings, change];
}

/** Sets the theme on the document and tells whether it is dark now; follows the system where asked to. */
export function useDark(theme: Theme): boolean {
  const [systemDark, setSystemDark] = useState(
    () => window.matchMedia('(prefers-color-scheme: dark)').matches,
  );
  useEffect(() => {
    const query = window.matchMedia('(prefers-color-scheme: dark)');
    const listen = () => setSystemDark(query.matches);
    query.addEventListener('change', listen);
    return () => query.removeEventListener('change', listen);
  }, []);
  const dark = theme === 'system' ? systemDark : theme === 'dark';
  // Set during rendering, before children read colours from the style sheet.
  document.documentElement.dataset['theme'] = dark ? 'dark' : 'light';
  return dark;
}
