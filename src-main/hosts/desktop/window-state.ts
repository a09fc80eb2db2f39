/** Size and place of the window from one start to the next. Free of Electron. */
import { z } from 'zod';

export interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface WindowState {
  readonly width: number;
  readonly height: number;
  /** Null: the system places it. */
  readonly place: { readonly x: number; readonly y: number } | null;
  readonly maximised: boolean;
}

const stored = z.strictObject({
  width: z.int().min(200).max(20_000),
  height: z.int().min(200).max(20_000),
  place: z.strictObject({ x: z.int(), y: z.int() }).nullable(),
  maximised: z.boolean(),
});

export const firstState: WindowState = { width: 1440, height: 900, place: null, maximised: false };

/** This much of the title bar must lie on a screen, or nobody could take hold of the window, px. */
const HOLD = { width: 120, height: 40 } as const;

/** Whatever is not understood falls back to the first state: a damaged file must not keep the program from opening. */
export function parseWindowState(text: string | null): WindowState {
  try {
    return stored.parse(JSON.parse(text ?? ''));
  } catch {
    return firstState;
  }
}

/** The state on the screens that there are now: a window on a screen that has gone is placed by the system. */
export function fitToScreens(state: WindowState, screens: readonly Rectangle[]): WindowState {
  const { place } = state;
  const home =
    place === null
      ? undefined
      : screens.find(
          (s) =>
            Math.min(place.x + state.width, s.x + s.width) - Math.max(place.x, s.x) >= HOLD.width &&
            place.y >= s.y &&
            place.y + HOLD.height <= s.y + s.height,
        );
  const screen = home ?? screens[0];
  if (screen === undefined) return { ...state, place: null };
  return {
    ...state,
    width: Math.min(state.width, screen.width),
    height: Math.min(state.height, screen.height),
    place: home === undefined ? null : place,
  };
}
