/** Growth of a length with temperature. */
import { type Calculation, given, product } from './calculation.ts';
import type { LengthUnit, Quantity } from './units.ts';

/** A material with its mean coefficient of linear expansion near 20 °C, 10⁻⁶/K. */
export interface Material {
  readonly name: string;
  readonly expansion: number;
  readonly source: string;
}

const TABLE =
  'W. D. Callister, D. G. Rethwisch, Fundamentals of Materials Science and Engineering, 3rd ed., table B.6';

/** Typical values: batches of one alloy differ by some per cent. A measured value of the part serves better. */
export const MATERIALS: readonly Material[] = [
  {
    name: 'Titanium Ti-6Al-4V',
    expansion: 8.6,
    source: `${TABLE}; mean of 20 to 100 °C in suppliers’ tables`,
  },
  {
    name: 'Steel, gauges and machines',
    expansion: 11.5,
    source: 'D. A. Swyt, J. Res. NIST 99(1) (1994) 31–44',
  },
  { name: 'Steel 4340', expansion: 12.3, source: TABLE },
  { name: 'Stainless steel 316', expansion: 15.9, source: TABLE },
  { name: 'Aluminium', expansion: 23.1, source: 'D. A. Swyt, J. Res. NIST 99(1) (1994) 31–44' },
];

/**
 * Growth of a length: ΔL = α · L · ΔT.
 *
 * @param change of temperature; negative where it falls. @param expansion coefficient of linear expansion.
 */
export function thermalGrowth(
  length: Quantity<'length'>,
  change: Quantity<'temperatureDifference'>,
  expansion: Quantity<'expansion'>,
  unit: LengthUnit = 'µm',
): Calculation {
  const l = given('length', 'Length', length);
  const t = given('temperatureDifference', 'Change of temperature', change);
  const a = given('expansion', 'Expansion', expansion);
  return product(
    { dimension: 'length', unit, formula: 'ΔL = α · L · ΔT', words: 'Expansion times length times change' },
    [a, l, t],
    [l, t, a],
  );
}
