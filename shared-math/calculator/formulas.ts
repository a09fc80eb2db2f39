/**
 * The formulas of the calculator: what a force, an angle or a lever does to a point, and how much position that uses up.
 * Sources: Hooke's law and the arc of a circle; the position of a displaced point as in pose/position.ts.
 */
import { type Calculation, given, inWords, requirePositive, result } from './calculation.ts';
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
  const f = given('force', 'Force', force);
  const k = given('stiffness', 'Stiffness', stiffness);
  requirePositive('stiffness', k.value);
  const value = f.value / k.value;
  return result('length', value, unit, 'δ = F / k', [
    ...f.step,
    ...k.step,
    `Force over stiffness: ${inWords(f.value, 'N')} / ${inWords(k.value, 'N/mm')} = ${inWords(value, 'mm')}`,
  ]);
}

/** Arc that an index angle makes at a radius: s = Δθ · R, the angle in rad. */
export function arcAtRadius(
  angle: Quantity<'angle'>,
  radius: Quantity<'length'>,
  unit: LengthUnit = 'µm',
): Calculation {
  const a = given('angle', 'Angle', angle);
  const r = given('length', 'Radius', radius);
  requirePositive('radius', r.value);
  const value = a.value * r.value;
  return result('length', value, unit, 's = Δθ · R (Δθ in rad)', [
    ...a.step,
    ...r.step,
    `Angle times radius: ${inWords(a.value, 'rad')} · ${inWords(r.value, 'mm')} = ${inWords(value, 'mm')}`,
  ]);
}

/** Index angle of an arc at a radius: Δθ = s / R, in rad. */
export function angleOfArc(
  arc: Quantity<'length'>,
  radius: Quantity<'length'>,
  unit: AngleUnit = '″',
): Calculation {
  const s = given('length', 'Arc', arc);
  const r = given('length', 'Radius', radius);
  requirePositive('radius', r.value);
  const value = s.value / r.value;
  return result('angle', value, unit, 'Δθ = s / R (Δθ in rad)', [
    ...s.step,
    ...r.step,
    `Arc over radius: ${inWords(s.value, 'mm')} / ${inWords(r.value, 'mm')} = ${inWords(value, 'rad')}`,
  ]);
}

/** Displacement of a point by a small rotation about a line at the distance of the lever: d = φ · l, φ in rad. */
export function leverDisplacement(
  rotation: Quantity<'angle'>,
  lever: Quantity<'length'>,
  unit: LengthUnit = 'µm',
): Calculation {
  const phi = given('angle', 'Rotation', rotation);
  const l = given('length', 'Lever', lever);
  const value = phi.value * l.value;
  return result('length', value, unit, 'd = φ · l (φ small, in rad)', [
    ...phi.step,
    ...l.step,
    `Rotation times lever: ${inWords(phi.value, 'rad')} · ${inWords(l.value, 'mm')} = ${inWords(value, 'mm')}`,
  ]);
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
