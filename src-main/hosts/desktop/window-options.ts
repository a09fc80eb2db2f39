/** How the one window is made. Plain data, so that tests can hold each option against Electron's security checklist. */
import type { BrowserWindowConstructorOptions } from 'electron';
import type { WindowState } from './window-state.ts';

/** The smallest window in which no view loses a control. */
export const smallest = { width: 1180, height: 720 } as const;

export function windowOptions(preload: string, state: WindowState): BrowserWindowConstructorOptions {
  return {
    ...(state.place ?? {}),
    width: state.width,
    height: state.height,
    minWidth: smallest.width,
    minHeight: smallest.height,
    show: false,
    title: 'Hubtrue',
    backgroundColor: '#13242d',
    webPreferences: {
      preload,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      webviewTag: false,
      navigateOnDragDrop: false,
      spellcheck: false,
    },
  };
}
