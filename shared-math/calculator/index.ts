/** A calculator for lines of the budget that no point can show. */
export type { Calculation } from './calculation.ts';
export * from './formulas.ts';
export * from './thermal-growth.ts';
export {
  type AngleUnit,
  type Dimension,
  type LengthUnit,
  type Quantity,
  type Unit,
  unitsOf,
} from './units.ts';
