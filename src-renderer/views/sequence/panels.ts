/** Errors against the weld sequence, as the charts draw them: every figure is the diagnosis's own. */
import type { ErrorName } from '../../../shared-math/definition.ts';
import type { BandPoint, Diagnosis, SequenceFinding } from '../../../shared-math/diagnosis/findings.ts';
import { exportNumber, plainUnit, type Units } from '../../format/format.ts';
import { bladeErrors, quantityOf } from '../../format/quantities.ts';
import type { Sheet } from '../../parts/sheet.ts';

export interface SequenceMark {
  readonly station: number;
  readonly sequence: number;
  readonly tool: string;
  readonly value: number;
  readonly outlier: boolean;
}

export interface SequencePanel {
  readonly error: ErrorName;
  readonly marks: readonly SequenceMark[];
  readonly lines: SequenceFinding['lines'];
  /** Range of the marks and of the intervals of the lines; outlying stations are left at the edge. */
  readonly low: number;
  readonly high: number;
}

export function sequencePanels(
  sequence: SequenceFinding,
  outliers: Diagnosis['outliers'],
): readonly SequencePanel[] {
  const outlying = new Set(outliers.map((entry) => entry.station));
  return bladeErrors.map((error, index) => {
    const marks = sequence.welds.flatMap(({ station, sequence: place, tool, error: values }) => {
      const value = values?.[index];
      if (value === undefined) return [];
      return [{ station, sequence: place, tool, value, outlier: outlying.has(station) }];
    });
    const lines = sequence.lines.filter((line) => line.error === error);
    const values = [
      0,
      ...marks.filter((mark) => !mark.outlier).map((mark) => mark.value),
      ...lines.flatMap(({ from, to }) => [from.low, from.high, to.low, to.high]),
    ];
    return { error, marks, lines, low: Math.min(...values), high: Math.max(...values) };
  });
}

/** Outline of the interval about a line: along its lower edge and back along the upper one. */
export function bandOutline(
  band: readonly Omit<BandPoint, 'value'>[],
  at: (sequence: number, value: number) => string,
): string {
  const lower = band.map(({ sequence, low }) => at(sequence, low));
  const upper = band.map(({ sequence, high }) => at(sequence, high));
  return `M${[...lower, ...upper.reverse()].join('L')}Z`;
}

/** First and last sequence number. */
export function sequenceRange({ welds }: SequenceFinding): readonly [number, number] {
  const places = welds.map((weld) => weld.sequence);
  return [Math.min(...places), Math.max(...places)];
}

export function sequenceSheet(sequence: SequenceFinding, units: Units): Sheet {
  return {
    head: [
      'sequence',
      'station',
      'tool',
      'welds with this tool before',
      ...bladeErrors.map((name) => `${name} (${plainUnit(quantityOf(name).kind, units)})`),
    ],
    rows: sequence.welds.map(({ sequence: place, station, tool, age, error }) => [
      String(place),
      String(station),
      tool,
      String(age),
      ...bladeErrors.map((name, index) => exportNumber(error?.[index] ?? null, quantityOf(name).kind, units)),
    ]),
  };
}
