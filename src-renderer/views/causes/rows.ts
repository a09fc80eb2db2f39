/** The components as the views list them. Every figure is the diagnosis's own, but for the scale of the chart. */
import type {
  BudgetLine,
  Component,
  ComponentName,
  Diagnosis,
  Estimate,
  Parameter,
} from '../../../shared-math/diagnosis/findings.ts';
import { exportNumber, formatValue, plainUnit, type Units, unitSymbol } from '../../format/format.ts';
import type { QuantityKind } from '../../format/quantities.ts';
import { inUnits } from '../../format/sentence.ts';
import type { Sheet } from '../../parts/sheet.ts';

export interface CauseRow {
  readonly component: Component;
  /** The line of the budget that the component uses up; null where no line allows for it. */
  readonly line: BudgetLine | null;
  readonly leading: boolean;
}

/** What a component is: a cause, the rest that no cause explains, not distinguishable from it, or not examined. */
export type Standing = 'cause' | 'rest' | 'noise' | 'absent';

export function standingOf({ name, significant, notExamined }: Component): Standing {
  if (notExamined !== null) return 'absent';
  if (name === 'scatter') return 'rest';
  return significant ? 'cause' : 'noise';
}

export const standingWords: Record<Standing, string> = {
  cause: 'stands out of scatter',
  rest: 'what no cause explains',
  noise: 'not distinguishable from scatter',
  absent: 'not examined',
};

const standings: readonly Standing[] = ['cause', 'rest', 'noise', 'absent'];

function rank(component: Component): number {
  return standings.indexOf(standingOf(component));
}

/** Causes by size, then the rest, then what is not distinguishable from it, then what was not examined. */
export function causeRows({ components, budget, leading }: Diagnosis): readonly CauseRow[] {
  return [...components]
    .sort((a, b) => rank(a) - rank(b) || (b.size?.value ?? 0) - (a.size?.value ?? 0))
    .map((component) => ({
      component,
      line: budget.lines.find((line) => line.components.includes(component.name)) ?? null,
      leading: component.name === leading,
    }));
}

export function componentOf(diagnosis: Diagnosis, name: ComponentName | null): Component | null {
  return diagnosis.components.find((component) => component.name === name) ?? null;
}

/** Room beyond the largest figure of the scale. */
const HEADROOM = 1.12;

/** End of the chart's scale, mm: it holds all but outlying stations, which would press everything else flat. */
export function chartEnd(rows: readonly CauseRow[], tolerance: number): number {
  const highs = rows
    .filter(({ component }) => component.name !== 'outliers')
    .map(({ component }) => component.size?.high ?? 0);
  const allocated = rows.map(({ line }) => line?.allocated ?? 0);
  return HEADROOM * Math.max(tolerance, ...highs, ...allocated);
}

/** What a component takes of its line against what the line is allocated; null where the two cannot be compared. */
export type Against = 'within' | 'over' | 'uncertain';

/**
 * A line that a component has for itself decides for it; where it shares one, its own position does, with an interval in
 * proportion to that of its size. `uncertain`: above the allocation, but the interval holds it. A line that is not
 * distinguishable from scatter says nothing.
 */
export function againstLine({ component, line }: CauseRow): Against | null {
  if (line?.allocated == null || !line.distinguishable) return null;
  if (line.state === 'within') return 'within';
  if (line.components.length === 1) {
    if (line.state === 'over') return 'over';
    return line.state === 'undecided' && (line.found?.value ?? 0) > line.allocated ? 'uncertain' : null;
  }
  const { size, consumed } = component;
  if (size === null || consumed === null || consumed <= line.allocated) return null;
  const isAbove = line.state === 'over' && size.low * consumed > line.allocated * size.value;
  return isAbove ? 'over' : 'uncertain';
}

export const budgetWords: Record<BudgetLine['state'], string> = {
  within: 'within',
  undecided: 'undecided',
  over: 'over',
  unknown: 'not compared',
};

