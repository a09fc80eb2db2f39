/** Numbers as a report writes them: decimal sign of the language, a true minus sign, units behind a no-break space. */
import type { LimitName } from '../../../shared-math/definition.ts';

export type LengthUnit = 'µm' | 'mm' | 'inch';

interface Unit {
  readonly sign: string;
  /** How many of it in one mm, or in one radian. */
  readonly factor: number;
  readonly decimals: number;
}

const DEGREE = Math.PI / 180;
const LENGTHS: Readonly<Record<LengthUnit, Unit>> = {
  µm: { sign: 'µm', factor: 1000, decimals: 1 },
  mm: { sign: 'mm', factor: 1, decimals: 4 },
  inch: { sign: 'inch', factor: 1 / 25.4, decimals: 6 },
};
const ARC_SECOND: Unit = { sign: '″', factor: 3600 / DEGREE, decimals: 1 };

const ANGULAR: ReadonlySet<string> = new Set([
  'rotOscillation',
  'rotLateral',
  'rotUpset',
  'lean',
  'sweep',
  'stagger',
]);

/** Whether an error is an angle; the others are lengths. */
export function isAngular(name: LimitName): boolean {
  return ANGULAR.has(name);
}

/** Beyond this a probability is written as a bound; more digits would claim what no model of a measurement can. */
const SURE = 0.999;

export const nothing = '–';
const NARROW = '\u202f';

/** All numbers of a report, for a decimal sign and a unit of length. Angles are arc-seconds. */
export interface NumberFormat {
  readonly lengthSign: string;
  readonly angleSign: string;
  /** Fixed decimals; a dash where there is no value. */
  readonly fixed: (value: number | null, decimals: number) => string;
  /** As many digits as needed, at most `digits` significant ones. */
  readonly significant: (value: number, digits: number) => string;
  readonly length: (millimetres: number | null) => string;
  readonly lengthWith: (millimetres: number | null) => string;
  readonly angle: (radians: number | null) => string;
  readonly angleWith: (radians: number | null) => string;
  /** An error in the unit of its kind. */
  readonly error: (name: LimitName, value: number | null) => string;
  readonly errorWith: (name: LimitName, value: number | null) => string;
  readonly errorSign: (name: LimitName) => string;
  /** Nominal dimensions: mm as the plan gives them. */
  readonly millimetres: (value: number) => string;
  readonly degrees: (value: number) => string;
  readonly percent: (share: number, decimals?: number) => string;
  readonly probability: (value: number | null) => string;
  /** A number with its unit as other parts of the program write it, in the manner of this report. */
  readonly rewrite: (text: string) => string;
  /** Components of a vector in mm. */
  readonly vector: (components: readonly number[]) => string;
}

export function numberFormat(decimal: '.' | ',', unit: LengthUnit): NumberFormat {
  const length = LENGTHS[unit];
  const sign = (text: string): string => text.replace('-', '\u2212').replace('.', decimal);
  /** Nothing is shown as −0. */
  const fixed = (value: number | null, decimals: number): string => {
    if (value === null) return nothing;
    const text = value.toFixed(decimals);
    return sign(Number(text) === 0 ? text.replace('-', '') : text);
  };
  const significant = (value: number, digits: number): string => {
    return sign(String(Number(value.toPrecision(digits))));
  };
  const scaled = (value: number | null, { factor, decimals }: Unit): string =>
    fixed(value === null ? null : value * factor, decimals);
  const withSign = (text: string, { sign: unitSign }: Unit): string =>
    text === nothing ? text : unitSign === '″' ? `${text}${unitSign}` : `${text}\u00a0${unitSign}`;
  const unitOf = (name: LimitName): Unit => (isAngular(name) ? ARC_SECOND : length);
  const percent = (share: number, decimals = 1): string => `${fixed(100 * share, decimals)}${NARROW}%`;
  const millimetres = (value: number): string => `${significant(value, 7)}\u00a0mm`;
  return {
    lengthSign: length.sign,
    angleSign: ARC_SECOND.sign,
    fixed,
    significant,
    length: (value) => scaled(value, length),
    lengthWith: (value) => withSign(scaled(value, length), length),
    angle: (value) => scaled(value, ARC_SECOND),
    angleWith: (value) => withSign(scaled(value, ARC_SECOND), ARC_SECOND),
    error: (name, value) => scaled(value, unitOf(name)),
    errorWith: (name, value) => withSign(scaled(value, unitOf(name)), unitOf(name)),
    errorSign: (name) => unitOf(name).sign,
    millimetres,
    degrees: (value) => `${significant(value, 7)}°`,
    percent,
    probability: (value) => {
      if (value === null) return nothing;
      if (value > SURE) return `>${NARROW}${percent(SURE)}`;
      return value < 1 - SURE ? `<${NARROW}${percent(1 - SURE)}` : percent(value);
    },
    rewrite: (text) => sign(text).replace(' ', '\u00a0'),
    vector: (components) =>
      `(${components.map((component) => significant(component, 6)).join(decimal === ',' ? '; ' : ', ')})`,
  };
}
