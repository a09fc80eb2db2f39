/** Findings in plain words: sizes in µm, rotations in arc-seconds, each marked as a figure of its text (figures.ts). */
import { markedAgain, markFigure } from './figures.ts';
import type {
  Component,
  ComponentName,
  Estimate,
  Harmonic,
  HarmonicChannel,
  Outlier,
  Parameter,
} from './findings.ts';

export const TITLES: Readonly<Record<ComponentName, string>> = {
  ringShift: 'Ring shift',
  common: 'Common axial shift and clocking',
  toolSetup: 'Tool set-up',
  toolChange: 'Tool change',
  wear: 'Tool wear',
  index: 'Index',
  harmonics: 'Harmonics of the seats',
  outliers: 'Outliers',
  scatter: 'Scatter',
};

const ARC_SECONDS = (180 * 3600) / Math.PI;

/** A length in µm, without sign where it is positive; marked. */
export function micrometres(mm: number): string {
  return markFigure({ kind: 'length', values: [mm], signed: false, text: `${digits(mm * 1000)} µm` });
}

function arcSeconds(rad: number): string {
  return markFigure({
    kind: 'rotation',
    values: [rad],
    signed: false,
    text: `${digits(rad * ARC_SECONDS)}″`,
  });
}

/** Two figures are enough for a size that has an interval beside it; whole numbers from 10 on. */
function digits(x: number): string {
  const size = Math.abs(x);
  const text = size >= 9.95 ? x.toFixed(0) : x.toFixed(1);
  return Number(text) === 0 ? text.replace('-', '') : text;
}

/** A value with sign, in the unit of its parameter. */
export function signed({ value, unit }: Pick<Parameter, 'value' | 'unit'>): string {
  const length = unit === 'mm' || unit === 'mm/weld';
  const plain = length
    ? `${digits(value * 1000)} µm`
    : unit === 'degree'
      ? `${value.toFixed(0)}°`
      : `${digits(value * ARC_SECONDS)}″`;
  const text = value > 0 && !plain.startsWith('0.0') ? `+${plain}` : plain.replace('-', '−');
  if (unit === 'degree') return text;
  return markFigure({ kind: length ? 'length' : 'rotation', values: [value], signed: true, text });
}

/** Both ends of an interval of lengths in µm; marked as one figure. */
export function interval({ low, high }: Pick<Estimate, 'low' | 'high'>): string {
  const text = `${digits(low * 1000)} to ${digits(high * 1000)} µm`;
  return markFigure({ kind: 'length', values: [low, high], signed: false, text });
}

/** The largest displacement (half the size) with its interval, and the position that the zones of the plan see of the component. */
export function sizeWords({ size, at, consumed }: Pick<Component, 'size' | 'at' | 'consumed'>): string {
  if (size === null || at === null) return '';
  const seen = consumed === null ? '' : ` and uses ${micrometres(consumed)} of position`;
  return `alone it moves check point ${at.checkPoint} of station ${at.station} by ${micrometres(size.value / 2)} (${interval({ low: size.low / 2, high: size.high / 2 })})${seen}`;
}

/** The sentence of a component that does not stand out, with the most that it can move a blade. */
export function notDistinguishable({ size, test }: Pick<Component, 'size' | 'test'>): string {
  const most = size === null ? '' : `; alone it moves no blade by more than ${micrometres(size.high / 2)}`;
  const p = test === null ? '' : ` (p = ${probability(test.probability)})`;
  return `Not distinguishable from scatter${p}${most}.`;
}

/** A p-value of a test with two decimals, below 0.1 with three; a bound below 0.001. */
export function probability(p: number): string {
  return p < 0.001 ? '< 0.001' : p.toFixed(p < 0.1 ? 3 : 2);
}

/** Parameters that stand out of their interval, largest relative to it first; at most `most`. */
export function leadingParameters(parameters: readonly Parameter[], most = 3): string {
  return parameters
    .filter((p) => (p.low > 0 || p.high < 0) && p.unit !== 'degree')
    .map((p) => ({ p, weight: Math.abs(p.value) / (p.high - p.low) }))
    .sort((a, b) => b.weight - a.weight)
    .slice(0, most)
    .map(({ p }) => `${signed(p)}${p.unit.endsWith('/weld') ? ' per weld' : ''} ${p.name}`)
    .join(', ');
}

export const CHANNEL_WORDS: Readonly<Record<HarmonicChannel, string>> = {
  index: 'index',
  radial: 'radial displacement',
  tangential: 'tangential displacement',
  axial: 'axial displacement',
  lean: 'lean',
  sweep: 'sweep',
  stagger: 'stagger',
};

/** e.g. `index varies by ±5.1 µm twice around the disc`, the amplitude marked. */
export function harmonicWords({ channel, order, amplitude }: Harmonic): string {
  const size =
    channel === 'radial' || channel === 'tangential' || channel === 'axial'
      ? micrometres(amplitude.value)
      : arcSeconds(amplitude.value);
  return `${CHANNEL_WORDS[channel]} varies by ±${size} ${times(order)} around the disc`;
}

function times(order: number): string {
  return order === 1 ? 'once' : order === 2 ? 'twice' : `${order} times`;
}

/** The finding of an outlying station; marked. */
export function outlierSentence({ station, size, words, figures = [] }: Outlier): string {
  return `Station ${station} stands apart from all other causes: ${markedAgain(words, figures)}. This moves it by ${micrometres(size / 2)}; it is left out of the causes.`;
}

/** “a”, “a and b”, “a, b and c”. */
export function listed(words: readonly string[]): string {
  return words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