const kinds: Record<Parameter['unit'], QuantityKind | null> = {
  mm: 'length',
  rad: 'rotation',
  'mm/weld': 'length',
  'rad/weld': 'rotation',
  degree: null,
};

function parameterKind(parameter: Parameter): QuantityKind | null {
  return kinds[parameter.unit];
}

/** The unit of a parameter on the screen, e.g. `µm per weld`. */
export function parameterUnit(parameter: Parameter, units: Units): string {
  const kind = parameterKind(parameter);
  const symbol = kind === null ? '°' : unitSymbol(kind, units);
  return parameter.unit.endsWith('/weld') ? `${symbol} per weld` : symbol;
}

/** A figure of a parameter without its unit. */
export function parameterFigure(value: number, parameter: Parameter, units: Units): string {
  const kind = parameterKind(parameter);
  if (kind !== null) return formatValue(value, kind, units);
  return value.toFixed(2).replace('-', '−');
}

/** Parameters of a component, and those of its readings where several causes make the same errors. */
export function parametersSheet({ parameters, readings }: Component, units: Units): Sheet {
  const row = (reading: string) => (parameter: Parameter) => {
    const kind = parameterKind(parameter);
    const unit = kind === null ? 'deg' : plainUnit(kind, units);
    const number = (value: number): string =>
      kind === null ? value.toFixed(4) : exportNumber(value, kind, units);
    return [
      reading,
      parameter.name,
      parameter.of ?? '',
      number(parameter.value),
      number(parameter.low),
      number(parameter.high),
      parameter.unit.endsWith('/weld') ? `${unit}/weld` : unit,
    ];
  };
  return {
    head: ['reading', 'parameter', 'of', 'value', 'low', 'high', 'unit'],
    rows: [
      ...parameters.map(row('')),
      ...readings.flatMap((reading) => reading.parameters.map(row(reading.cause))),
    ],
  };
}

/** e.g. `0.0421 to 0.0502`. */
export function intervalText(estimate: Pick<Estimate, 'low' | 'high'>, kind: QuantityKind, units: Units) {
  return `${formatValue(estimate.low, kind, units)} to ${formatValue(estimate.high, kind, units)}`;
}

/** e.g. `36 %`; small shares are not shown as nothing. */
export function shareText(share: number): string {
  const percent = 100 * share;
  return percent > 0 && percent < 0.5 ? '<1 %' : `${percent.toFixed(0)} %`;
}

/** Degrees of freedom need not be whole. */
export function freedomText(degrees: number | null): string {
  return degrees === null ? '∞' : String(Number(degrees.toFixed(1)));
}

export function probabilityText(probability: number): string {
  return probability < 0.0001 ? '< 0.0001' : `= ${probability.toFixed(4)}`;
}

/** What is said of a component, in the units on view. */
export function componentWords({ notExamined, sentence, figures }: Component, units: Units): string {
  return notExamined ?? inUnits(sentence, figures, units);
}

export function causesSheet(rows: readonly CauseRow[], units: Units): Sheet {
  const unit = plainUnit('size', units);
  return {
    head: [
      'component',
      'standing',
      `size 2|d| (${unit})`,
      `low (${unit})`,
      `high (${unit})`,
      `r.m.s. (${unit})`,
      `position used up (${unit})`,
      'share of weighted sum of squares',
      'adjusted probability',
      'budget line',
      `allocated (${unit})`,
      'state',
      'sentence',
    ],
    rows: rows.map(({ component, line }) => [
      component.title,
      standingWords[standingOf(component)],
      exportNumber(component.size?.value ?? null, 'size', units),
      exportNumber(component.size?.low ?? null, 'size', units),
      exportNumber(component.size?.high ?? null, 'size', units),
      exportNumber(component.rms, 'size', units),
      exportNumber(component.consumed, 'size', units),
      component.share.toFixed(6),
      component.test === null ? '' : component.test.adjusted.toPrecision(4),
      line?.title ?? '',
      exportNumber(line?.allocated ?? null, 'size', units),
      line?.state ?? '',
      componentWords(component, units),
    ]),
  };
}
