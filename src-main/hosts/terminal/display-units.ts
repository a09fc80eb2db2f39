/** Units of the table; files keep mm and radians. */

export interface DisplayUnit {
  /** As it stands in the header. */
  readonly sign: string;
  /** How many of it in one mm, or in one radian. */
  readonly factor: number;
  readonly decimals: number;
}

const DEGREES = 180 / Math.PI;

export const lengthUnits = {
  µm: { sign: 'µm', factor: 1000, decimals: 1 },
  mm: { sign: 'mm', factor: 1, decimals: 4 },
  inch: { sign: 'inch', factor: 1 / 25.4, decimals: 6 },
} as const satisfies Record<string, DisplayUnit>;
export type LengthUnit = keyof typeof lengthUnits;

export const angleUnits = {
  arcsec: { sign: '″', factor: 3600 * DEGREES, decimals: 1 },
  arcmin: { sign: '′', factor: 60 * DEGREES, decimals: 3 },
  deg: { sign: '°', factor: DEGREES, decimals: 5 },
} as const satisfies Record<string, DisplayUnit>;
export type AngleUnit = keyof typeof angleUnits;

/** A value in the unit, or a dash where there is none; the sign is that of the sentences. Nothing is shown as −0. */
export function inUnit(value: number | null, unit: DisplayUnit): string {
  if (value === null) return '–';
  const text = (value * unit.factor).toFixed(unit.decimals);
  return text.replace('-', Number(text) === 0 ? '' : '−');
}
