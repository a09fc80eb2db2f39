/** Reading a plan file: text, JSON, schema, consistency; every fault names its line. */
import { createHash } from 'node:crypto';
import type { PartDefinition } from '../../shared-math/definition.ts';
import type { PlanSummary } from '../api.ts';
import { readSmallInput } from '../input-file.ts';
import { type Cancellation, describe, RefusedInput, refuse, throwIfCancelled } from '../problems.ts';
import { decodeText } from '../text-encoding.ts';
import { JsonSyntaxError, type LocatedJson, pathText, readJson } from './json-positions.ts';
import { numberingFaults, planFaults } from './plan-checks.ts';
import { type PlanFile, planSchema } from './plan-schema.ts';
import { type PlanFault, schemaFaults } from './schema-faults.ts';
import { summarise } from './summarise.ts';
import { toDefinition } from './to-definition.ts';

export interface ReadPlan {
  readonly plan: PlanFile;
  readonly definition: PartDefinition;
  readonly summary: PlanSummary;
  /** File name without folder. */
  readonly name: string;
  readonly sha256: string;
  /** Line of a key or element, or of its nearest parent. */
  readonly lineOf: (path: readonly PropertyKey[]) => number | undefined;
  readonly warnings: readonly string[];
}

/** A plan is some kilobytes; this is room for ten thousand stations with overrides. */
const MOST_BYTES = 16 * 1024 * 1024;

/** Reads and checks a plan. @throws RefusedInput @throws Cancelled */
export async function readPlan(path: string, options: { signal?: Cancellation } = {}): Promise<ReadPlan> {
  throwIfCancelled(options.signal);
  const { bytes, name } = readSmallInput(path, 'plan', MOST_BYTES);
  const located = locate(planText(bytes, name), name);
  const plan = checkLocated(located, name);
  return {
    plan,
    definition: toDefinition(plan),
    summary: summarise(plan),
    name,
    sha256: createHash('sha256').update(bytes).digest('hex'),
    lineOf: (path) => located.positionOf(path)?.line,
    warnings: [],
  };
}

/** The plan in a text, checked. `name` is the file name for messages. @throws RefusedInput */
export function checkPlan(text: string, name: string): PlanFile {
  return checkLocated(locate(text, name), name);
}

function checkLocated(located: LocatedJson, name: string): PlanFile {
  const format = (located.value as { format?: unknown } | null)?.format;
  if (format !== undefined && format !== 'hubtrue-plan/1')
    refuseAll(name, located, [
      {
        code: 'wrong-format',
        path: ['format'],
        says: 'this file is not a plan that this version reads',
        value: String(format),
        expected: '"hubtrue-plan/1"',
        remedy: 'give the plan of the disc',
      },
    ]);
  const parsed = planSchema.safeParse(located.value);
  if (!parsed.success)
    refuseAll(name, located, [
      ...schemaFaults(parsed.error.issues, located.value),
      ...numberingFaults(located.value),
    ]);
  const faults = planFaults(parsed.data as PlanFile);
  if (faults.length > 0) refuseAll(name, located, faults);
  return parsed.data as PlanFile;
}

function planText(bytes: Uint8Array, name: string): string {
  const text = bytes.length === 0 ? '' : decodeText(bytes, name, 'plan (JSON)');
  const remedy = 'check that the files are not swapped: this one was given as the plan';
  if (text.trim() === '')
    refuse({
      code: 'empty-file',
      file: name,
      says: 'the plan is empty',
      expected: 'JSON text that begins with {',
      remedy,
    });
  if (!text.trimStart().startsWith('{'))
    refuse({
      code: 'not-a-plan',
      file: name,
      line: 1,
      says: 'this is not a plan',
      value: text.trimStart().split(/\r\n|\r|\n/, 1)[0] ?? '',
      expected: 'JSON text that begins with {',
      remedy,
    });
  return text;
}

function locate(text: string, name: string): LocatedJson {
  try {
    return readJson(text);
  } catch (error) {
    if (!(error instanceof JsonSyntaxError)) throw error;
    refuse({
      code: 'json-syntax',
      file: name,
      line: error.position.line,
      character: error.position.character,
      says: 'this is not valid JSON',
      value: error.found,
      expected: error.expected,
      remedy: 'correct the text there',
    });
  }
}

function refuseAll(name: string, located: LocatedJson, faults: readonly PlanFault[]): never {
  throw new RefusedInput(
    faults.map(({ path, ...fault }) =>
      describe({ ...fault, file: name, line: located.positionOf(path)?.line, path: pathText(path) }),
    ),
  );
}
