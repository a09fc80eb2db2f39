/** `a`, `a and b`, `a, b and c`, with the language's word for “and”. */
export function list(items: readonly string[], and: string): string {
  if (items.length < 2) return items.join('');
  return `${items.slice(0, -1).join(', ')} ${and} ${items.at(-1)}`;
}
