/**
 * A strict reader of JSON text (RFC 8259) that remembers where everything stands, so that every message about a plan
 * can name a line. It also refuses what `JSON.parse` lets pass in silence: a key given twice.
 */

export interface TextPosition {
  /** From 1. */
  readonly line: number;
  /** Character in the line, from 1. */
  readonly character: number;
}

/** Thrown at the first place where the text is not JSON. */
export class JsonSyntaxError extends Error {
  readonly position: TextPosition;
  readonly found: string;
  readonly expected: string;

  constructor(position: TextPosition, found: string, expected: string) {
    super(`expected ${expected}`);
    this.name = 'JsonSyntaxError';
    this.position = position;
    this.found = found;
    this.expected = expected;
  }
}

export interface LocatedJson {
  readonly value: unknown;
  /** Position of the key (of an object's member), or of the value (array element, root), by its path. */
  readonly positionOf: (path: readonly PropertyKey[]) => TextPosition | null;
}

/** Deeper nesting than any plan has; keeps hostile text from exhausting the stack. */
const DEEPEST = 64;

/** `disc.datums[1].side`. */
export function pathText(path: readonly PropertyKey[]): string {
  return path
    .map((step, index) =>
      typeof step === 'number' ? `[${step}]` : index === 0 ? String(step) : `.${String(step)}`,
    )
    .join('');
}

const NUMBER = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?/y;
// biome-ignore lint/suspicious/noControlCharactersInRegex: JSON forbids exactly these in a text.
const STRING = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const SPACE = /[ \t\n\r]*/y;
const WORD = /[A-Za-z_][\w-]*/y;

/** Reads JSON text with positions. @throws JsonSyntaxError */
export function readJson(text: string): LocatedJson {
  const offsets = new Map<string, number>();
  let at = 0;

  const match = (pattern: RegExp): string | null => {
    pattern.lastIndex = at;
    const found = pattern.exec(text)?.[0] ?? null;
    if (found !== null) at += found.length;
    return found;
  };
  const space = (): void => {
    match(SPACE);
  };
  const positionAt = (offset: number): TextPosition => {
    const before = text.slice(0, offset);
    const lineStart = Math.max(before.lastIndexOf('\n'), before.lastIndexOf('\r')) + 1;
    return { line: before.split(/\r\n|\r|\n/).length, character: offset - lineStart + 1 };
  };
  const fail = (expected: string, offset = at): never => {
    WORD.lastIndex = offset;
    const found =
      offset >= text.length
        ? 'the end of the text'
        : (WORD.exec(text)?.[0] ?? String.fromCodePoint(text.codePointAt(offset) ?? 0));
    throw new JsonSyntaxError(positionAt(offset), found, expected);
  };

  const readString = (): string => {
    const start = at;
    const literal = match(STRING);
    if (literal === null) {
      if (text[at] === "'") return fail('a text in double quotes', start);
      return fail(
        text[at] === '"' ? 'a text that ends with a double quote in the same line' : 'a key in double quotes',
        start,
      );
    }
    return JSON.parse(literal) as string;
  };

  const readValue = (path: readonly PropertyKey[]): void => {
    if (path.length > DEEPEST) fail(`at most ${DEEPEST} levels of nesting`);
    space();
    const opening = text[at];
    if (opening === '{') readObject(path);
    else if (opening === '[') readArray(path);
    else if (opening === '"') readString();
    else if (match(NUMBER) !== null) {
      if (/[\w.]/.test(text[at] ?? '')) fail('a number such as 12.5 without a leading zero, sign + or unit');
    } else {
      const start = at;
      const word = match(WORD);
      if (word !== 'true' && word !== 'false' && word !== 'null') fail('a value', start);
    }
  };

  const readObject = (path: readonly PropertyKey[]): void => {
    at += 1;
    space();
    if (text[at] === '}') {
      at += 1;
      return;
    }
    const keys = new Set<string>();
    for (;;) {
      space();
      const keyOffset = at;
      if (text[at] === '}') fail('another key: no comma stands before a closing brace');
      const key = readString();
      if (keys.has(key)) fail(`each key once: "${key}" is given twice`, keyOffset);
      keys.add(key);
      const member = [...path, key];
      offsets.set(pathKey(member), keyOffset);
      space();
      if (text[at] !== ':') fail('a colon after the key');
      at += 1;
      readValue(member);
      space();
      if (text[at] === ',') at += 1;
      else if (text[at] === '}') {
        at += 1;
        return;
      } else fail('a comma or a closing brace');
    }
  };

  const readArray = (path: readonly PropertyKey[]): void => {
    at += 1;
    space();
    if (text[at] === ']') {
      at += 1;
      return;
    }
    for (let index = 0; ; index += 1) {
      space();
      if (text[at] === ']') fail('another element: no comma stands before a closing bracket');
      const element = [...path, index];
      offsets.set(pathKey(element), at);
      readValue(element);
      space();
      if (text[at] === ',') at += 1;
      else if (text[at] === ']') {
        at += 1;
        return;
      } else fail('a comma or a closing bracket');
    }
  };

  space();
  offsets.set(pathKey([]), at);
  readValue([]);
  space();
  if (at < text.length) fail('nothing after the closing brace');

  return {
    value: JSON.parse(text) as unknown,
    positionOf: (path) => {
      // A missing key has no place of its own: its nearest parent has.
      for (let length = path.length; length >= 0; length -= 1) {
        const offset = offsets.get(pathKey(path.slice(0, length)));
        if (offset !== undefined) return positionAt(offset);
      }
      return null;
    },
  };
}

function pathKey(path: readonly PropertyKey[]): string {
  return JSON.stringify(path.map(String));
}
