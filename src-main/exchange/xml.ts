/** XML text from plain elements. */

export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string | number>>;
  readonly children: readonly (Element | string)[];
}

export function element(
  name: string,
  attributes: Readonly<Record<string, string | number>> = {},
  ...children: readonly (Element | string | null)[]
): Element {
  return { name, attributes, children: children.filter((child) => child !== null) };
}

/** A list as the standard writes them: its elements, counted in the attribute `n`. */
export function list(name: string, children: readonly Element[]): Element {
  return element(name, { n: children.length }, ...children);
}

/** The document, two blanks of indent, UTF-8. */
export function xmlText(root: Element): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${written(root, '')}`;
}

function written({ name, attributes, children }: Element, indent: string): string {
  const start = Object.entries(attributes)
    .map(
      ([key, value]) =>
        ` ${key}="${escaped(String(value)).replaceAll('\n', '&#10;').replaceAll('\t', '&#9;')}"`,
    )
    .join('');
  if (children.length === 0) return `${indent}<${name}${start}/>\n`;
  if (children.every((child) => typeof child === 'string'))
    return `${indent}<${name}${start}>${escaped(children.join(''))}</${name}>\n`;
  const inside = children.map((child) =>
    typeof child === 'string' ? escaped(child) : written(child, `${indent}  `),
  );
  return `${indent}<${name}${start}>\n${inside.join('')}${indent}</${name}>\n`;
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what XML 1.0 does not allow, halves of pairs included.
const NOT_IN_XML = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Surrogate}/gu;

/** The text with everything that XML cannot carry replaced. */
export function xmlSafe(text: string): string {
  return text.replaceAll(NOT_IN_XML, '\ufffd');
}

function escaped(text: string): string {
  return xmlSafe(text)
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll('\r', '&#13;');
}
