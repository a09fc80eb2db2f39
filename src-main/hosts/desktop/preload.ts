/** The bridge into the sandboxed page: named functions of the api and nothing else of Electron. */
import { contextBridge, ipcRenderer, webUtils } from 'electron';
import type { AppCommand, HubtrueApi, JobEvent, OpenedFile } from '../../api.ts';
import { channels } from './channels.ts';

/** Passes on what a message says. The event object leads to Electron's sender and stays on this side. */
function listen<T>(channel: string, listener: (message: T) => void): () => void {
  const hear = (_event: unknown, message: T): void => listener(message);
  ipcRenderer.on(channel, hear);
  return () => {
    ipcRenderer.off(channel, hear);
  };
}

const api = {
  facts: () => ipcRenderer.invoke(channels.facts, {}),
  openSample: (id) => ipcRenderer.invoke(channels.openSample, { id }),
  chooseFiles: () => ipcRenderer.invoke(channels.chooseFiles),
  // The path is read from the File object here: the page can hand over a file that was dropped, but name no path.
  openDropped: (files) =>
    ipcRenderer.invoke(
      channels.openPaths,
      files.flatMap((file) => (file instanceof File ? [webUtils.getPathForFile(file)] : [])),
    ),
  previewPoints: (request) => ipcRenderer.invoke(channels.previewPoints, request),
  checkPlan: (request) => ipcRenderer.invoke(channels.checkPlan, request),
  planText: (request) => ipcRenderer.invoke(channels.planText, request),
  openText: (request) => ipcRenderer.invoke(channels.openText, request),
  savePlan: (request) => ipcRenderer.invoke(channels.savePlan, request),
  reduce: (request) => ipcRenderer.invoke(channels.reduce, request),
  cancel: (job) => ipcRenderer.invoke(channels.cancel, { job }),
  featurePoints: (request) => ipcRenderer.invoke(channels.featurePoints, request),
  discPoints: (request) => ipcRenderer.invoke(channels.discPoints, request),
  saveSession: (request) => ipcRenderer.invoke(channels.saveSession, request),
  openSession: (request) => ipcRenderer.invoke(channels.openSession, request),
  matchSessionFile: (request) => ipcRenderer.invoke(channels.matchSessionFile, request),
  autosave: (request) => ipcRenderer.invoke(channels.autosave, request),
  endSession: (session, keep = false) => ipcRenderer.invoke(channels.endSession, { session, keep }),
  recent: () => ipcRenderer.invoke(channels.recent, {}),
  forgetRecent: (ticket) => ipcRenderer.invoke(channels.forgetRecent, { ticket }),
  recover: () => ipcRenderer.invoke(channels.recover, {}),
  discardRecovery: (ticket) => ipcRenderer.invoke(channels.discardRecovery, { ticket }),
  saveOutput: (request) => ipcRenderer.invoke(channels.saveOutput, request),
  previewReport: (request) => ipcRenderer.invoke(channels.previewReport, request),
  onJob: (listener) => listen<JobEvent>(channels.job, listener),
  onCommand: (listener) => listen<AppCommand>(channels.command, listener),
  onOpened: (listener) => {
    const stop = listen<readonly OpenedFile[]>(channels.opened, listener);
    // Files of the program's start wait until the page can hear of them.
    void ipcRenderer.invoke(channels.listening);
    return stop;
  },
} satisfies HubtrueApi;

contextBridge.exposeInMainWorld('hubtrue', api);
