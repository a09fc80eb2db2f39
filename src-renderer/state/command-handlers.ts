/** Who carries out a command: the view that was opened last and knows it, else the window. */
import { useEffect, useRef } from 'react';
import type { HubtrueApi } from '../../src-main/api.ts';
import { type CommandName, commandOf, isMac, workspaceAsked } from '../commands.ts';

export type CommandHandlers = { readonly [Name in CommandName]?: () => void };

const views: { readonly current: CommandHandlers }[] = [];

/** Commands that a view carries out itself while it is shown, such as undo. */
export function useCommandHandlers(handlers: CommandHandlers): void {
  const latest = useRef(handlers);
  latest.current = handlers;
  useEffect(() => {
    views.push(latest);
    return () => {
      views.splice(views.indexOf(latest), 1);
    };
  }, []);
}

function carryOut(name: CommandName, window: CommandHandlers): boolean {
  const handler = [...views].reverse().find((view) => view.current[name] !== undefined)?.current[name];
  const chosen = handler ?? window[name];
  chosen?.();
  return chosen !== undefined;
}

/** Commands that make sense above an open dialog. */
const ABOVE_DIALOGS: ReadonlySet<CommandName> = new Set([
  'open',
  'save-session',
  'save-session-as',
  'next-length',
  'next-rotation',
  'next-colours',
]);

/** Whether typing there has an undo of its own. A field of the plan has the plan's; a text to be taken in has not yet. */
function hasOwnUndo(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement &&
    target.closest('textarea, input:not([type]), input[type="text"], input[type="search"], dialog') !==
      null &&
    (target.closest('.plan-view, .what-if-view') === null || target.closest('.paste') !== null)
  );
}

function isEditing(name: CommandName): boolean {
  return name === 'undo' || name === 'redo';
}

/**
 * Keys and the desktop's menu, for the whole window.
 *
 * @param onWorkspace told the number of the workspace that was asked for; false where there is none
 */
export function useCommands(
  api: HubtrueApi,
  handlers: CommandHandlers,
  onWorkspace: (number: number) => boolean,
): void {
  const latest = useRef({ handlers, onWorkspace });
  latest.current = { handlers, onWorkspace };
  useEffect(() => {
    const mac = isMac();
    const listen = (event: KeyboardEvent): void => {
      if (event.defaultPrevented) return;
      const dialogOpen = document.querySelector('dialog[open]') !== null;
      const number = workspaceAsked(event);
      if (number !== null) {
        if (!dialogOpen && latest.current.onWorkspace(number)) event.preventDefault();
        return;
      }
      const name = commandOf(event, mac);
      if (name === null || (dialogOpen && !ABOVE_DIALOGS.has(name))) return;
      if (isEditing(name) && hasOwnUndo(event.target)) return;
      if (carryOut(name, latest.current.handlers)) event.preventDefault();
    };
    document.addEventListener('keydown', listen);
    return () => document.removeEventListener('keydown', listen);
  }, []);
  useEffect(
    () =>
      api.onCommand((name) => {
        // The menu takes the keys of undo before a text field sees them, so the field is served from here.
        if (isEditing(name) && hasOwnUndo(document.activeElement)) document.execCommand(name);
        else carryOut(name, latest.current.handlers);
      }),
    [api],
  );
}
