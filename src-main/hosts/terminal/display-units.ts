/** Units of the table; files keep mm and radians. */
import { decimalsAgainst, decimalsOfLimit } from '../../../shared-math/display/decimals.ts';
import { type LengthUnit, lengthScales, type Scale } from '../../../shared-math/display/lengths.ts';

export interface DisplayUnit extends Scale {
  /** As it stands in the header. */
  readonly sign: string;
}

const DEGREES = 180 / Math.PI;

export const lengthUnits: Readonly<Record<LengthUnit, DisplayUnit>> = {
  µm: { sign: 'µm', ...lengthScales.µm },
  mm: { sign: 'mm', ...lengthScales.mm },
  inch: { sign: 'inch', ...lengthScales.inch },
};
export type { LengthUnit };

export const angleUnits = {
  arcsec: { sign: '″', factor: 3600 * DEGREES, decimals: 1 },
  arcmin: { sign: '′', factor: 60 * DEGREES, decimals: 3 },
  deg: { sign: '°', factor: DEGREES, decimals: 5 },
} as const satisfies Record<string, DisplayUnit>;
export type AngleUnit = keyof typeof angleUnits;

/** A value in the unit, or a dash where there is none; the sign is that of the sentences. Nothing is shown as −0. */
export function inUnit(value: number | null, unit: DisplayUnit, decimals = unit.decimals): string {
  if (value === null) return '–';
  const text = (value * unit.factor).toFixed(decimals);
  return text.replace('-', Number(text) === 0 ? '' : '−');
}

/** A limit with the decimals that it has, where these are few, and with so many that no value seems to lie on its other side. */
export function limitInUnit(limit: number, values: readonly (number | null)[], unit: DisplayUnit): string {
  return inUnit(limit, unit, decimalsOfLimit(limit, values, unit));
}

/** A value that is judged: with so many decimals that it is seen on its side of its limit; null: it has none. */
export function judgedInUnit(value: number | null, limit: number | null, unit: DisplayUnit): string {
  return value === null ? inUnit(null, unit) : inUnit(value, unit, decimalsAgainst(value, limit, unit));
}
