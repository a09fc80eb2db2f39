/** Numbers and documents as text, the same on every run. */

/** A number with fixed decimals, never "-0.000". */
export function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? (0).toFixed(decimals) : text;
}

/** JSON with short lists and objects kept on one line, as a person would lay out a plan. */
export function readableJson(document: unknown, lineWidth = 100): string {
  return `${lay(document, 0, lineWidth, 0)}\n`;
}

function lay(value: unknown, depth: number, lineWidth: number, used: number): string {
  const flat = flatten(value);
  const isLeaf = typeof value !== 'object' || value === null;
  if (isLeaf || (depth > 0 && 2 * depth + used + flat.length <= lineWidth)) return flat;
  const indent = '  '.repeat(depth + 1);
  const [open, close] = Array.isArray(value) ? ['[', ']'] : ['{', '}'];
  const parts = Array.isArray(value)
    ? value.map((item) => indent + lay(item, depth + 1, lineWidth, 1))
    : Object.entries(value).map(([key, item]) => {
        const label = `${JSON.stringify(key)}: `;
        return indent + label + lay(item, depth + 1, lineWidth, label.length + 1);
      });
  return `${open}\n${parts.join(',\n')}\n${'  '.repeat(depth)}${close}`;
}

function flatten(value: unknown): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  if (Array.isArray(value)) return `[${value.map(flatten).join(', ')}]`;
  const entries = Object.entries(value).map(([key, item]) => `${JSON.stringify(key)}: ${flatten(item)}`);
  return `{ ${entries.join(', ')} }`;
}
