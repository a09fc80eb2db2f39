/** Corrections in plain words: displacements in µm, rotations in arc-seconds, each marked as a figure (figures.ts). */
import type { ErrorName } from '../../definition.ts';
import { markFigure, readFigures, type Said } from '../figures.ts';
import type { Figure } from '../findings.ts';
import type { Correction, CorrectionKind, HubFreedom, Setting } from './correction.ts';

const ARC_SECOND = Math.PI / 648_000;

const FREEDOM_WORDS: Readonly<Record<ErrorName | HubFreedom, string>> = {
  oscillation: 'along oscillation',
  lateral: 'along lateral',
  upset: 'along upset',
  rotOscillation: 'about oscillation',
  rotLateral: 'about lateral',
  rotUpset: 'about upset',
  x: 'along x',
  y: 'along y',
  z: 'along z',
  rotX: 'about x',
  rotY: 'about y',
  rotZ: 'about z',
};

const TITLES: Readonly<Record<Setting['kind'], string>> = {
  tool: 'Tool offset',
  hub: 'Hub seating',
  index: 'Index offsets',
};

/** Title of a correction; of all settings together, the kinds that there are. */
export function titleOf(kind: CorrectionKind, settings: readonly Setting[]): string {
  if (kind !== 'all') return TITLES[kind];
  const kinds = [...new Set(settings.map((s) => s.kind))].map((k, i) =>
    i === 0 ? TITLES[k] : TITLES[k].toLowerCase(),
  );
  return `${joined(kinds)} together`;
}

/** Conforming stations as measured and after a correction, of all that the plan has. */
export interface ConformingCounts {
  readonly before: number;
  readonly after: number;
  readonly planned: number;
}

/** One to three sentences with their sizes: what to set, what it would bring, what to beware of. */
export function correctionWords(
  correction: Omit<Correction, 'sentence' | 'figures'>,
  conforming: ConformingCounts,
  simpler: Correction | null,
  recommended: boolean,
): Said {
  const verdict = recommended ? '' : ' Not recommended.';
  return readFigures(`${sentenceOf(correction, conforming, simpler)}${verdict}`);
}

function sentenceOf(
  correction: Omit<Correction, 'sentence' | 'figures'>,
  conforming: ConformingCounts,
  simpler: Correction | null,
): string {
  const { before, after, settings, interval, leftOut } = correction;
  const without =
    leftOut.length === 0
      ? ''
      : ` ${leftOut.length === 1 ? 'Station' : 'Stations'} ${joined(leftOut.map(String))} ${leftOut.length === 1 ? 'is' : 'are'} left out of the optimisation.`;
  const changes = changesInWords(settings);
  if (changes === '')
    return `No change within its range makes the largest position smaller than ${micrometres(before)}.${without}`;
  const count = `${conforming.after} of ${conforming.planned} stations`;
  const brings =
    conforming.after === conforming.before
      ? `would leave ${count} conforming as they are`
      : conforming.after < conforming.before
        ? `would leave only ${count} conforming, fewer than the ${conforming.before} now`
        : `would make ${count} conform instead of ${conforming.before}`;
  const worst = `largest position ${micrometres(after)} instead of ${micrometres(before)}, ${range('length', interval.low, interval.high)} when measured again`;
  return `${changes} ${brings}; ${worst}.${without}${warningOf(correction, simpler)}`;
}

function warningOf(
  { before, after, noiseGain, next, chasesNoise }: Omit<Correction, 'sentence' | 'figures'>,
  simpler: Correction | null,
): string {
  const outlook =
    next === null
      ? ''
      : ` On the next disc, with fresh scatter, expect ${micrometres(next.corrected.expected)} (${range('length', next.corrected.low, next.corrected.high)}) instead of ${micrometres(next.unchanged.expected)}.`;
  if (!chasesNoise || noiseGain === null) return outlook;
  const gain = micrometres(before - after);
  if (before - after <= noiseGain)
    return `${outlook} Beware: scatter alone would offer a gain of up to ${micrometres(noiseGain)}, and this one is ${gain}; it would chase noise.`;
  if (simpler !== null)
    return `${outlook} Beware: ${simpler.title.toLowerCase()} alone would do as well there; the rest of the gain chases noise.`;
  const recurring = next === null ? 0 : next.unchanged.expected - next.corrected.expected;
  return recurring > 0
    ? `${outlook} Beware: of the gain of ${gain} on this disc only ${micrometres(recurring)} would come back; the rest is fitted to its scatter.`
    : `${outlook} Beware: the gain of ${gain} on this disc was fitted to its scatter and would not come back; it would chase noise.`;
}

function changesInWords(settings: readonly Setting[]): string {
  const parts: string[] = [];
  const owners = [...new Set(settings.filter((s) => s.kind === 'tool').map((s) => s.of))];
  for (const of of owners) {
    const changes = listed(settings.filter((s) => s.kind === 'tool' && s.of === of));
    if (changes !== '') parts.push(`the ${of === null ? 'tool' : `tool ${of}`} by ${changes}`);
  }
  const hub = listed(settings.filter((s) => s.kind === 'hub'));
  if (hub !== '') parts.push(`the hub seating by ${hub}`);
  const index = settings.filter((s) => s.kind === 'index' && s.change !== 0).map((s) => s.change);
  if (index.length === 1) parts.push(`the index of one station by ${signedArcSeconds(index[0]!)}`);
  if (index.length > 1)
    parts.push(
      `the index of ${index.length} stations by ${range('rotation', Math.min(...index), Math.max(...index))}`,
    );
  return parts.length === 0 ? '' : `Moving ${joined(parts)}`;
}

/** Changes that do not round to nothing. */
function listed(settings: readonly Setting[]): string {
  const changes = settings.flatMap((s) => {
    if (s.freedom === 'index') return [];
    const rotation = s.freedom.startsWith('rot');
    if (Number(signed(rotation ? s.change / ARC_SECOND : 1e3 * s.change)) === 0) return [];
    const size = rotation ? signedArcSeconds(s.change) : signedMicrometres(s.change);
    return [`${size} ${FREEDOM_WORDS[s.freedom]}`];
  });
  return joined(changes);
}

function micrometres(mm: number): string {
  return markFigure({
    kind: 'length',
    values: [mm],
    signed: false,
    text: `${(1e3 * mm).toFixed(1)} µm`,
  });
}

function signedMicrometres(mm: number): string {
  return markFigure({ kind: 'length', values: [mm], signed: true, text: `${signed(1e3 * mm)} µm` });
}

function signedArcSeconds(rad: number): string {
  return markFigure({
    kind: 'rotation',
    values: [rad],
    signed: true,
    text: `${signed(rad / ARC_SECOND)}″`,
  });
}

/** Both ends of an interval of lengths, or of signed turns, with the unit once; marked as one figure. */
function range(kind: Figure['kind'], low: number, high: number): string {
  const text =
    kind === 'length'
      ? `${(1e3 * low).toFixed(1)} to ${(1e3 * high).toFixed(1)} µm`
      : `${signed(low / ARC_SECOND)} to ${signed(high / ARC_SECOND)}″`;
  return markFigure({ kind, values: [low, high], signed: kind === 'rotation', text });
}

function signed(value: number): string {
  const digits = Math.abs(value).toFixed(1);
  if (Number(digits) === 0) return digits;
  return `${value < 0 ? '−' : '+'}${digits}`;
}

function joined(parts: readonly string[]): string {
  if (parts.length < 2) return parts[0] ?? '';
  return `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}
