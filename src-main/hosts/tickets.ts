/** Tickets stand for paths: the page names files by ticket and never learns, nor chooses, a path. */
import { randomBytes } from 'node:crypto';
import type { FileRole } from '../api.ts';

export interface TicketEntry {
  readonly path: string;
  readonly name: string;
  readonly role: FileRole;
  /** True for copies that go when the program ends (uploads, texts of the window): nobody will find the path later. */
  readonly temporary?: boolean;
}

export interface TicketTable {
  issue(entry: TicketEntry): string;
  find(ticket: string): TicketEntry | null;
}

/** A window that stays open for weeks must not gather files without end; the oldest tickets lapse. */
const MOST_TICKETS = 2000;

export function createTicketTable(): TicketTable {
  const entries = new Map<string, TicketEntry>();
  return {
    issue(entry) {
      const ticket = randomBytes(16).toString('base64url');
      entries.set(ticket, entry);
      const [oldest] = entries.keys();
      if (entries.size > MOST_TICKETS && oldest !== undefined) entries.delete(oldest);
      return ticket;
    },
    find: (ticket) => entries.get(ticket) ?? null,
  };
}
