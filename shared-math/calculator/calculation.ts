/** What a calculation gives: its result, the formula, and the way there in words. */
import { ReductionError } from '../errors.ts';
import { converted, type Dimension, type Quantity, type Unit, unitsOf } from './units.ts';

export interface Calculation {
  readonly value: number;
  readonly unit: string;
  /** As it is printed beside the result. */
  readonly formula: string;
  /** One line for each step, with its numbers. */
  readonly steps: readonly string[];
}

/** Digits of the numbers in steps; results keep all of theirs. */
const DIGITS = 6;

/** A number with its unit, as steps show it. */
export function inWords(value: number, unit: string): string {
  return `${Number(value.toPrecision(DIGITS))} ${unit}`;
}

/** A quantity in the unit that is calculated in. */
export interface Given {
  readonly value: number;
  readonly unit: string;
  /** Says how it was converted; empty where it was given in that unit. */
  readonly step: readonly string[];
}

/** @param name of the quantity, for the step. */
export function given<D extends Dimension>(dimension: D, name: string, quantity: Quantity<D>): Given {
  const unit = unitsOf(dimension)[0]!;
  const value = converted(dimension, quantity, unit);
  if (unit === quantity.unit) return { value, unit, step: [] };
  return {
    value,
    unit,
    step: [`${name}: ${inWords(quantity.value, quantity.unit)} = ${inWords(value, unit)}`],
  };
}

/** The result in the unit asked for, after the step that found it in the unit that is calculated in. */
export function result<D extends Dimension>(
  dimension: D,
  value: number,
  unit: Unit<D>,
  formula: string,
  steps: readonly string[],
): Calculation {
  const from = unitsOf(dimension)[0]!;
  const asked = converted(dimension, { value, unit: from }, unit);
  const last = from === unit ? [] : [`${inWords(value, from)} = ${inWords(asked, unit)}`];
  return { value: asked, unit, formula, steps: [...steps, ...last] };
}

/** @throws ReductionError `invalid-argument` where a divisor is not above 0. */
export function requirePositive(name: string, value: number): void {
  if (!(value > 0))
    throw new ReductionError('invalid-argument', `The ${name} must be above 0.`, `Correct the ${name}.`);
}

/** How a formula goes on from what is given. */
export interface Formula<D extends Dimension> {
  /** Of the result. */
  readonly dimension: D;
  readonly unit: Unit<D>;
  /** As it is printed. */
  readonly formula: string;
  /** The formula in words, for its step. */
  readonly words: string;
}

/** Product of all factors. @param steps what was given, in the order of its steps; default as the factors. */
export function product<D extends Dimension>(
  formula: Formula<D>,
  factors: readonly Given[],
  steps = factors,
): Calculation {
  return inSteps(
    formula,
    factors.map(({ value }) => value).reduce((a, b) => a * b),
    factors,
    '·',
    steps,
  );
}

/** @throws ReductionError `invalid-argument` where the divisor is not above 0. @param name of the divisor, for that. */
export function quotient<D extends Dimension>(
  formula: Formula<D>,
  dividend: Given,
  divisor: Given,
  name: string,
): Calculation {
  requirePositive(name, divisor.value);
  const both = [dividend, divisor];
  return inSteps(formula, dividend.value / divisor.value, both, '/', both);
}

function inSteps<D extends Dimension>(
  { dimension, unit, formula, words }: Formula<D>,
  value: number,
  operands: readonly Given[],
  sign: '·' | '/',
  steps: readonly Given[],
): Calculation {
  const shown = operands.map((operand) => inWords(operand.value, operand.unit)).join(` ${sign} `);
  return result(dimension, value, unit, formula, [
    ...steps.flatMap(({ step }) => step),
    `${words}: ${shown} = ${inWords(value, unitsOf(dimension)[0]!)}`,
  ]);
}
