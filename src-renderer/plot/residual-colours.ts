/**
 * Colours for signed residuals: from blue through grey to orange, the hues that the common kinds of colour blindness keep
 * apart. Both arms are straight lines in CIE L*a*b* (CIE 15) with equal ends, so equal steps look equally large and
 * +d is as far from zero as −d.
 */

interface Arms {
  /** L* in the middle and at both ends. */
  readonly middle: number;
  readonly end: number;
  /** C* at both ends; the largest round value that sRGB holds at that lightness in both hues. */
  readonly chroma: number;
  /** Hue angles, degrees. */
  readonly negative: number;
  readonly positive: number;
}

/** Zero is nearest to the ground of the panel, large residuals stand out from it. */
const onLight: Arms = { middle: 84, end: 36, chroma: 36, negative: 270, positive: 52 };
const onDark: Arms = { middle: 40, end: 80, chroma: 30, negative: 270, positive: 60 };

/** @param share residual as a share of the end of the scale, −1 … 1; beyond is drawn as the end */
export function residualColour(share: number, dark: boolean): string {
  const { middle, end, chroma, negative, positive } = dark ? onDark : onLight;
  const t = Math.min(1, Math.abs(share));
  const hue = ((share < 0 ? negative : positive) * Math.PI) / 180;
  const rgb = rgbOfLab(middle + (end - middle) * t, chroma * t * Math.cos(hue), chroma * t * Math.sin(hue));
  return `#${rgb.map((value) => value.toString(16).padStart(2, '0')).join('')}`;
}

/** Steps of the scale on either side of zero; finer ones could not be told apart. */
export const SHADES = 10;

/** The step that a residual falls into, −`SHADES` … `SHADES`. */
export function shadeOf(residual: number, range: number): number {
  if (!(range > 0)) return 0;
  return Math.round(Math.max(-1, Math.min(1, residual / range)) * SHADES) + 0;
}

/** Stops of the scale for the plot library, from 0 to 1. */
export function residualStops(dark: boolean): [number, string][] {
  return Array.from({ length: 2 * SHADES + 1 }, (_, i) => [
    i / (2 * SHADES),
    residualColour(i / SHADES - 1, dark),
  ]);
}

/** sRGB (IEC 61966-2-1) of a colour of CIE L*a*b* under D65, each 0 … 255. */
export function rgbOfLab(lightness: number, a: number, b: number): readonly [number, number, number] {
  const fy = (lightness + 16) / 116;
  const x = 0.95047 * linearOf(fy + a / 500);
  const y = linearOf(fy);
  const z = 1.08883 * linearOf(fy - b / 200);
  return [
    channel(3.2404542 * x - 1.5371385 * y - 0.4985314 * z),
    channel(-0.969266 * x + 1.8760108 * y + 0.041556 * z),
    channel(0.0556434 * x - 0.2040259 * y + 1.0572252 * z),
  ];
}

/** Inverse of the function that makes L*a*b* even, with its straight start. */
function linearOf(t: number): number {
  const edge = 6 / 29;
  return t > edge ? t ** 3 : 3 * edge ** 2 * (t - 4 / 29);
}

function channel(linear: number): number {
  const value = linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;
  return Math.round(255 * Math.max(0, Math.min(1, value)));
}
