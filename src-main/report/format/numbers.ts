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

/** What is held against a limit. */
export type Judged = LimitName | 'position';

/** Whether an error is an angle; the others are lengths. */
export function isAngular(name: Judged): boolean {
  return ANGULAR.has(name);
}

/** Beyond this a probability is written as a bound; more digits would claim what no model of a measurement can. */
const SURE = 0.999;

/** Decimals beyond the usual ones: of a limit that needs them, and of a value that would else seem to lie on its other side. */
const FURTHER_DECIMALS = 4;

export const nothing = '–';
const NARROW = '\u202f';

/** Of a share: what sums and products of decimal fractions leave behind. */
const ROUNDING = 1e-12;

/** Whether so many decimals hold a number to within what its conversion to another unit may have cost. */
function isWhole(value: number, decimals: number): boolean {
  return Math.abs(Number(value.toFixed(decimals)) - value) <= 1e-9 * Math.abs(value);
}

function decimalsNeeded(value: number, least: number): number {
  let decimals = least;
  while (decimals < least + FURTHER_DECIMALS && !isWhole(value, decimals)) decimals += 1;
  return decimals;
}

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
  /** A limit with all the decimals that it has, where these are few: a requirement is never rounded unless it must be. */
  readonly limit: (name: Judged, value: number | null) => string;
  readonly limitWith: (name: Judged, value: number | null) => string;
  /** A value beside its limit: with further decimals where the usual ones would put it on the other side of the limit. */
  readonly against: (name: Judged, value: number | null, limit: number | null) => string;
  readonly againstWith: (name: Judged, value: number | null, limit: number | null) => string;
  /** Nominal dimensions: mm as the plan gives them. */
  readonly millimetres: (value: number) => string;
  readonly degrees: (value: number) => string;
  readonly percent: (share: number, decimals?: number) => string;
  /** With further decimals where the usual ones would put it on the other side of what the decision rule asks for. */
  readonly probability: (value: number | null) => string;
  /** A number with its unit as other parts of the program write it, in the manner of this report. */
  readonly rewrite: (text: string) => string;
  /** Components of a vector in mm. */
  readonly vector: (components: readonly number[]) => string;
}

/** @param needed the probability at which the decision rule accepts; null where it asks for none */
export function numberFormat(
  decimal: '.' | ',',
  unit: LengthUnit,
  needed: number | null = null,
): NumberFormat {
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
  const unitOf = (name: Judged): Unit => (isAngular(name) ? ARC_SECOND : length);
  const percent = (share: number, decimals = 1): string => `${fixed(100 * share, decimals)}${NARROW}%`;
  const scaledLimit = (value: number | null, { factor, decimals }: Unit): string => {
    if (value === null) return nothing;
    const exact = value * factor;
    const needs = decimalsNeeded(exact, decimals);
    return fixed(exact, isWhole(exact, needs) ? needs : decimals);
  };
  const scaledAgainst = (value: number | null, limit: number | null, kind: Unit): string => {
    if (value === null || limit === null) return scaled(value, kind);
    const shown = readBack(scaledLimit(limit, kind));
    const beyond = Math.abs(value) > limit;
    for (let further = 0; further <= FURTHER_DECIMALS; further++) {
      const text = fixed(value * kind.factor, kind.decimals + further);
      if (Math.abs(readBack(text)) > shown === beyond) return text;
    }
    return scaled(value, kind);
  };
  const readBack = (text: string): number => Number(text.replace('\u2212', '-').replace(decimal, '.'));
  const sure = Math.max(SURE, needed ?? 0);
  const sureDecimals = decimalsNeeded(100 * sure, 1);
  const probability = (value: number): string => {
    if (value > sure) return `>${NARROW}${percent(sure, sureDecimals)}`;
    if (value < 1 - sure) return `<${NARROW}${percent(1 - sure, sureDecimals)}`;
    // Accepted at `needed` or more, rejected at 1 - `needed` or less.
    const side = (share: number): number =>
      needed === null ? 0 : share >= needed - ROUNDING ? 1 : share <= 1 - needed + ROUNDING ? -1 : 0;
    for (let decimals = 1; decimals <= 1 + FURTHER_DECIMALS; decimals++)
      if (side(Number((100 * value).toFixed(decimals)) / 100) === side(value))
        return percent(value, decimals);
    return percent(value);
  };
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
    limit: (name, value) => scaledLimit(value, unitOf(name)),
    limitWith: (name, value) => withSign(scaledLimit(value, unitOf(name)), unitOf(name)),
    against: (name, value, limit) => scaledAgainst(value, limit, unitOf(name)),
    againstWith: (name, value, limit) => withSign(scaledAgainst(value, limit, unitOf(name)), unitOf(name)),
    millimetres,
    degrees: (value) => `${significant(value, 7)}°`,
    percent,
    probability: (value) => (value === null ? nothing : probability(value)),
    rewrite: (text) => {
      const micrometres = length.sign === 'µm' ? undefined : /^(\d[\d.]*) µm$/.exec(text)?.[1];
      if (micrometres === undefined) return sign(text).replace(' ', '\u00a0');
      return withSign(significant((Number(micrometres) / 1000) * length.factor, 2), length);
    },
    vector: (components) =>
      `(${components.map((component) => significant(component, 6)).join(decimal === ',' ? '; ' : ', ')})`,
  };
}
