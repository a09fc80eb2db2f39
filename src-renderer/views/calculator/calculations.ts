/** What the calculator offers: fields with their units, and the formula that takes them. */
import {
  angleOfArc,
  arcAtRadius,
  type Calculation,
  type Dimension,
  deflection,
  leverDisplacement,
  positionOfDisplacement,
  type Quantity,
  thermalGrowth,
} from '../../../shared-math/calculator/index.ts';

export interface Field {
  readonly key: string;
  readonly name: string;
  readonly symbol: string;
  readonly dimension: Dimension;
  readonly value: string;
  readonly unit: string;
}

export type Quantities = Readonly<Record<string, { readonly value: number; readonly unit: string }>>;

export interface CalculatorCard {
  readonly name: string;
  readonly title: string;
  /** What it is for. */
  readonly purpose: string;
  readonly fields: readonly Field[];
  readonly resultName: string;
  readonly resultUnits: readonly string[];
  readonly calculate: (quantities: Quantities, unit: string) => Calculation;
  /** Whether the result is a displacement, which uses up position. */
  readonly displaces: boolean;
}

function field(
  key: string,
  name: string,
  symbol: string,
  dimension: Dimension,
  value: string,
  unit: string,
): Field {
  return { key, name, symbol, dimension, value, unit };
}

/** A card whose result is a displacement. */
function displacement(card: Omit<CalculatorCard, 'resultUnits' | 'displaces'>): CalculatorCard {
  return { ...card, resultUnits: ['µm', 'mm', 'in', '0.001 in'], displaces: true };
}

/** The fields of a card carry their dimension, so that only units of it can stand in them. */
function quantity<D extends Dimension>(quantities: Quantities, key: string): Quantity<D> {
  return quantities[key] as Quantity<D>;
}

export const calculatorCards: readonly CalculatorCard[] = [
  displacement({
    name: 'deflection',
    title: 'Deflection under a force',
    purpose: 'Forge or clamp force against the stiffness of machine and fixture',
    fields: [
      field('force', 'Force', 'F', 'force', '1', 'kN'),
      field('stiffness', 'Stiffness', 'k', 'stiffness', '100', 'kN/mm'),
    ],
    resultName: 'Deflection',
    calculate: (q, unit) => deflection(quantity(q, 'force'), quantity(q, 'stiffness'), unit as 'µm'),
  }),
  displacement({
    name: 'arc',
    title: 'Index angle at a radius',
    purpose: 'What an error of the index table moves a blade',
    fields: [
      field('angle', 'Angle', 'Δθ', 'angle', '1', '″'),
      field('radius', 'Radius', 'R', 'length', '300', 'mm'),
    ],
    resultName: 'Arc',
    calculate: (q, unit) => arcAtRadius(quantity(q, 'angle'), quantity(q, 'radius'), unit as 'µm'),
  }),
  displacement({
    name: 'growth',
    title: 'Thermal growth',
    purpose: 'A part or a fixture warmer than the other by some kelvin',
    fields: [
      field('length', 'Length', 'L', 'length', '300', 'mm'),
      field('change', 'Change', 'ΔT', 'temperatureDifference', '1', 'K'),
      field('expansion', 'Expansion', 'α', 'expansion', '8.6', '10⁻⁶/K'),
    ],
    resultName: 'Growth',
    calculate: (q, unit) =>
      thermalGrowth(quantity(q, 'length'), quantity(q, 'change'), quantity(q, 'expansion'), unit as 'µm'),
  }),
  displacement({
    name: 'lever',
    title: 'Rotation on a lever',
    purpose: 'What a tilt at the seat moves the tip',
    fields: [
      field('rotation', 'Rotation', 'φ', 'angle', '10', '″'),
      field('lever', 'Lever', 'l', 'length', '150', 'mm'),
    ],
    resultName: 'Displacement',
    calculate: (q, unit) => leverDisplacement(quantity(q, 'rotation'), quantity(q, 'lever'), unit as 'µm'),
  }),
  {
    name: 'angle',
    title: 'Angle of an arc',
    purpose: 'Which index angle an offset of a blade amounts to',
    fields: [
      field('arc', 'Arc', 's', 'length', '10', 'µm'),
      field('radius', 'Radius', 'R', 'length', '300', 'mm'),
    ],
    resultName: 'Angle',
    resultUnits: ['″', '′', '°', 'mrad', 'µrad'],
    calculate: (q, unit) => angleOfArc(quantity(q, 'arc'), quantity(q, 'radius'), unit as '″'),
    displaces: false,
  },
];

/** The position that a displacement uses up, in the same unit. */
export function positionUsed({ value, unit }: Calculation): Calculation {
  return positionOfDisplacement({ value, unit: unit as 'µm' }, unit as 'µm');
}

/** A number as people type it, with a point or a comma; null where it is none. */
export function typedNumber(text: string): number | null {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  const value = Number(plain);
  return plain === '' || !Number.isFinite(value) ? null : value;
}

/** Four digits that count: more would claim what typical stiffnesses and coefficients do not know. */
export function resultText(value: number): string {
  const text = String(Number(value.toPrecision(4)));
  return text.startsWith('-') ? `−${text.slice(1)}` : text;
}
