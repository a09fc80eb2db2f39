/** Lists of sessions: lately used ones, and work that a program left behind when it did not end in order. */
import { basename, dirname } from 'node:path';
import type { Outcome, RecentSession, RecoverableSession } from '../../api.ts';
import { checked, requests } from '../requests.ts';
import type { Desk } from './desk.ts';

export interface ListRequests {
  recent(argument: unknown): Outcome<readonly RecentSession[]>;
  forgetRecent(argument: unknown): Outcome<null>;
  recover(argument: unknown): Outcome<readonly RecoverableSession[]>;
  discardRecovery(argument: unknown): Outcome<null>;
}

export function listRequests(desk: Desk): ListRequests {
  const { tickets, recentList, autosaves, recoverable } = desk;
  return {
    recent(argument) {
      const asked = checked(requests.recent, argument);
      if (!asked.ok) return asked;
      const value = recentList.entries().map(({ path, used, title, summary }): RecentSession => {
        const name = basename(path);
        const ticket = tickets.issue({ path, name, role: 'session' });
        return {
          ticket,
          name,
          folder: desk.isCopy(path) ? '' : basename(dirname(path)),
          used,
          title,
          summary,
        };
      });
      return { ok: true, value };
    },

    forgetRecent(argument) {
      const asked = checked(requests.forgetRecent, argument);
      if (!asked.ok) return asked;
      const entry = tickets.find(asked.value.ticket);
      if (entry?.role === 'session') recentList.forget(entry.path);
      return { ok: true, value: null };
    },

    recover(argument) {
      const asked = checked(requests.recover, argument);
      if (!asked.ok) return asked;
      const value = autosaves
        .left(desk.owned())
        .map(({ id, file, name, autosaved, saved, perhapsOpen }): RecoverableSession => {
          const ticket = tickets.issue({ path: file, name, role: 'session' });
          recoverable.set(ticket, id);
          const open = perhapsOpen && !desk.leftBehind.has(id);
          return { ticket, name, autosaved, saved, perhapsOpen: open };
        });
      return { ok: true, value };
    },

    discardRecovery(argument) {
      const asked = checked(requests.discardRecovery, argument);
      if (!asked.ok) return asked;
      const id = recoverable.get(asked.value.ticket);
      if (id !== undefined && !desk.owned().has(id)) autosaves.remove(id);
      return { ok: true, value: null };
    },
  };
}
