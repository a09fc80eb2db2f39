/** A drawing of the page as a picture that stands by itself. */

/** Style properties that the page's style sheets give drawings. */
const carried = [
  'fill',
  'fill-opacity',
  'stroke',
  'stroke-width',
  'stroke-opacity',
  'stroke-dasharray',
  'stroke-linecap',
  'stroke-linejoin',
  'opacity',
  'color',
  'font-family',
  'font-size',
  'font-weight',
  'font-style',
  'font-stretch',
  'letter-spacing',
  'text-anchor',
  'dominant-baseline',
  'paint-order',
  'vector-effect',
] as const;

const TITLE_ROOM = 36;
const MARGIN = 14;

/** SVG text with every style written out, under a title and on the ground of its panel. */
export function pictureText(svg: SVGSVGElement, title: string): string {
  const copy = svg.cloneNode(true) as SVGSVGElement;
  const sources = [svg, ...svg.querySelectorAll<SVGElement>('*')];
  const copies = [copy, ...copy.querySelectorAll<SVGElement>('*')];
  copies.forEach((element, index) => {
    const source = sources[index];
    if (source === undefined) return;
    const style = getComputedStyle(source);
    for (const name of carried) {
      const value = style.getPropertyValue(name);
      if (value !== '') element.setAttribute(name, value);
    }
    for (const name of [
      'class',
      'tabindex',
      'role',
      'aria-current',
      'aria-selected',
      'aria-label',
      'aria-hidden',
    ])
      element.removeAttribute(name);
  });
  for (const element of copy.querySelectorAll('[data-screen-only]')) element.remove();
  const { width, height } = svg.getBoundingClientRect();
  const page = getComputedStyle(document.documentElement);
  const [w, h] = [width + 2 * MARGIN, height + TITLE_ROOM + MARGIN];
  copy.setAttribute('x', String(MARGIN));
  copy.setAttribute('y', String(TITLE_ROOM));
  copy.setAttribute('width', String(width));
  copy.setAttribute('height', String(height));
  const body = new XMLSerializer().serializeToString(copy);
  const face = page.getPropertyValue('--face').replaceAll('"', "'");
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${w}" height="${h}" viewBox="0 0 ${w} ${h}">`,
    `<title>${escaped(title)}</title>`,
    `<rect width="${w}" height="${h}" fill="${page.getPropertyValue('--surface').trim()}"/>`,
    `<text x="${MARGIN}" y="23" font-family="${face}" font-size="15" font-weight="600" fill="${page.getPropertyValue('--ink').trim()}">${escaped(title)}</text>`,
    body,
    '</svg>',
  ].join('\n');
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}

/** The same as PNG, with twice the pixels of the page. */
export async function picturePng(svgText: string): Promise<Blob | null> {
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svgText)}`;
  await image.decode();
  const canvas = document.createElement('canvas');
  canvas.width = 2 * image.naturalWidth;
  canvas.height = 2 * image.naturalHeight;
  canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/png'));
}
