/** Numbers as a report writes them: decimal sign of the language, a true minus sign, units behind a no-break space. */
import type { LimitName } from '../../../shared-math/definition.ts';
import {
  decimalsAgainst,
  decimalsOfLimit,
  printedProbability,
} from '../../../shared-math/display/decimals.ts';
import { type LengthUnit, lengthScales, type Scale } from '../../../shared-math/display/lengths.ts';
import type { ResultDocument } from '../../../shared-math/result.ts';

export type { LengthUnit };

interface Unit extends Scale {
  readonly sign: string;
}

const ARC_SECOND: Unit = { sign: '″', factor: (3600 * 180) / Math.PI, decimals: 1 };

/** Degrees that stay degrees. */
const DEGREE_AS_IT_IS: Unit = { sign: '°', factor: 1, decimals: 1 };

/** No more decimals than these, however small an uncertainty is. */
const MOST_DECIMALS = 6;

/** Decimals that give an uncertainty two significant digits (JCGM 100, 7.2.6); null where there is none. */
function decimalsOfUncertainty(uncertainty: number): number | null {
  if (!(uncertainty > 0 && Number.isFinite(uncertainty))) return null;
  const [, exponent] = uncertainty.toExponential(1).split('e');
  return Math.min(MOST_DECIMALS, Math.max(0, 1 - Number(exponent)));
}

interface Interval {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** With units. */
export interface EstimateText {
  readonly value: string;
  readonly interval: string;
}

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

export const nothing = '–';
const NARROW = '\u202f';

/** A value and the limit that it is held against, in mm or rad. */
export interface HeldAgainst {
  readonly name: Judged;
  readonly value: number | null;
  readonly limit: number;
}

/** All that a result holds against limits, so that a limit is printed with the same decimals throughout a report. */
export function heldAgainstLimits({ stations, pattern }: ResultDocument): readonly HeldAgainst[] {
  const position = (value: number | null, limit: number): HeldAgainst => ({ name: 'position', value, limit });
  const relative = pattern === null ? [] : [pattern, ...pattern.stations];
  return [
    ...stations.flatMap((station) => [
      position(station.position.value, station.position.tolerance),
      ...station.position.checkPoints.map(({ value, tolerance }) => position(value, tolerance)),
      ...station.limits,
    ]),
    ...relative.map(({ value }) => position(value, pattern?.tolerance ?? 0)),
  ];
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
  /** A size in two significant digits, with its unit. */
  readonly lengthBrief: (millimetres: number) => string;
  readonly angleBrief: (radians: number) => string;
  /** A value and the ends of its interval, as many decimals as its uncertainty has in two significant digits. */
  readonly estimated: (estimate: Interval, kind: 'length' | 'angle' | 'degree') => EstimateText;
  /** Components of a vector in mm. */
  readonly vector: (components: readonly number[]) => string;
}

/**
 * @param needed the probability at which the decision rule accepts; null where it asks for none
 * @param held all values that the report holds against limits
 * @param inch the word for it in the language of the report
 */
export function numberFormat(
  decimal: '.' | ',',
  unit: LengthUnit,
  needed: number | null = null,
  held: readonly HeldAgainst[] = [],
  inch = 'inch',
): NumberFormat {
  const length: Unit = { sign: unit === 'inch' ? inch : unit, ...lengthScales[unit] };
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
    text === nothing
      ? text
      : unitSign === '″' || unitSign === '°'
        ? `${text}${unitSign}`
        : `${text}\u00a0${unitSign}`;
  const unitOf = (name: Judged): Unit => (isAngular(name) ? ARC_SECOND : length);
  const percent = (share: number, decimals = 1): string => `${fixed(100 * share, decimals)}${NARROW}%`;
  const limitDecimals = new Map<string, number>();
  const decimalsFor = (name: Judged, limit: number): number => {
    const key = `${name} ${limit}`;
    const known = limitDecimals.get(key);
    if (known !== undefined) return known;
    const values = held.filter((entry) => entry.name === name && entry.limit === limit);
    const found = decimalsOfLimit(
      limit,
      values.map(({ value }) => value),
      unitOf(name),
    );
    limitDecimals.set(key, found);
    return found;
  };
  const scaledLimit = (name: Judged, value: number | null): string =>
    value === null ? nothing : fixed(value * unitOf(name).factor, decimalsFor(name, value));
  const scaledAgainst = (name: Judged, value: number | null, limit: number | null): string => {
    const kind = unitOf(name);
    if (value === null || limit === null) return scaled(value, kind);
    return fixed(value * kind.factor, decimalsAgainst(value, limit, kind, decimalsFor(name, limit)));
  };
  const probability = (value: number): string => {
    const { bound, percent: shown, decimals } = printedProbability(value, needed);
    return `${bound === null ? '' : bound + NARROW}${percent(shown / 100, decimals)}`;
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
    limit: scaledLimit,
    limitWith: (name, value) => withSign(scaledLimit(name, value), unitOf(name)),
    against: scaledAgainst,
    againstWith: (name, value, limit) => withSign(scaledAgainst(name, value, limit), unitOf(name)),
    millimetres,
    degrees: (value) => `${significant(value, 7)}°`,
    percent,
    probability: (value) => (value === null ? nothing : probability(value)),
    lengthBrief: (value) => withSign(significant(value * length.factor, 2), length),
    angleBrief: (value) => withSign(significant(value * ARC_SECOND.factor, 2), ARC_SECOND),
    estimated: ({ value, low, high }, kind) => {
      const unit = { length, angle: ARC_SECOND, degree: DEGREE_AS_IT_IS }[kind];
      const decimals = decimalsOfUncertainty((unit.factor * (high - low)) / 2) ?? unit.decimals;
      const text = (of: number): string => fixed(of * unit.factor, decimals);
      return {
        value: withSign(text(value), unit),
        interval: `${text(low)}\u00a0… ${withSign(text(high), unit)}`,
      };
    },
    vector: (components) =>
      `(${components.map((component) => significant(component, 6)).join(decimal === ',' ? '; ' : ', ')})`,
  };
}
