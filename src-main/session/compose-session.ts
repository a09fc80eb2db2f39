/** From the work at hand to the document of its session file. */
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import type { Exclusions, ReducedDisc, SessionStatements } from '../api.ts';
import { missingReasons } from '../points/exclude-by-hand.ts';
import { RefusedInput } from '../problems.ts';
import { softwareVersion } from '../software.ts';
import { storedPath } from './file-places.ts';
import type { FileFingerprint } from './fingerprints.ts';
import { planFrom } from './plan-bytes.ts';
import { type Fingerprint, SESSION_FORMAT, type SessionDocument } from './session-schema.ts';

/** A file of the work at hand. */
export interface SessionInput {
  readonly path: string;
  /** Goes when the program ends; its path is not worth keeping. */
  readonly temporary: boolean;
}

/** A reduction and what it was made from. */
export interface SessionReduction extends Exclusions {
  readonly disc: ReducedDisc;
  /** SHA-256 of the welds file, null without one. */
  readonly weldsSha256: string | null;
}

export interface SessionWork extends SessionStatements {
  readonly title: string;
  readonly plan: SessionInput | null;
  readonly points: SessionInput | null;
  readonly welds: SessionInput | null;
  readonly reduction: SessionReduction | null;
  /** The session that was opened before: names files that were not found again. */
  readonly before: SessionDocument | null;
}

export interface ComposedSession {
  readonly document: SessionDocument;
  readonly resultKept: boolean;
}

/**
 * The document. A result goes in only where it was made from exactly these files and exclusions.
 *
 * @param folder of the session file, for relative paths; null: absolute ones
 * @param fingerprintOf remembers what it has hashed
 * @throws RefusedInput where an exclusion has no reason; the system's error where a file cannot be read
 */
export async function composeSession(
  work: SessionWork,
  folder: string | null,
  now: Date,
  fingerprintOf: (path: string) => Promise<FileFingerprint>,
): Promise<ComposedSession> {
  const problems = missingReasons(work.exclusions, work.excludedFeatures);
  if (problems.length > 0) throw new RefusedInput(problems);
  const fingerprint = async (
    input: SessionInput | null,
    before: Fingerprint | null,
  ): Promise<Fingerprint | null> => {
    if (input === null) return before;
    const path = input.temporary ? null : storedPath(input.path, folder);
    return { ...(await fingerprintOf(input.path)), path };
  };
  const { before, reduction } = work;
  const plan =
    work.plan === null
      ? (before?.plan ?? null)
      : planFrom(basename(work.plan.path), readFileSync(work.plan.path));
  const points = await fingerprint(work.points, before?.points ?? null);
  const welds = await fingerprint(work.welds, before?.welds ?? null);
  const resultKept =
    reduction !== null &&
    reduction.disc.result.source.points.sha256 === points?.sha256 &&
    reduction.disc.result.source.plan.sha256 === plan?.sha256 &&
    reduction.weldsSha256 === (welds?.sha256 ?? null) &&
    sameExclusions(reduction, work);
  const document: SessionDocument = {
    format: SESSION_FORMAT,
    software: softwareVersion,
    saved: now.toISOString(),
    title: work.title,
    plan,
    points,
    welds,
    exclusions: work.exclusions.map(({ line, reason }) => ({ line, reason: reason.trim() })),
    excludedFeatures: work.excludedFeatures.map(({ station, feature, reason }) => ({
      station,
      feature,
      reason: reason.trim(),
    })),
    notes: {
      disc: work.notes.disc,
      stations: work.notes.stations.map(({ station, text }) => ({ station, text })),
    },
    reduced: resultKept ? resultsOf(reduction.disc) : null,
  };
  return { document, resultKept };
}

function resultsOf({ result, import: understood, welds, warnings }: ReducedDisc): SessionDocument['reduced'] {
  return { result, import: understood, welds, warnings };
}

/** Whether two lists leave out the same for the same reasons, in whatever order. */
function sameExclusions(one: Exclusions, other: Exclusions): boolean {
  const keys = ({ exclusions, excludedFeatures }: Exclusions): string =>
    JSON.stringify([
      exclusions.map(({ line, reason }) => JSON.stringify([line, reason.trim()])).sort(),
      excludedFeatures
        .map(({ station, feature, reason }) => JSON.stringify([station, feature, reason.trim()]))
        .sort(),
    ]);
  return keys(one) === keys(other);
}
