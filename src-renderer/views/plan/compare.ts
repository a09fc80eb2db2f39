/** Two plans side by side: every value that differs, by its path. */
import { type Draft, isBlock, type Json, type Path, pathText } from './draft.ts';

export interface Difference {
  readonly path: string;
  /** Null: not in that plan. */
  readonly before: string | null;
  readonly after: string | null;
}

/** Order of keys does not count; order in lists does. */
export function differences(before: Draft, after: Draft): readonly Difference[] {
  const found: Difference[] = [];
  walk(before, after, [], found);
  return found;
}

function walk(before: Json | undefined, after: Json | undefined, path: Path, found: Difference[]): void {
  if (isBlock(before) && isBlock(after)) {
    const keys = [...new Set([...Object.keys(before), ...Object.keys(after)])];
    for (const key of keys) walk(before[key], after[key], [...path, key], found);
    return;
  }
  if (isListOfBlocks(before) && isListOfBlocks(after)) {
    const length = Math.max(before.length, after.length);
    for (let k = 0; k < length; k += 1) walk(before[k], after[k], [...path, k], found);
    return;
  }
  const [a, b] = [textOf(before), textOf(after)];
  if (a !== b) found.push({ path: pathText(path), before: a, after: b });
}

function isListOfBlocks(value: Json | undefined): value is readonly Json[] {
  return Array.isArray(value) && value.some((item: Json) => isBlock(item));
}

function textOf(value: Json | undefined): string | null {
  if (value === undefined) return null;
  return typeof value === 'string' ? value : JSON.stringify(value).replaceAll(',', ', ');
}
