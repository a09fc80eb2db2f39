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
  // A named block that only one plan has is shown value by value; an entry of a list that only one has, as a whole.
  const isNamed = typeof path.at(-1) !== 'number';
  const blocks = [before, after].filter(isBlock);
  if (
    blocks.length === 2 ||
    (blocks.length === 1 && isNamed && (before === undefined || after === undefined))
  ) {
    const keys = [...new Set(blocks.flatMap((block) => Object.keys(block)))];
    const inside = (value: Json | undefined, key: string) => (isBlock(value) ? value[key] : undefined);
    for (const key of keys) walk(inside(before, key), inside(after, key), [...path, key], found);
    return;
  }
  if (isLongList(before) && isLongList(after)) {
    const length = Math.max(before.length, after.length);
    for (let k = 0; k < length; k += 1) walk(before[k], after[k], [...path, k], found);
    return;
  }
  const [a, b] = [textOf(before), textOf(after)];
  if (a !== b) found.push({ path: pathText(path), before: a, after: b });
}

/** Lists of blocks, and lists of numbers that are no vectors. */
function isLongList(value: Json | undefined): value is readonly Json[] {
  return Array.isArray(value) && (value.length > 3 || value.some((item: Json) => isBlock(item)));
}

function textOf(value: Json | undefined): string | null {
  if (value === undefined) return null;
  return typeof value === 'string' ? value : JSON.stringify(value).replaceAll(',', ', ');
}
