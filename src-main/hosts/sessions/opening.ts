/** Opening a session file: its plan, its results as they stood, and its points and welds where they are found again. */
import { basename } from 'node:path';
import type { OpenedFile, OpenedSession, Outcome, Problem, ReducedDisc, SessionFile } from '../../api.ts';
import { readPlan } from '../../plan/read-plan.ts';
import { describe, RefusedInput, refuse } from '../../problems.ts';
import { findFile, writableName } from '../../session/file-places.ts';
import { answersPlan } from '../../session/kept-results.ts';
import { bytesOfPlan } from '../../session/plan-bytes.ts';
import { readSession } from '../../session/read-session.ts';
import type { Fingerprint, SessionDocument } from '../../session/session-schema.ts';
import { outcomeOf } from '../outcome-of.ts';
import { checked, requests } from '../requests.ts';
import type { TicketEntry } from '../tickets.ts';
import type { Desk, Handle } from './desk.ts';

export interface OpeningRequests {
  openSession(argument: unknown): Promise<Outcome<OpenedSession>>;
  matchSessionFile(argument: unknown): Promise<Outcome<OpenedFile>>;
}

export function openingRequests(desk: Desk): OpeningRequests {
  return {
    async openSession(argument) {
      const asked = checked(requests.openSession, argument);
      if (!asked.ok) return asked;
      const { ticket, candidates = [] } = asked.value;
      const entry = desk.ticketOf(ticket, 'session');
      if (!entry.ok) return entry;
      return outcomeOf(async () => {
        const { document, migratedFrom, warnings: noticed } = readSession(entry.value.path);
        const warnings = [...noticed];
        const handle = handleFor(desk, ticket, entry.value, document);
        const plan =
          document.plan === null
            ? null
            : desk.files.write(writableName(document.plan.name), bytesOfPlan(document.plan));
        const disc = await discOf(document, plan, entry.value.name, warnings);
        // Files given together with the session, then those near it.
        const given = candidates.flatMap((other) => desk.tickets.find(other)?.path ?? []);
        const near = handle.path ?? (handle.autosave === null ? entry.value.path : null);
        const points = await sessionFile(desk, document.points, 'points', near, given);
        const welds = await sessionFile(desk, document.welds, 'welds', near, given);
        const session = desk.add(handle);
        const job = disc === null ? null : `saved-${session}`;
        if (disc !== null && job !== null)
          desk.finished.add(job, {
            disc,
            exclusions: document.exclusions,
            excludedFeatures: document.excludedFeatures,
            welds: document.welds === null ? null : { sha256: document.welds.sha256 },
          });
        if (handle.path !== null && handle.autosave === null) desk.remember(handle.path, document);
        return {
          session,
          name: handle.name || entry.value.name,
          saved: document.saved,
          // A session that was saved again without its points still holds the results of an earlier version.
          software: disc?.result.source.software ?? document.software,
          plan: plan === null ? null : desk.open(plan, 'plan', desk.files.bytesOf(plan), true),
          points,
          welds,
          exclusions: document.exclusions,
          excludedFeatures: document.excludedFeatures,
          notes: document.notes,
          disc,
          job,
          migratedFrom,
          warnings,
        };
      });
    },

    async matchSessionFile(argument) {
      const asked = checked(requests.matchSessionFile, argument);
      if (!asked.ok) return asked;
      const { session, role, ticket } = asked.value;
      return outcomeOf(async () => {
        const wanted = desk.find(session).document?.[role] ?? null;
        const entry = desk.tickets.find(ticket);
        if (entry === null)
          refuse({
            code: 'unknown-ticket',
            says: 'the file is not open any more',
            remedy: 'open it again',
          });
        if (wanted === null)
          refuse({
            code: 'no-such-file',
            says: `the session names no ${role === 'points' ? 'point' : 'welds'} file`,
            remedy: 'open the file by itself',
          });
        const { sha256, bytes } = await desk.fingerprintOf(entry.path);
        if (sha256 !== wanted.sha256) throw new RefusedInput([differs(entry.name, wanted)]);
        return { ticket: desk.tickets.issue({ ...entry, role }), name: entry.name, bytes, role };
      });
    },
  };
}

/** The work at hand that an opened file becomes. A recovered autosave goes on as the autosave of its own session. */
function handleFor(desk: Desk, ticket: string, entry: TicketEntry, document: SessionDocument): Handle {
  const autosave = desk.recoverable.get(ticket) ?? null;
  if (autosave === null) {
    const path = entry.temporary === true ? null : entry.path;
    return { path, name: entry.name, saved: document.saved, autosave, document };
  }
  const left = desk.autosaves.left(desk.owned()).find(({ id }) => id === autosave);
  if (left === undefined)
    refuse({
      code: 'already-recovered',
      says: 'this work has been recovered or discarded already',
      remedy: 'look at the list again',
    });
  const name = left.path === null ? '' : basename(left.path);
  return { path: left.path, name, saved: left.saved, autosave, document };
}

/** Results as saved, with the plan's summary; null, with a warning, where this version can no longer read the plan. */
async function discOf(
  { reduced }: SessionDocument,
  planPath: string | null,
  file: string,
  warnings: string[],
): Promise<ReducedDisc | null> {
  if (reduced === null || planPath === null) return null;
  try {
    const { summary, definition } = await readPlan(planPath);
    if (answersPlan(reduced.result, definition)) return { ...reduced, plan: summary, definition };
    warnings.push(
      `${file}: the results in it were not judged by its plan, so they are not shown; reduce the disc again.`,
    );
    return null;
  } catch (error) {
    if (!(error instanceof RefusedInput)) throw error;
    warnings.push(...error.problems.map(({ message }) => message));
    return null;
  }
}

async function sessionFile(
  desk: Desk,
  wanted: Fingerprint | null,
  role: 'points' | 'welds',
  sessionPath: string | null,
  candidates: readonly string[],
): Promise<SessionFile | null> {
  if (wanted === null) return null;
  const finding = await findFile(wanted, sessionPath, candidates);
  const { name, bytes, sha256 } = wanted;
  if (finding.state === 'found') return { state: 'found', file: desk.open(finding.path, role, bytes) };
  if (finding.state === 'absent') return { state: 'absent', name, bytes, sha256 };
  return { state: 'different', name, problem: differs(basename(finding.path), wanted) };
}

/** Digits of a SHA-256 that tell two files apart for a reader. */
const DIGITS_SHOWN = 16;

function differs(file: string, { name, bytes, sha256 }: Fingerprint): Problem {
  return describe({
    code: 'different-file',
    file,
    says: `this is not the file that the session was saved with (${name}, ${bytes} bytes, SHA-256 ${sha256.slice(0, DIGITS_SHOWN)}…)`,
    remedy: 'give the file as it was then, or look at the saved results without it',
  });
}
