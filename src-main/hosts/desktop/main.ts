/** Entry of the desktop window. The window opens only after everything that guards and serves it is in place. */
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { app, type BrowserWindow, dialog, Menu } from 'electron';
import type { JobEvent } from '../../api.ts';
import { createReductionJobs } from '../../jobs/reduction-jobs.ts';
import { createService } from '../service.ts';
import { channels } from './channels.ts';
import { handleRequests } from './ipc.ts';
import { denyForeignDownloads, denyNavigation, denyNetwork, denyPermissions } from './lockdown.ts';
import { applicationMenu } from './menu.ts';
import { createOpenedFiles } from './opened-files.ts';
import { pathsFromArguments } from './opened-paths.ts';
import { registerScheme, serveScheme } from './protocol.ts';
import { recentDocuments } from './recent-documents.ts';
import { openWindow } from './window.ts';

const pageFolder = fileURLToPath(new URL('../renderer/', import.meta.url));
const samplesFolder = fileURLToPath(new URL('../../sample-data/', import.meta.url));
const preload = fileURLToPath(new URL('../preload/preload.cjs', import.meta.url));

let window: BrowserWindow | null = null;

/** @param onClosed called when the window that this call opened has gone */
function show(onClosed: () => void): void {
  if (window === null) {
    window = openWindow(preload, join(app.getPath('userData'), 'window.json'));
    window.on('closed', () => {
      window = null;
      onClosed();
    });
  } else {
    if (window.isMinimized()) window.restore();
    window.focus();
  }
}

function tell(channel: string, message: unknown): void {
  if (window !== null && !window.isDestroyed()) window.webContents.send(channel, message);
}

app.enableSandbox();
registerScheme();
denyNavigation();

if (app.requestSingleInstanceLock()) start();
else app.quit();

function start(): void {
  // macOS names files before the program is ready; they wait.
  let early: readonly string[] = pathsFromArguments(process.argv, app.isPackaged, process.cwd());
  let openLater = (paths: readonly string[]): void => {
    early = [...early, ...paths];
  };
  app.on('open-file', (event, path) => {
    event.preventDefault();
    openLater([path]);
  });
  // A second start shows the window of the first, and hands over the files it was given.
  app.on('second-instance', (_event, argv, folder) =>
    openLater(pathsFromArguments(argv, app.isPackaged, folder)),
  );
  app.on('window-all-closed', () => {
    if (process.platform !== 'darwin') app.quit();
  });
  void app.whenReady().then(() => {
    const service = createService({
      host: 'desktop',
      samplesFolder,
      jobs: createReductionJobs({ workerUrl: new URL('./worker.js', import.meta.url) }),
      stateFolder: app.getPath('userData'),
    });
    const files = createOpenedFiles(
      service.openPaths,
      (opened) => tell(channels.opened, opened),
      (message) => dialog.showErrorBox('Hubtrue', message),
    );
    denyPermissions();
    denyNetwork();
    denyForeignDownloads();
    serveScheme(pageFolder);
    handleRequests(service, () => window, files.listening, recentDocuments(app.getPath('userData')));
    service.onJob(showProgress);
    Menu.setApplicationMenu(
      Menu.buildFromTemplate(applicationMenu(process.platform, (command) => tell(channels.command, command))),
    );
    files.open(early);
    const showWindow = (): void => show(files.silent);
    // On macOS the program may run without a window.
    openLater = (paths) => {
      files.open(paths);
      showWindow();
    };
    app.on('activate', showWindow);
    showWindow();
    service.expectWork();
    endJobsBeforeQuitting(() => service.close());
  });
}

/** Progress on the taskbar or dock, so that the window may lie behind others meanwhile. */
function showProgress(event: JobEvent): void {
  if (window === null || window.isDestroyed()) return;
  window.setProgressBar(event.kind === 'progress' ? event.progress.fraction : -1);
}

/**
 * Worker threads are asked to end and waited for: stopping them in the middle can take the process down with them.
 * This comes after the windows have closed, since a window with unsaved work may still call the quitting off.
 */
function endJobsBeforeQuitting(close: () => Promise<void>): void {
  let closed = false;
  app.on('will-quit', (event) => {
    if (closed) return;
    event.preventDefault();
    void close().finally(() => {
      closed = true;
      app.quit();
    });
  });
}
