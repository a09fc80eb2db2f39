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

const lengths = ['µm', 'mm', 'in', '0.001 in'];

/** The fields of a card carry their dimension, so that only units of it can stand in them. */
function quantity<D extends Dimension>(quantities: Quantities, key: string): Quantity<D> {
  return quantities[key] as Quantity<D>;
}

export const calculatorCards: readonly CalculatorCard[] = [
  {
    name: 'deflection',
    title: 'Deflection under a force',
    purpose: 'Forge or clamp force against the stiffness of machine and fixture',
    fields: [
      { key: 'force', name: 'Force', symbol: 'F', dimension: 'force', value: '1', unit: 'kN' },
      {
        key: 'stiffness',
        name: 'Stiffness',
        symbol: 'k',
        dimension: 'stiffness',
        value: '100',
        unit: 'kN/mm',
      },
    ],
    resultName: 'Deflection',
    resultUnits: lengths,
    calculate: (q, unit) => deflection(quantity(q, 'force'), quantity(q, 'stiffness'), unit as 'µm'),
    displaces: true,
  },
  {
    name: 'arc',
    title: 'Index angle at a radius',
    purpose: 'What an error of the index table moves a blade',
    fields: [
      { key: 'angle', name: 'Angle', symbol: 'Δθ', dimension: 'angle', value: '1', unit: '″' },
      { key: 'radius', name: 'Radius', symbol: 'R', dimension: 'length', value: '300', unit: 'mm' },
    ],
    resultName: 'Arc',
    resultUnits: lengths,
    calculate: (q, unit) => arcAtRadius(quantity(q, 'angle'), quantity(q, 'radius'), unit as 'µm'),
    displaces: true,
  },
  {
    name: 'growth',
    title: 'Thermal growth',
    purpose: 'A part or a fixture warmer than the other by some kelvin',
    fields: [
      { key: 'length', name: 'Length', symbol: 'L', dimension: 'length', value: '300', unit: 'mm' },
      {
        key: 'change',
        name: 'Change',
        symbol: 'ΔT',
        dimension: 'temperatureDifference',
        value: '1',
        unit: 'K',
      },
      {
        key: 'expansion',
        name: 'Expansion',
        symbol: 'α',
        dimension: 'expansion',
        value: '8.6',
        unit: '10⁻⁶/K',
      },
    ],
    resultName: 'Growth',
    resultUnits: lengths,
    calculate: (q, unit) =>
      thermalGrowth(quantity(q, 'length'), quantity(q, 'change'), quantity(q, 'expansion'), unit as 'µm'),
    displaces: true,
  },
  {
    name: 'lever',
    title: 'Rotation on a lever',
    purpose: 'What a tilt at the seat moves the tip',
    fields: [
      { key: 'rotation', name: 'Rotation', symbol: 'φ', dimension: 'angle', value: '10', unit: '″' },
      { key: 'lever', name: 'Lever', symbol: 'l', dimension: 'length', value: '150', unit: 'mm' },
    ],
    resultName: 'Displacement',
    resultUnits: lengths,
    calculate: (q, unit) => leverDisplacement(quantity(q, 'rotation'), quantity(q, 'lever'), unit as 'µm'),
    displaces: true,
  },
  {
    name: 'angle',
    title: 'Angle of an arc',
    purpose: 'Which index angle an offset of a blade amounts to',
    fields: [
      { key: 'arc', name: 'Arc', symbol: 's', dimension: 'length', value: '10', unit: 'µm' },
      { key: 'radius', name: 'Radius', symbol: 'R', dimension: 'length', value: '300', unit: 'mm' },
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
