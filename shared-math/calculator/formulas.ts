/**
 * The formulas of the calculator: what a force, an angle or a lever does to a point, and how much position that uses up.
 * Sources: Hooke's law and the arc of a circle; the position of a displaced point as in pose/position.ts.
 */
import {
  type Calculation,
  given,
  inWords,
  product,
  quotient,
  requirePositive,
  result,
} from './calculation.ts';
import {
  type AngleUnit,
  converted,
  type Dimension,
  type LengthUnit,
  type Quantity,
  type Unit,
} from './units.ts';

/**
 * Deflection under a force: δ = F / k.
 *
 * @param stiffness of everything between the force and the point that deflects, above 0.
 */
export function deflection(
  force: Quantity<'force'>,
  stiffness: Quantity<'stiffness'>,
  unit: LengthUnit = 'µm',
): Calculation {
  return quotient(
    { dimension: 'length', unit, formula: 'δ = F / k', words: 'Force over stiffness' },
    given('force', 'Force', force),
    given('stiffness', 'Stiffness', stiffness),
    'stiffness',
  );
}

/** Arc that an index angle makes at a radius: s = Δθ · R, the angle in rad. */
export function arcAtRadius(
  angle: Quantity<'angle'>,
  radius: Quantity<'length'>,
  unit: LengthUnit = 'µm',
): Calculation {
  const r = given('length', 'Radius', radius);
  requirePositive('radius', r.value);
  return product(
    { dimension: 'length', unit, formula: 's = Δθ · R (Δθ in rad)', words: 'Angle times radius' },
    [given('angle', 'Angle', angle), r],
  );
}

/** Index angle of an arc at a radius: Δθ = s / R, in rad. */
export function angleOfArc(
  arc: Quantity<'length'>,
  radius: Quantity<'length'>,
  unit: AngleUnit = '″',
): Calculation {
  return quotient(
    { dimension: 'angle', unit, formula: 'Δθ = s / R (Δθ in rad)', words: 'Arc over radius' },
    given('length', 'Arc', arc),
    given('length', 'Radius', radius),
    'radius',
  );
}

/** Displacement of a point by a small rotation about a line at the distance of the lever: d = φ · l, φ in rad. */
export function leverDisplacement(
  rotation: Quantity<'angle'>,
  lever: Quantity<'length'>,
  unit: LengthUnit = 'µm',
): Calculation {
  return product(
    { dimension: 'length', unit, formula: 'd = φ · l (φ small, in rad)', words: 'Rotation times lever' },
    [given('angle', 'Rotation', rotation), given('length', 'Lever', lever)],
  );
}

/** Position that a displacement uses up: the full size of the zone that holds the displaced point, 2 · |δ|. */
export function positionOfDisplacement(
  displacement: Quantity<'length'>,
  unit: LengthUnit = 'µm',
): Calculation {
  const d = given('length', 'Displacement', displacement);
  const value = 2 * Math.abs(d.value);
  return result('length', value, unit, 'position = 2 · |δ|', [
    ...d.step,
    `Twice the displacement: 2 · ${inWords(Math.abs(d.value), 'mm')} = ${inWords(value, 'mm')}`,
  ]);
}

/** A quantity in another unit; the factor between the two is exact or correct to the last digit of a double. */
export function conversion<D extends Dimension>(
  dimension: D,
  quantity: Quantity<D>,
  unit: Unit<D>,
): Calculation {
  const value = converted(dimension, quantity, unit);
  const factor = converted(dimension, { value: 1, unit: quantity.unit }, unit);
  return {
    value,
    unit,
    formula: `1 ${quantity.unit} = ${factor} ${unit}`,
    steps: [`${inWords(quantity.value, quantity.unit)} = ${inWords(value, unit)}`],
  };
}
