/**
 * The one place where a number of the result becomes text. Results hold mm, rad and (station angles) degrees;
 * the display units are chosen by the person and change nothing but the text.
 */
import {
  decimalsAgainst,
  decimalsOfChange,
  decimalsOfLimit,
  printedProbability,
} from '../../shared-math/display/decimals.ts';
import { type LengthUnit, lengthScales, type Scale } from '../../shared-math/display/lengths.ts';
import type { Verdict } from '../../shared-math/result.ts';
import { type QuantityKind, type QuantityName, quantityOf } from './quantities.ts';

export type { LengthUnit };
export type RotationUnit = 'degree' | 'arc-minute' | 'arc-second' | 'mrad';

export interface Units {
  readonly length: LengthUnit;
  readonly rotation: RotationUnit;
}

interface UnitFacts extends Scale {
  readonly symbol: string;
}

const lengthUnits: Record<LengthUnit, UnitFacts> = {
  mm: { ...lengthScales.mm, symbol: 'mm' },
  µm: { ...lengthScales.µm, symbol: 'µm' },
  inch: { ...lengthScales.inch, symbol: 'in' },
};

/** Decimals that resolve about 1 µrad, a tenth of what such machines repeat to (common practice, no source). */
const rotationUnits: Record<RotationUnit, UnitFacts> = {
  degree: { factor: 180 / Math.PI, decimals: 4, symbol: '°' },
  'arc-minute': { factor: (180 * 60) / Math.PI, decimals: 3, symbol: '′' },
  'arc-second': { factor: (180 * 3600) / Math.PI, decimals: 1, symbol: '″' },
  mrad: { factor: 1000, decimals: 4, symbol: 'mrad' },
};

export const unitNames: {
  readonly length: readonly LengthUnit[];
  readonly rotation: readonly RotationUnit[];
} = {
  length: ['mm', 'µm', 'inch'],
  rotation: ['degree', 'arc-minute', 'arc-second', 'mrad'],
};

function factsOf(kind: QuantityKind, units: Units): UnitFacts {
  return kind === 'rotation' ? rotationUnits[units.rotation] : lengthUnits[units.length];
}

export function unitSymbol(kind: QuantityKind, units: Units): string {
  return factsOf(kind, units).symbol;
}

/** The unit in running text, where a symbol alone would be misread. */
export function unitWord(kind: QuantityKind, units: Units): string {
  const symbol = unitSymbol(kind, units);
  return { in: 'inches', '°': 'degrees', '′': 'arc-minutes', '″': 'arc-seconds' }[symbol] ?? symbol;
}

/** For places on the disc: nobody gives coordinates in micrometres beside errors that are. */
export function placeUnits(units: Units): Units {
  return units.length === 'µm' ? { ...units, length: 'mm' } : units;
}

/** The unit in plain letters, for other programs. */
export function plainUnit(kind: QuantityKind, units: Units): string {
  const symbol = unitSymbol(kind, units);
  return { '°': 'deg', '′': 'arcmin', '″': 'arcsec', µm: 'um' }[symbol] ?? symbol;
}

/** A value of the result in the display unit, still a number (for plots and exports). */
export function toDisplay(value: number, kind: QuantityKind, units: Units): number {
  return value * factsOf(kind, units).factor;
}

const minus = '−';

function fixed(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals);
  // A value that rounds to zero carries no sign.
  const negative = value < 0 && Number(text) !== 0;
  return negative ? minus + text : text;
}

/** A number as somebody wrote it, with at most so many decimals and a true minus. */
export function formatWritten(value: number, mostDecimals: number): string {
  return String(Number(value.toFixed(mostDecimals))).replace('-', minus);
}

/** A coordinate with so many decimals, without a unit or a plus sign. */
export function formatCoordinate(value: number, decimals: number): string {
  return fixed(value, decimals);
}

function signed(value: number, kind: QuantityKind, decimals: number): string {
  const text = fixed(value, decimals);
  if (kind === 'size' || text.startsWith(minus) || Number(text) === 0) return text;
  return `+${text}`;
}

/** Without a unit. Signed kinds show + or −; `size` shows none. */
export function formatValue(value: number, kind: QuantityKind, units: Units): string {
  const { factor, decimals } = factsOf(kind, units);
  return signed(value * factor, kind, decimals);
}

/** A value that is judged: with so many decimals that it is seen on its side of its limit; null: it has none. */
export function formatJudged(
  value: number,
  kind: QuantityKind,
  units: Units,
  limit: number | null,
  limitDecimals?: number,
): string {
  const facts = factsOf(kind, units);
  return signed(value * facts.factor, kind, decimalsAgainst(value, limit, facts, limitDecimals));
}

/** A value with the limit that it is held against; null: it has none. */
export interface Judged {
  readonly value: number;
  readonly limit: number | null;
}

