/**
 * A plan while it is being written: plain JSON of any completeness, read and changed by path. Everything here is pure;
 * what a plan must hold is judged by the main floor.
 */
export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };
export type Draft = { readonly [key: string]: Json };
export type Path = readonly (string | number)[];

/** `disc.datums[1].side`, as the checks of the main floor write it. */
export function pathText(path: Path): string {
  return path
    .map((step, index) => (typeof step === 'number' ? `[${step}]` : index === 0 ? step : `.${step}`))
    .join('');
}

export function parsePath(text: string): Path {
  return [...text.matchAll(/([^.[\]]+)|\[(\d+)\]/g)].map(([, key, index]) =>
    index === undefined ? (key ?? '') : Number(index),
  );
}

export function isBlock(value: Json | undefined): value is Draft {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

export function valueAt(root: Json | undefined, path: Path): Json | undefined {
  let value = root;
  for (const step of path) {
    if (Array.isArray(value) && typeof step === 'number') value = (value as readonly Json[])[step];
    else if (isBlock(value) && Object.hasOwn(value, step)) value = value[String(step)];
    else return undefined;
  }
  return value;
}

export function numberAt(root: Json | undefined, path: Path): number | null {
  const value = valueAt(root, path);
  return typeof value === 'number' && Number.isFinite(value) ? value : null;
}

export function textAt(root: Json | undefined, path: Path): string {
  const value = valueAt(root, path);
  return typeof value === 'string' ? value : typeof value === 'number' ? String(value) : '';
}

export function listAt(root: Json | undefined, path: Path): readonly Json[] {
  const value = valueAt(root, path);
  return Array.isArray(value) ? (value as readonly Json[]) : [];
}

export function vectorAt(root: Json | undefined, path: Path): readonly [number, number, number] | null {
  const value = listAt(root, path);
  const [x, y, z] = value;
  return value.length === 3 && typeof x === 'number' && typeof y === 'number' && typeof z === 'number'
    ? [x, y, z]
    : null;
}

/** The draft with a value put at a path; `undefined` takes the key away. Blocks on the way are made as needed. */
export function withValue(draft: Draft, path: Path, value: Json | undefined): Draft {
  return put(draft, path, value) as Draft;
}

function put(node: Json | undefined, path: Path, value: Json | undefined): Json | undefined {
  const [step, ...rest] = path;
  if (step === undefined) return value;
  if (typeof step === 'number') {
    const list = Array.isArray(node) ? [...(node as readonly Json[])] : [];
    const inner = put(list[step], rest, value);
    if (inner === undefined) list.splice(step, 1);
    else list[step] = inner;
    return list;
  }
  const block = isBlock(node) ? node : {};
  const inner = put(block[step], rest, value);
  if (inner !== undefined) return { ...block, [step]: inner };
  const { [step]: _gone, ...others } = block;
  return others;
}

/** The draft without blocks that hold nothing: they would only be noise in the file. */
function withoutEmptyBlocks(draft: Draft, keep: ReadonlySet<string>): Draft {
  return Object.fromEntries(
    Object.entries(draft).filter(
      ([key, value]) => keep.has(key) || !isBlock(value) || Object.keys(value).length > 0,
    ),
  );
}

/** The order in which a person reads a plan; other keys follow. */
const ORDER = [
  '$schema',
  'format',
  'title',
  'units',
  'part',
  'inspection',
  'import',
  'disc',
  'blade',
  'overrides',
  'characteristics',
  'weights',
  'association',
  'screen',
  'temperature',
  'uncertainty',
  'decision',
  'budget',
  'adjustments',
];

const LINE = 100;

/** The plan as the text of its file: short lists and blocks in one line. */
export function planText(draft: Draft): string {
  const known = ORDER.filter((key) => Object.hasOwn(draft, key));
  const others = Object.keys(draft).filter((key) => !ORDER.includes(key));
  const ordered = Object.fromEntries([...known, ...others].map((key) => [key, draft[key] ?? null]));
  return `${lay(withoutEmptyBlocks(ordered, new Set(['disc', 'blade'])), 0, 0)}\n`;
}

function lay(value: Json, depth: number, used: number): string {
  const flat = inOneLine(value);
  if (typeof value !== 'object' || value === null) return flat;
  if (depth > 0 && 2 * depth + used + flat.length <= LINE) return flat;
  const indent = '  '.repeat(depth + 1);
  const parts = Array.isArray(value)
    ? (value as readonly Json[]).map((item) => indent + lay(item, depth + 1, 1))
    : Object.entries(value).map(([key, item]) => {
        const label = `${JSON.stringify(key)}: `;
        return indent + label + lay(item, depth + 1, label.length + 1);
      });
  const [open, close] = Array.isArray(value) ? ['[', ']'] : ['{', '}'];
  return parts.length === 0 ? open + close : `${open}\n${parts.join(',\n')}\n${'  '.repeat(depth)}${close}`;
}

function inOneLine(value: Json): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  if (Array.isArray(value)) return `[${(value as readonly Json[]).map(inOneLine).join(', ')}]`;
  const entries = Object.entries(value).map(([key, item]) => `${JSON.stringify(key)}: ${inOneLine(item)}`);
  return entries.length === 0 ? '{}' : `{ ${entries.join(', ')} }`;
}

/** A draft from text, or why it is none. */
export function parseDraft(
  text: string,
): { readonly draft: Draft } | { readonly draft: null; readonly reason: string } {
  try {
    const value = JSON.parse(text) as Json;
    return isBlock(value) ? { draft: value } : { draft: null, reason: 'The text is no block in braces.' };
  } catch (error) {
    return { draft: null, reason: error instanceof Error ? error.message : String(error) };
  }
}

/** What every plan begins with; a person has to say everything else. */
export const blankDraft: Draft = {
  format: 'hubtrue-plan/1',
  title: '',
  units: 'mm',
  disc: { datums: [] },
  blade: { seat: {}, datums: [], pose: 'datum', position: { checkPoints: [] } },
};

/** Key of an entry of a list of the plan: its place is what tells it apart, and its fields hold no state of their own. */
export function placeKey(place: number): string {
  return `place ${place}`;
}
