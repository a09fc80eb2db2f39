/** The sessions at hand, and what saving, opening and the lists of sessions share. */
import { randomBytes } from 'node:crypto';
import { mkdirSync, readdirSync, rmSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { FileRole, OpenedFile, Outcome } from '../../api.ts';
import { RefusedInput, refuse } from '../../problems.ts';
import { type Autosaves, createAutosaves } from '../../session/autosaves.ts';
import { type FileFingerprint, rememberFingerprints } from '../../session/fingerprints.ts';
import { createRecentList, type RecentList } from '../../session/recent-list.ts';
import type { SessionDocument } from '../../session/session-schema.ts';
import { writeWholeFile } from '../../whole-file.ts';
import type { FinishedJobs } from '../finished-jobs.ts';
import type { PrivateFiles } from '../private-files.ts';
import type { TicketEntry, TicketTable } from '../tickets.ts';

export interface SessionOptions {
  readonly tickets: TicketTable;
  readonly ticketOf: (ticket: string, role: FileRole) => Outcome<TicketEntry>;
  readonly finished: FinishedJobs;
  readonly files: PrivateFiles;
  /** The account's own folder for autosaves and lists. */
  readonly stateFolder: string;
  readonly now: () => Date;
}

/** A piece of work at hand. */
export interface Handle {
  /** Saved file; null: never saved. */
  path: string | null;
  /** File name, empty where there is none yet. */
  name: string;
  saved: string | null;
  /** Id of the autosave, made at the first one. */
  autosave: string | null;
  /** As last opened or saved. */
  document: SessionDocument | null;
}

export interface Desk extends SessionOptions {
  readonly autosaves: Autosaves;
  readonly recentList: RecentList;
  /** Autosaves that a ticket of `recover` stands for. */
  readonly recoverable: Map<string, string>;
  readonly fingerprintOf: (path: string) => Promise<FileFingerprint>;
  /** Adds a piece of work; returns its name for the page. */
  add(handle: Handle): string;
  /** @throws RefusedInput for a name that is not at hand */
  find(session: string): Handle;
  /** @param keep leaves its autosave behind, to be taken up by another page */
  end(session: string, keep: boolean): void;
  /** Autosaves that a page of this program has left behind. */
  readonly leftBehind: Set<string>;
  /** Autosaves of the work at hand. */
  owned(): ReadonlySet<string>;
  /** Puts a saved session on the list of recent ones. */
  remember(path: string, document: SessionDocument): void;
  /**
   * Keeps what goes out as a download, so that it can be opened again from the list: in the place of the copy at `path`, or in a
   * new one. Null where the disk does not take it.
   */
  keepCopy(path: string | null, name: string, text: string): string | null;
  isCopy(path: string): boolean;
  open(path: string, role: FileRole, bytes: number, temporary?: boolean): OpenedFile;
  /** One after the other, so that an autosave under way cannot land after the save that made it needless. */
  inTurn<T>(work: () => Promise<T>): Promise<T>;
}

export function createDesk(options: SessionOptions): Desk {
  const { tickets, now } = options;
  const handles = new Map<string, Handle>();
  const autosaves = createAutosaves(options.stateFolder);
  const recentList = createRecentList(options.stateFolder);
  const leftBehind = new Set<string>();
  const copies = join(options.stateFolder, 'sessions');
  const isCopy = (path: string): boolean => dirname(dirname(path)) === copies;
  let last: Promise<unknown> = Promise.resolve();

  /** Copies that have left the list go; the person has the download. */
  function pruneCopies(): void {
    const listed = new Set(recentList.entries().map(({ path }) => basename(dirname(path))));
    const open = new Set([...handles.values()].map(({ path }) => basename(dirname(path ?? ''))));
    for (const folder of readdirSync(copies))
      if (!listed.has(folder) && !open.has(folder))
        rmSync(join(copies, folder), { recursive: true, force: true });
  }

  return {
    ...options,
    autosaves,
    recentList,
    recoverable: new Map(),
    fingerprintOf: rememberFingerprints(),
    add(handle) {
      const session = newName();
      handles.set(session, handle);
      return session;
    },
    find(session) {
      const handle = handles.get(session);
      if (handle !== undefined) return handle;
      refuse({
        code: 'unknown-session',
        says: 'this session is not open any more',
        remedy: 'save the work as a new session',
      });
    },
    leftBehind,
    end(session, keep) {
      const autosave = handles.get(session)?.autosave ?? null;
      if (autosave !== null && keep) leftBehind.add(autosave);
      else if (autosave !== null) autosaves.remove(autosave);
      handles.delete(session);
    },
    owned: () => new Set([...handles.values()].flatMap(({ autosave }) => autosave ?? [])),
    remember(path, { title, reduced, plan }) {
      const summary = reduced?.result.summary;
      try {
        recentList.add({
          path,
          used: now().toISOString(),
          title: title || plan?.name.replace(/\.json$/i, '') || '',
          summary: summary === undefined ? null : { ...counts(summary), missing: summary.missing.length },
        });
        if (isCopy(path)) pruneCopies();
      } catch (error) {
        // A list of conveniences that cannot be written must not make a file that was saved or opened look as if it were not.
        if (!isOfTheSystem(error)) throw error;
      }
    },
    keepCopy(path, name, text) {
      try {
        const place = path !== null && isCopy(path) ? path : join(copies, newName(), name);
        mkdirSync(dirname(place), { recursive: true, mode: 0o700 });
        writeWholeFile(place, text);
        return place;
      } catch (error) {
        // The person has the download all the same.
        if (!isOfTheSystem(error)) throw error;
        return null;
      }
    },
    isCopy,
    open(path, role, bytes, temporary = false) {
      const name = basename(path);
      return { ticket: tickets.issue({ path, name, role, temporary }), name, bytes, role };
    },
    inTurn(work) {
      const turn = last.then(work, work);
      last = turn;
      return turn;
    },
  };
}

/** Whether the disk or the account is at fault, and not the program. */
function isOfTheSystem(error: unknown): boolean {
  return error instanceof RefusedInput || (error as NodeJS.ErrnoException | null)?.syscall !== undefined;
}

function counts({
  stations,
  conforming,
  nonconforming,
  unproven,
}: {
  readonly stations: number;
  readonly conforming: number;
  readonly nonconforming: number;
  readonly unproven: number;
}) {
  return { stations, conforming, nonconforming, unproven };
}

const newName = (): string => randomBytes(12).toString('hex');