/** Two sizes that are judged and after minus before, with one number of decimals at which they agree. */
export function formatChange(
  before: Judged,
  after: Judged,
  units: Units,
): { readonly before: string; readonly after: string; readonly change: string } {
  const facts = factsOf('size', units);
  const least = Math.max(...[before, after].map(({ value, limit }) => decimalsAgainst(value, limit, facts)));
  const decimals = decimalsOfChange(before.value, after.value, facts, least);
  const written = (value: number, kind: QuantityKind) => signed(value * facts.factor, kind, decimals);
  return {
    before: written(before.value, 'size'),
    after: written(after.value, 'size'),
    change: written(after.value - before.value, 'length'),
  };
}

/** Decimals of a limit that several values are shown beside. */
export function limitDecimals(
  limit: number,
  values: readonly (number | null)[],
  kind: QuantityKind,
  units: Units,
): number {
  return decimalsOfLimit(limit, values, factsOf(kind, units));
}

/**
 * A limit or a tolerance: unsigned, without a unit, with all the decimals that it has where these are few.
 *
 * @param values shown beside it: none of them seems to lie on its other side
 */
export function formatLimit(
  value: number,
  kind: QuantityKind,
  units: Units,
  values: readonly (number | null)[] = [],
): string {
  return fixed(value * factsOf(kind, units).factor, limitDecimals(value, values, kind, units));
}

function withUnit(text: string, symbol: string): string {
  return '°′″'.includes(symbol) ? text + symbol : `${text} ${symbol}`;
}

export function formatWithUnit(value: number, kind: QuantityKind, units: Units): string {
  return withUnit(formatValue(value, kind, units), unitSymbol(kind, units));
}

export function formatLimitWithUnit(
  value: number,
  kind: QuantityKind,
  units: Units,
  values: readonly (number | null)[] = [],
): string {
  return withUnit(formatLimit(value, kind, units, values), unitSymbol(kind, units));
}

/** The half-width U of an interval with its sign: `± 0.0036`, or `+ 0.0104` where only the upper bound counts. */
export function formatExpanded(expanded: number, kind: QuantityKind, units: Units): string {
  const { factor, decimals } = factsOf(kind, units);
  return `${kind === 'size' ? '+' : '±'} ${fixed(expanded * factor, decimals)}`;
}

/** e.g. `+0.0123 mm`, `+0.0123 ± 0.0036 mm` where its uncertainty is known, or `not observed`; seen on its side of its limit. */
export function formatQuantity(
  value: number | null,
  name: QuantityName,
  units: Units,
  expanded: number | null = null,
  limit: number | null = null,
): string {
  if (value === null) return 'not observed';
  const { kind } = quantityOf(name);
  const text = formatJudged(value, kind, units, limit);
  const interval = expanded === null ? '' : ` ${formatExpanded(expanded, kind, units)}`;
  return withUnit(text + interval, unitSymbol(kind, units));
}

/** Within one turn: 0 ≤ angle < 360. Results keep the angle as the plan's numbering gives it. */
export function withinTurn(degrees: number): number {
  return ((degrees % 360) + 360) % 360;
}

/** Planned station angle in degrees, within one turn after rounding as well. */
export function formatAngle(degrees: number): string {
  const text = fixed(withinTurn(degrees), 2);
  return text === '360.00' ? '0.00°' : `${text}°`;
}

/**
 * In per cent without the sign. What is neither impossible nor certain is never shown as if it were, and nothing seems to reach what
 * the decision rule asks for (`needed`, null: nothing) where it does not.
 */
export function formatProbability(probability: number, needed: number | null = null): string {
  const { bound, percent, decimals } = printedProbability(probability, needed);
  return `${bound ?? ''}${percent.toFixed(decimals)}`;
}

/** A chosen probability such as a coverage, as it was chosen: `95 %`, `99.73 %`. */
export function formatChosenProbability(probability: number): string {
  return `${Number((100 * probability).toPrecision(6))} %`;
}

export function formatCount(value: number): string {
  return value.toLocaleString('en-US').replaceAll(',', '\u202f');
}

/** Plain number for other programs: display unit, ASCII minus, three decimals more than the screen; empty for null. */
export function exportNumber(value: number | null, kind: QuantityKind, units: Units): string {
  if (value === null) return '';
  const { factor, decimals } = factsOf(kind, units);
  const text = (value * factor).toFixed(decimals + 3);
  return Number(text) === 0 ? (0).toFixed(decimals + 3) : text;
}

export type Standing = Verdict | 'missing';

export const standingText: Record<Standing, string> = {
  conforming: 'conforming',
  nonconforming: 'nonconforming',
  unproven: 'unproven',
  missing: 'missing',
};

/** `1 station`, `3 stations`. */
export function countOf(count: number, singular: string): string {
  return `${formatCount(count)} ${singular}${count === 1 ? '' : 's'}`;
}
