import { readFileSync, writeFileSync } from 'node:fs';
import { BrowserWindow, dialog, screen } from 'electron';
import { pageAddress } from './page-address.ts';
import { windowOptions } from './window-options.ts';
import { fitToScreens, parseWindowState, type WindowState } from './window-state.ts';

/**
 * The one window. It shows when the page has painted, so that nobody sees an empty frame, and opens where it was closed.
 *
 * @param stateFile where its size and place are kept from one start to the next
 */
export function openWindow(preload: string, stateFile: string): BrowserWindow {
  const state = fitToScreens(
    parseWindowState(textOrNull(stateFile)),
    screen.getAllDisplays().map((display) => display.workArea),
  );
  const window = new BrowserWindow(windowOptions(preload, state));
  if (state.maximised) window.maximize();
  window.once('ready-to-show', () => window.show());
  window.on('close', () => keep(stateFile, stateOf(window)));
  guardUnsaved(window);
  void window.loadURL(pageAddress);
  return window;
}

/** The page refuses to be closed while it holds unsaved work; the person decides. */
function guardUnsaved(window: BrowserWindow): void {
  window.webContents.on('will-prevent-unload', (event) => {
    const answer = dialog.showMessageBoxSync(window, {
      type: 'warning',
      buttons: ['Keep working', 'Close without saving'],
      defaultId: 0,
      cancelId: 0,
      title: 'Hubtrue',
      message: 'This session holds work that is not saved.',
      detail: 'It is kept as an autosave and offered again at the next start.',
    });
    // Preventing the prevention lets the window close.
    if (answer === 1) event.preventDefault();
  });
}

function stateOf(window: BrowserWindow): WindowState {
  const { x, y, width, height } = window.getNormalBounds();
  return { width, height, place: { x, y }, maximised: window.isMaximized() };
}

function keep(file: string, state: WindowState): void {
  try {
    writeFileSync(file, JSON.stringify(state));
  } catch {
    // The place of a window is not worth a message.
  }
}

function textOrNull(file: string): string | null {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return null;
  }
}
