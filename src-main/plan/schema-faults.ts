/** What the schema finds, in words: path, value found, what was expected, and the nearest known key for a misspelt one. */
import type { z } from 'zod';
import { nearest } from '../nearest.ts';
import { pathText } from './json-positions.ts';
import { planSchema } from './plan-schema.ts';

/** A fault of the plan before its line is looked up. */
export interface PlanFault {
  readonly code: string;
  readonly path: readonly PropertyKey[];
  readonly says: string;
  readonly value?: string;
  readonly expected?: string;
  readonly remedy?: string;
}

export function schemaFaults(issues: readonly z.core.$ZodIssue[], plan: unknown): PlanFault[] {
  const faults = issues.flatMap((issue) => faultsOf(issue, plan));
  // A misspelt key is often why another one is missing: it comes first.
  return [
    ...faults.filter(({ code }) => code === 'unknown-key'),
    ...faults.filter(({ code }) => code !== 'unknown-key'),
  ];
}

function faultsOf(issue: z.core.$ZodIssue, plan: unknown): PlanFault[] {
  const { path } = issue;
  if (issue.code === 'unrecognized_keys') return issue.keys.map((key) => unknownKey(path, key));
  const found = valueAt(plan, path);
  const key = path.at(-1);
  const expected = expectation(issue, path);
  if (found === undefined && typeof key === 'string')
    return [
      {
        code: 'missing-key',
        path,
        says: `the key "${key}" is missing`,
        expected,
        remedy: `add "${key}" there`,
      },
    ];
  if (found === undefined)
    return [
      { code: 'too-short', path, says: 'the list is too short', expected, remedy: 'add what is missing' },
    ];
  return [
    {
      code: issue.code === 'invalid_type' ? 'wrong-type' : 'wrong-value',
      path,
      says: 'this value cannot be used',
      value: valueText(found),
      expected,
      remedy: remedyFor(issue, found),
    },
  ];
}

function unknownKey(path: readonly PropertyKey[], key: string): PlanFault {
  const known = keysAt(path);
  const near = nearest(key, known);
  return {
    code: 'unknown-key',
    path: [...path, key],
    says: path.length === 0 ? 'a plan has no such key' : `"${pathText(path)}" has no such key`,
    value: key,
    expected: near === null ? `one of ${known.join(', ')}` : `"${near}"`,
    remedy: near === null ? 'take it out' : `write "${near}" if that is meant, or take it out`,
  };
}

/** Type words of the schema, for people. */
const TYPES: Readonly<Record<string, string>> = {
  number: 'a number',
  int: 'a whole number',
  string: 'a text',
  boolean: 'true or false',
  array: 'a list',
  object: 'a block in braces',
  record: 'a block in braces',
};

function expectation(issue: z.core.$ZodIssue, path: readonly PropertyKey[]): string {
  switch (issue.code) {
    case 'invalid_type':
      if (issue.expected === 'tuple') return tupleText(path);
      return TYPES[issue.expected] ?? issue.expected;
    case 'invalid_value':
      return issue.values.map((value) => JSON.stringify(value)).join(' or ');
    case 'too_small':
      if (issue.origin === 'string') return 'a text that is not empty';
      if (issue.origin === 'array') return issue.minimum === 1 ? 'at least one in the list' : tupleText(path);
      return `a number ${issue.inclusive ? 'not below' : 'above'} ${issue.minimum}`;
    case 'too_big':
      if (issue.origin === 'array') return tupleText(path);
      return `a number ${issue.inclusive ? 'not above' : 'below'} ${issue.maximum}`;
    case 'invalid_union':
      return path.includes('columns') ? 'a header text or a column number from 1' : 'a text or a number';
    default:
      return issue.message;
  }
}

/** Lists of some length: the features of a datum, the members of a pattern, and vectors. */
function tupleText(path: readonly PropertyKey[]): string {
  if (path.at(-1) === 'features') return 'a list of two or more feature names';
  if (path.at(-1) === 'members') return 'a list of two or more members';
  return 'a list of three numbers, such as [0, 0, 1]';
}

function remedyFor(issue: z.core.$ZodIssue, found: unknown): string {
  if (issue.code === 'invalid_value' && typeof found === 'string') {
    const near = nearest(
      found,
      issue.values.filter((value): value is string => typeof value === 'string'),
    );
    if (near !== null) return `write "${near}" if that is meant`;
  }
  if (issue.code === 'invalid_type' && issue.expected === 'number' && typeof found === 'string')
    return 'write the number without quotes';
  return 'correct the value';
}

function valueText(found: unknown): string {
  if (typeof found === 'string') return found;
  if (Array.isArray(found)) return JSON.stringify(found);
  return typeof found === 'object' && found !== null ? 'a block in braces' : String(found);
}

function valueAt(root: unknown, path: readonly PropertyKey[]): unknown {
  let value = root;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[step];
  }
  return value;
}

/** The parts of a schema's own description that lead to its keys. */
interface SchemaParts {
  readonly shape?: Readonly<Record<PropertyKey, z.core.$ZodType>>;
  readonly element?: z.core.$ZodType;
  readonly valueType?: z.core.$ZodType;
  readonly innerType?: z.core.$ZodType;
}

/** Keys that the schema knows at a path. */
function keysAt(path: readonly PropertyKey[]): readonly string[] {
  let parts = partsOf(planSchema);
  for (const step of path) {
    const next = parts.shape?.[step] ?? parts.element ?? parts.valueType;
    if (next === undefined) return [];
    parts = partsOf(next);
  }
  return Object.keys(parts.shape ?? {}).filter((key) => key !== '$schema');
}

/** The description under any `optional` or `nullable` around it. */
function partsOf(schema: z.core.$ZodType): SchemaParts {
  const parts = schema._zod.def as unknown as SchemaParts;
  return parts.innerType === undefined ? parts : partsOf(parts.innerType);
}
