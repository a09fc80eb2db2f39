/** Requests of the page: the sender is checked for every one, the argument by the service, and every answer is a value. */
import { type BrowserWindow, type IpcMainInvokeEvent, ipcMain } from 'electron';
import type { Outcome } from '../../api.ts';
import { describe } from '../../problems.ts';
import type { Service } from '../service.ts';
import { channels } from './channels.ts';
import { askForFiles } from './open-dialog.ts';
import { saveDialog } from './save-dialog.ts';
import { savePlan } from './save-plan.ts';
import { isTrustedSender } from './sender.ts';

type Answer = Outcome<unknown> | Promise<Outcome<unknown>>;

/**
 * @param onListening called when the page can hear of files that the system asked to open
 * @param onSession called when a session has been saved or opened
 */
export function handleRequests(
  service: Service,
  window: () => BrowserWindow | null,
  onListening: () => void,
  onSession: () => void,
): void {
  const handle = (channel: string, answer: (argument: unknown) => Answer): void => {
    ipcMain.handle(
      channel,
      async (event: IpcMainInvokeEvent, argument: unknown): Promise<Outcome<unknown>> => {
        if (!isTrustedSender(event.senderFrame))
          return failure('untrusted-sender', 'the request does not come from the window');
        try {
          return await answer(argument);
        } catch (error) {
          // Electron would pass on nothing but the text of an exception; a value keeps its shape.
          console.error(error);
          return failure(
            'internal',
            `the program failed: ${error instanceof Error ? error.message : String(error)}`,
          );
        }
      },
    );
  };
  handle(channels.facts, service.facts);
  handle(channels.listening, () => {
    onListening();
    return { ok: true, value: null };
  });
  handle(channels.openSample, service.openSample);
  handle(channels.reduce, service.reduce);
  handle(channels.cancel, service.cancel);
  handle(channels.featurePoints, service.featurePoints);
  handle(channels.discPoints, service.discPoints);
  handle(channels.openPaths, (argument) => service.openPaths(argument));
  const used = async <T>(outcome: Promise<Outcome<T>>): Promise<Outcome<T>> => {
    if ((await outcome).ok) onSession();
    return outcome;
  };
  handle(channels.saveSession, (argument) => used(service.saveSession(argument, saveDialog(window))));
  handle(channels.openSession, (argument) => used(service.openSession(argument)));
  handle(channels.matchSessionFile, service.matchSessionFile);
  handle(channels.autosave, service.autosave);
  handle(channels.endSession, service.endSession);
  handle(channels.recent, service.recent);
  handle(channels.forgetRecent, service.forgetRecent);
  handle(channels.recover, service.recover);
  handle(channels.discardRecovery, service.discardRecovery);
  handle(channels.saveOutput, (argument) => service.saveOutput(argument, saveDialog(window)));
  handle(channels.previewReport, service.previewReport);
  handle(channels.previewPoints, service.previewPoints);
  handle(channels.checkPlan, service.checkPlan);
  handle(channels.planText, service.planText);
  handle(channels.openText, service.openText);
  handle(channels.savePlan, (argument) => savePlan(argument, saveDialog(window)));
  handle(channels.chooseFiles, async () => {
    const owner = window();
    const paths = owner === null ? [] : await askForFiles(owner);
    return paths.length === 0 ? { ok: true, value: [] } : service.openPaths(paths);
  });
  service.onJob((event) => {
    const target = window();
    if (target !== null && !target.isDestroyed()) target.webContents.send(channels.job, event);
  });
}

function failure(code: string, says: string): Outcome<never> {
  return { ok: false, problems: [describe({ code, says, remedy: 'report it with what you did before' })] };
}
