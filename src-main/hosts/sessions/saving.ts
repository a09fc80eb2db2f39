/** Saving the work at hand: into its file, or beside it as an autosave. */
import { basename, dirname } from 'node:path';
import type { FileRole, Outcome, SavedSession, SessionContent } from '../../api.ts';
import { fileStem } from '../../outputs/file-stem.ts';
import { RefusedInput, refuse } from '../../problems.ts';
import {
  type ComposedSession,
  composeSession,
  type SessionInput,
  type SessionReduction,
} from '../../session/compose-session.ts';
import { savedStatedIn } from '../../session/stated-time.ts';
import { sessionText } from '../../session/write-session.ts';
import { writeWholeFile } from '../../whole-file.ts';
import { outcomeOf } from '../outcome-of.ts';
import { downloadOf, type Outlet, type Place } from '../outlet.ts';
import { checked, requests } from '../requests.ts';
import type { Desk, Handle } from './desk.ts';

export interface SavingRequests {
  saveSession(argument: unknown, outlet: Outlet): Promise<Outcome<SavedSession | null>>;
  autosave(argument: unknown): Promise<Outcome<{ readonly session: string; readonly autosaved: string }>>;
  endSession(argument: unknown): Outcome<null>;
}

const unsaved: Handle = { path: null, name: '', saved: null, autosave: null, document: null };

export function savingRequests(desk: Desk): SavingRequests {
  return {
    async saveSession(argument, outlet) {
      const asked = checked(requests.saveSession, argument);
      if (!asked.ok) return asked;
      const { content, session, saveAs } = asked.value;
      return outcomeOf(async () => {
        const known = session === null ? unsaved : desk.find(session);
        const title = asked.value.title ?? known.document?.title ?? '';
        const name = `${stemOf(known.name) || fileStem(title) || 'disc'}.hubtrue`;
        // A copy kept beside a download is no place that the person has chosen.
        const place: Place | null =
          known.path !== null && !desk.isCopy(known.path) && saveAs !== true
            ? { kind: 'path', path: known.path }
            : await outlet.place({ name, title: 'Save the session' });
        if (place === null) return null;
        return desk.inTurn(async () => {
          const folder = place.kind === 'path' ? dirname(place.path) : null;
          const { document, resultKept } = await compose(desk, content, known, title, folder);
          const text = sessionText(document);
          let path: string | null;
          if (place.kind === 'path') {
            if (place.path === known.path) refuseOverwriting(known, place.path);
            writeWholeFile(place.path, text);
            path = place.path;
          } else {
            outlet.hand(downloadOf(name, text));
            path = desk.keepCopy(known.path, name, text);
          }
          if (known.autosave !== null) desk.autosaves.remove(known.autosave);
          const handle: Handle = {
            path,
            name: path === null ? name : basename(path),
            saved: document.saved,
            autosave: null,
            document,
          };
          const at = session ?? desk.add(handle);
          if (session !== null) Object.assign(desk.find(session), handle);
          if (path !== null) desk.remember(path, document);
          return { session: at, name: handle.name, saved: document.saved, resultKept };
        });
      });
    },

    async autosave(argument) {
      const asked = checked(requests.autosave, argument);
      if (!asked.ok) return asked;
      const { content, session } = asked.value;
      return outcomeOf(() =>
        desk.inTurn(async () => {
          const known = session === null ? unsaved : desk.find(session);
          const title = asked.value.title ?? known.document?.title ?? '';
          const { document } = await compose(desk, content, known, title, null);
          const handle = session === null ? { ...unsaved } : desk.find(session);
          const id = handle.autosave ?? desk.autosaves.newId();
          desk.autosaves.keep(id, sessionText(document), {
            name: handle.name || title || 'Unsaved work',
            autosaved: document.saved,
            path: handle.path,
            saved: handle.saved,
          });
          handle.autosave = id;
          return { session: session ?? desk.add(handle), autosaved: document.saved };
        }),
      );
    },

    endSession(argument) {
      const asked = checked(requests.endSession, argument);
      if (!asked.ok) return asked;
      desk.end(asked.value.session, asked.value.keep === true);
      return { ok: true, value: null };
    },
  };
}

/** A session that was saved from elsewhere since it was opened here holds work that must not go unseen. */
function refuseOverwriting({ saved, name }: Handle, path: string): void {
  const stated = savedStatedIn(path);
  if (stated === null || saved === null || stated === saved) return;
  refuse({
    code: 'saved-elsewhere',
    file: name,
    says: 'another window or program has saved this session since it was opened here',
    value: stated,
    expected: saved,
    remedy: 'save this work under another name, or open the session again',
  });
}

async function compose(
  desk: Desk,
  content: SessionContent,
  known: Handle,
  title: string,
  folder: string | null,
): Promise<ComposedSession> {
  const input = (ticket: string | null, role: FileRole): SessionInput | null => {
    if (ticket === null) return null;
    const entry = desk.ticketOf(ticket, role);
    if (!entry.ok) throw new RefusedInput(entry.problems);
    return { path: entry.value.path, temporary: entry.value.temporary === true };
  };
  return composeSession(
    {
      title,
      plan: input(content.plan, 'plan'),
      points: input(content.points, 'points'),
      welds: input(content.welds, 'welds'),
      exclusions: content.exclusions,
      excludedFeatures: content.excludedFeatures,
      notes: content.notes,
      reduction: content.job === null ? null : await reductionOf(desk, content.job),
      before: known.document,
    },
    folder,
    desk.now(),
    desk.fingerprintOf,
  );
}

async function reductionOf({ finished, fingerprintOf }: Desk, job: string): Promise<SessionReduction | null> {
  const found = finished.find(job);
  if (found === null) return null;
  const { welds } = found;
  const weldsSha256 =
    welds === null ? null : 'sha256' in welds ? welds.sha256 : (await fingerprintOf(welds.path)).sha256;
  return { ...found, weldsSha256 };
}

const stemOf = (name: string): string => name.replace(/\.hubtrue$/i, '');
