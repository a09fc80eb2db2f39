/** Colours of the theme file as the plot library needs them: plain values. */
export interface PlotColours {
  readonly ink: string;
  readonly ink2: string;
  readonly line: string;
  readonly surface: string;
  readonly dial: string;
  readonly brass: string;
  readonly select: string;
  /** Text on top of a mark. */
  readonly limit: string;
  readonly conforming: string;
  readonly nonconforming: string;
  readonly unproven: string;
  readonly missing: string;
}

/** Reads the custom properties that are in force now. */
export function readPlotColours(): PlotColours {
  const style = getComputedStyle(document.documentElement);
  const read = (name: string): string => style.getPropertyValue(`--${name}`).trim();
  return {
    ink: read('ink'),
    ink2: read('ink-2'),
    line: read('line'),
    surface: read('surface'),
    dial: read('dial'),
    brass: read('brass'),
    select: read('select'),
    limit: read('limit'),
    conforming: read('conforming'),
    nonconforming: read('nonconforming'),
    unproven: read('unproven'),
    missing: read('missing'),
  };
}
