/** A straight scale from values to places on the drawing. */
export interface Scale {
  readonly from: number;
  readonly to: number;
  readonly at: (value: number) => number;
  readonly ticks: readonly number[];
}

/** The smallest of 1, 2 and 5 times a power of ten that is at least `value`; 1 for what is no size. */
export function roundStep(value: number): number {
  if (!(value > 0) || !Number.isFinite(value)) return 1;
  const power = 10 ** Math.floor(Math.log10(value) + 1e-9);
  const lead = value / power;
  // A lead that only rounding lifts above a step still takes it.
  return (lead <= 1 + 1e-9 ? 1 : lead <= 2 + 1e-9 ? 2 : lead <= 5 + 1e-9 ? 5 : 10) * power;
}

/** Round values from `from` to `to`, at most `count` + 1 of them. */
export function ticksBetween(from: number, to: number, count: number): readonly number[] {
  const step = roundStep((to - from) / Math.max(1, count));
  const first = Math.ceil(from / step - 1e-9);
  const last = Math.floor(to / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => (first + index) * step);
}

export function scaleOf(from: number, to: number, start: number, end: number, count: number): Scale {
  const span = to - from === 0 ? 1 : to - from;
  return {
    from,
    to,
    at: (value) => start + ((value - from) / span) * (end - start),
    ticks: ticksBetween(from, to, count),
  };
}

/** Without the digits that only rounding makes; a true minus. */
export function tickText(value: number): string {
  const text = String(Number(Math.abs(value).toPrecision(6)));
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}
