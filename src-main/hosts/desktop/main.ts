/** Entry of the desktop window. The window opens only after everything that guards and serves it is in place. */
import { fileURLToPath } from 'node:url';
import { app, type BrowserWindow } from 'electron';
import { createReductionJobs } from '../../jobs/reduction-jobs.ts';
import { createService } from '../service.ts';
import { handleRequests } from './ipc.ts';
import { denyNavigation, denyPermissions } from './lockdown.ts';
import { registerScheme, serveScheme } from './protocol.ts';
import { openWindow } from './window.ts';

const pageFolder = fileURLToPath(new URL('../renderer/', import.meta.url));
const samplesFolder = fileURLToPath(new URL('../../sample-data/', import.meta.url));
const preload = fileURLToPath(new URL('../preload/preload.cjs', import.meta.url));

let window: BrowserWindow | null = null;

function show(): void {
  if (window === null) {
    window = openWindow(preload);
    window.on('closed', () => {
      window = null;
    });
  } else {
    if (window.isMinimized()) window.restore();
    window.focus();
  }
}

app.enableSandbox();
registerScheme();
denyNavigation();

// A second start shows the window of the first.
if (app.requestSingleInstanceLock()) {
  app.on('second-instance', show);
  app.on('activate', show);
  app.on('window-all-closed', () => {
    if (process.platform !== 'darwin') app.quit();
  });
  void app.whenReady().then(() => {
    const service = createService({
      host: 'desktop',
      samplesFolder,
      jobs: createReductionJobs({ workerUrl: new URL('./worker.js', import.meta.url) }),
    });
    denyPermissions();
    serveScheme(pageFolder);
    handleRequests(service, () => window);
    show();
    endJobsBeforeQuitting(() => service.close());
  });
} else app.quit();

/** Worker threads are asked to end and waited for: stopping them in the middle can take the process down with them. */
function endJobsBeforeQuitting(close: () => Promise<void>): void {
  let closed = false;
  app.on('before-quit', (event) => {
    if (closed) return;
    event.preventDefault();
    void close().finally(() => {
      closed = true;
      app.quit();
    });
  });
}
