/** Reading a session file: text, JSON, format, seal, schema; every fault names file and path. */
import { readSmallInput } from '../input-file.ts';
import { JsonSyntaxError, pathText, readJson } from '../plan/json-positions.ts';
import { describe, RefusedInput, refuse } from '../problems.ts';
import { decodeText } from '../text-encoding.ts';
import { faultOfResults } from './kept-results.ts';
import { knownFormats, migrate } from './migrate.ts';
import { bytesOfPlan, sha256Of } from './plan-bytes.ts';
import { sealOf } from './seal.ts';
import { SESSION_FORMAT, type SessionDocument, sessionSchema } from './session-schema.ts';

export interface ReadSession {
  readonly document: SessionDocument;
  /** The older format that it was in, or null. */
  readonly migratedFrom: string | null;
  readonly warnings: readonly string[];
}

/** Results of ten thousand stations take some hundred megabytes; more than this is no session. */
const MOST_BYTES = 512 * 1024 * 1024;

/** Problems told of one file. */
const MOST_PROBLEMS = 10;

/** @throws RefusedInput */
export function readSession(path: string): ReadSession {
  const { bytes, name } = readSmallInput(path, 'session', MOST_BYTES);
  return parseSession(bytes.length === 0 ? '' : decodeText(bytes, name, 'session'), name);
}

/** The session in a text. `name` is the file name for messages. @throws RefusedInput */
export function parseSession(text: string, name: string): ReadSession {
  if (!text.trimStart().startsWith('{'))
    refuse({
      code: 'not-a-session',
      file: name,
      line: 1,
      says: 'this is not a session',
      value: text.trimStart().split(/\r\n|\r|\n/, 1)[0] ?? '',
      expected: `JSON text that begins with { and has the format ${SESSION_FORMAT}`,
      remedy: 'open a file that was saved as a session, or one of its autosaves',
    });
  try {
    return readDocument(parse(text, name), name);
  } catch (error) {
    // Neither the seal nor the check of the format can follow a text that is nested without end.
    if (!(error instanceof RangeError)) throw error;
    refuse({
      code: 'damaged-session',
      file: name,
      says: 'this session is damaged',
      expected: 'no deeper nesting than a session has',
      remedy: 'open its autosave or another copy',
    });
  }
}

function readDocument(given: Readonly<Record<string, unknown>>, name: string): ReadSession {
  const format = given['format'];
  if (typeof format !== 'string' || !knownFormats.includes(format)) refuseFormat(format, name);
  const warnings: string[] = [];
  const isSealed = format !== 'hubtrue-session/0';
  const isWhole = !isSealed || given['seal'] === sealOf(given);
  const { seal: _, ...present } = migrate(given);
  const parsed = sessionSchema.safeParse(present);
  if (!parsed.success)
    throw new RefusedInput(
      parsed.error.issues.slice(0, MOST_PROBLEMS).map((issue) =>
        describe({
          code: 'damaged-session',
          file: name,
          path: pathText(issue.path),
          says: 'this part of the session cannot be used',
          expected: issue.message,
          remedy: 'open its autosave or another copy',
        }),
      ),
    );
  let document = { ...parsed.data, reduced: present['reduced'] as SessionDocument['reduced'] };
  const { plan } = document;
  const planSha256 = plan === null ? null : sha256Of(bytesOfPlan(plan));
  // The plan's own fingerprint follows from its text; results of another plan then name another.
  if (plan !== null && planSha256 !== null) document = { ...document, plan: { ...plan, sha256: planSha256 } };
  const changed = !isWhole || plan?.sha256 !== (planSha256 ?? undefined);
  if (document.reduced !== null) {
    const fault = changed
      ? 'the file has been changed since it was saved, so the results in it'
      : faultOfResults(document.reduced, document);
    if (fault !== null) {
      document = { ...document, reduced: null };
      warnings.push(
        `${name}: ${changed ? fault : `${fault}, so they`} are not shown; reduce the disc again.`,
      );
    }
  } else if (changed) warnings.push(`${name}: the file has been changed since it was saved.`);
  return { document, migratedFrom: format === SESSION_FORMAT ? null : format, warnings };
}

function parse(text: string, name: string): Readonly<Record<string, unknown>> {
  try {
    return JSON.parse(text) as Readonly<Record<string, unknown>>;
  } catch {
    // The reader that knows places is slower; only a damaged file needs it.
    try {
      return readJson(text).value as Readonly<Record<string, unknown>>;
    } catch (error) {
      if (!(error instanceof JsonSyntaxError)) throw error;
      refuse({
        code: 'json-syntax',
        file: name,
        line: error.position.line,
        character: error.position.character,
        says: 'this session is damaged',
        value: error.found,
        expected: error.expected,
        remedy: 'open its autosave or another copy',
      });
    }
  }
}

function refuseFormat(format: unknown, name: string): never {
  // What JSON holds need not become a text by itself: an object may bring a `toString` of its own.
  const words = typeof format === 'string' ? format : (JSON.stringify(format) ?? 'nothing');
  const number = /^hubtrue-session\/(\d+)$/.exec(words)?.[1];
  refuse({
    code: 'wrong-format',
    file: name,
    path: 'format',
    says:
      number === undefined
        ? 'this file is not a session'
        : 'this session was saved by a newer version of the software',
    value: words,
    expected: knownFormats.join(' or '),
    remedy: number === undefined ? 'open a session file' : 'open it with that version',
  });
}
