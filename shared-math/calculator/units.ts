/**
 * Units of the calculator and exact factors between them.
 *
 * Source: NIST Special Publication 811 (2008), appendix B: 1 in = 25.4 mm and 1 lbf = 4.4482216152605 N exactly, 1 °F of difference =
 * 5/9 K exactly. An arc-second is π/648000 rad.
 */
import { ReductionError } from '../errors.ts';

/** Of each unit: how many of the first unit of its kind it is. */
const FACTORS = {
  length: { mm: 1, µm: 1e-3, in: 25.4, '0.001 in': 0.0254 },
  force: { N: 1, kN: 1000, lbf: 4.448_221_615_260_5 },
  stiffness: { 'N/mm': 1, 'N/µm': 1000, 'kN/mm': 1000, 'lbf/in': 4.448_221_615_260_5 / 25.4 },
  angle: {
    rad: 1,
    mrad: 1e-3,
    µrad: 1e-6,
    '°': Math.PI / 180,
    '′': Math.PI / 10_800,
    '″': Math.PI / 648_000,
  },
  temperatureDifference: { K: 1, '°C': 1, '°F': 5 / 9 },
  expansion: { '1/K': 1, '10⁻⁶/K': 1e-6, '10⁻⁶/°F': 1.8e-6 },
} as const;

export type Dimension = keyof typeof FACTORS;
export type Unit<D extends Dimension> = keyof (typeof FACTORS)[D] & string;
export type LengthUnit = Unit<'length'>;
export type AngleUnit = Unit<'angle'>;

export interface Quantity<D extends Dimension> {
  readonly value: number;
  readonly unit: Unit<D>;
}

/** Units of a kind, in the order in which they are offered; the first is the one that is calculated in. */
export function unitsOf<D extends Dimension>(dimension: D): readonly Unit<D>[] {
  return Object.keys(FACTORS[dimension]) as Unit<D>[];
}

/** The same quantity in another unit. @throws ReductionError `invalid-argument` for a value that is not finite. */
export function converted<D extends Dimension>(
  dimension: D,
  { value, unit }: Quantity<D>,
  to: Unit<D>,
): number {
  if (!Number.isFinite(value))
    throw new ReductionError('invalid-argument', 'The calculator needs a number.', 'Fill in every field.');
  const factors = FACTORS[dimension] as Readonly<Record<string, number>>;
  return unit === to ? value : (value * factors[unit]!) / factors[to]!;
}
