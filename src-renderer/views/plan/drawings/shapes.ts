/** Points and paths of drawings: angles in degrees, counterclockwise from the right, y downwards as SVG has it. */
export function polar(radius: number, degrees: number): readonly [number, number] {
  const angle = (degrees * Math.PI) / 180;
  return [radius * Math.cos(angle), -radius * Math.sin(angle)];
}

export function arc(radius: number, from: number, to: number): string {
  const [x0, y0] = polar(radius, from);
  const [x1, y1] = polar(radius, to);
  const large = Math.abs(to - from) > 180 ? 1 : 0;
  const sweep = to > from ? 0 : 1;
  return `M${x0} ${y0}A${radius} ${radius} 0 ${large} ${sweep} ${x1} ${y1}`;
}

/** A slim head whose tip lies at a point. */
export function arrowHead(x: number, y: number, degrees: number, size = 7): string {
  const [ax, ay] = polar(size, degrees + 162);
  const [bx, by] = polar(size, degrees - 162);
  return `M${x} ${y}l${ax} ${ay}M${x} ${y}l${bx} ${by}`;
}

/** How far out along a ray a box stands clear of the others: boxes of one size, given by their middles, sides upright. */
export function clearAlong(
  ray: (out: number) => readonly [number, number],
  from: number,
  others: readonly (readonly [number, number])[],
  size: number,
): number {
  const isFree = (out: number): boolean => {
    const [x, y] = ray(out);
    return others.every(([ox, oy]) => Math.abs(x - ox) >= size || Math.abs(y - oy) >= size);
  };
  // Each box hides at most its diagonal to either side.
  const most = from + others.length * 2 * Math.SQRT2 * size;
  let out = from;
  while (out < most && !isFree(out)) out += 1;
  return out;
}

/** Features whose direction is their axis. */
export const axisTypes: ReadonlySet<string> = new Set(['cylinder', 'cone', 'line']);
