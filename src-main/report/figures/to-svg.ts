/** A drawing as an SVG element, for HTML. */
import type { Drawing, Shape } from './shapes.ts';

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text for element content and for quoted attributes. */
export function escapeMarkup(text: string): string {
  return text.replace(/[&<>"']/g, (sign) => ESCAPES[sign] as string);
}

/** Hundredths of a point are finer than any printer; nothing is written as −0. */
function n(value: number): string {
  return String(Math.round(value * 100) / 100 + 0);
}

export function toSvg({ width, height, title, shapes }: Drawing): string {
  const name = escapeMarkup(title);
  const size = `width="${n(width)}pt" height="${n(height)}pt" viewBox="0 0 ${n(width)} ${n(height)}"`;
  const body = shapes.map(element).join('');
  return `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="${name}" ${size}>${body}</svg>`;
}

function element(shape: Shape): string {
  if (shape.kind === 'text') {
    const { x, y, size, anchor, bold, colour, text } = shape;
    const weight = bold ? ' font-weight="600"' : '';
    return `<text x="${n(x)}" y="${n(y)}" font-size="${n(size)}" text-anchor="${anchor}" fill="${colour}"${weight}>${escapeMarkup(text)}</text>`;
  }
  const { fill, stroke } = shape;
  const dash = stroke?.dash === undefined ? '' : ` stroke-dasharray="${stroke.dash.map(n).join(' ')}"`;
  const outline =
    stroke === undefined ? '' : ` stroke="${stroke.colour}" stroke-width="${n(stroke.width)}"${dash}`;
  const paint = `fill="${fill ?? 'none'}"${outline}`;
  if (shape.kind === 'ellipse') {
    const { x, y, rx, ry, turn } = shape;
    const turned = turn === 0 ? '' : ` transform="rotate(${n(turn)} ${n(x)} ${n(y)})"`;
    return `<ellipse cx="${n(x)}" cy="${n(y)}" rx="${n(rx)}" ry="${n(ry)}"${turned} ${paint}/>`;
  }
  const steps = shape.points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${n(x)} ${n(y)}`).join('');
  return `<path d="${steps}${shape.closed ? 'Z' : ''}" ${paint}/>`;
}
