/** Requests around session files. */
import { createDesk, type SessionOptions } from './desk.ts';
import { type ListRequests, listRequests } from './lists.ts';
import { type OpeningRequests, openingRequests } from './opening.ts';
import { type SavingRequests, savingRequests } from './saving.ts';

export interface SessionRequests extends SavingRequests, OpeningRequests, ListRequests {}

export function createSessionService(options: SessionOptions): SessionRequests {
  const desk = createDesk(options);
  return { ...savingRequests(desk), ...openingRequests(desk), ...listRequests(desk) };
}
