import { BrowserWindow } from 'electron';
import { pageAddress } from './page-address.ts';

/** The one window. It shows when the page has painted, so that nobody sees an empty frame. */
export function openWindow(preload: string): BrowserWindow {
  const window = new BrowserWindow({
    width: 1440,
    height: 900,
    minWidth: 1180,
    minHeight: 720,
    show: false,
    title: 'Hubtrue',
    backgroundColor: '#13242d',
    autoHideMenuBar: true,
    webPreferences: {
      preload,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      webviewTag: false,
      spellcheck: false,
    },
  });
  window.once('ready-to-show', () => window.show());
  void window.loadURL(pageAddress);
  return window;
}
