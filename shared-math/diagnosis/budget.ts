/**
 * Planned allocations of the position tolerance against what the causes found use up.
 *
 * A cause uses the largest position, in the zones of the plan, that it makes alone at any station: `consumed`. Its interval is
 * that of the component's size 2·|δ|, shifted: a zone's position never changes by more than 2·|δ| does, so the interval of the size
 * bounds it from both sides. Causes that share a line are added station by station before the largest is taken, and the
 * half-widths of their intervals in quadrature. A cause that does not stand out from scatter consumes nothing that can be told;
 * its interval still decides whether the line is kept.
 *
 * Bookings. Ring shift and the common axial and clocking offset use up `frame`; that common offset may as well be the tool's,
 * so both `frame` and `toolSetup` carry the other booking in `otherwise`. Wear counts at the end of the longest tool life seen. Scatter
 * counts with the position that it keeps within for 95 % of the blades at the check point where it is largest, and so does the
 * index: its harmonics as they are, with the scatter of single stations about them. Harmonics of the seats and outliers have no
 * line in the plan: they are shown without allocation, and outliers, set right by repair and not by the process, are left out
 * of the sums.
 *
 * Sums: worst case (arithmetic) and root sum of squares (causes independent of each other).
 */
import type { BudgetDefinition, PartDefinition, StationDefinition } from '../definition.ts';
import { normalQuantile } from '../uncertainty/distributions.ts';
import { largestPosition, togetherAt } from './budget-position.ts';
import { budgetSentence } from './budget-words.ts';
import { readFigures } from './figures.ts';
import type {
  BudgetFinding,
  BudgetLine,
  BudgetLineName,
  BudgetUse,
  Component,
  ComponentName,
  Estimate,
  IndexStation,
  Scatter,
} from './findings.ts';
import { indexPosition, scatterPosition } from './scatter-position.ts';

const TITLES: Readonly<Record<BudgetLineName | 'harmonics' | 'outliers', string>> = {
  toolSetup: 'Tool set-up',
  index: 'Index',
  frame: 'Hub frame',
  wear: 'Tool wear at the end of the longest life seen',
  toolChange: 'Tool change',
  scatter: 'Scatter, position kept by 95 % of blades',
  harmonics: 'Harmonics of the seats',
  outliers: 'Outliers, not in the sums',
};

/** Lines in the order of the table, with the components that use each up. */
const BOOKINGS: readonly (readonly [BudgetLineName | 'harmonics' | 'outliers', readonly ComponentName[]])[] =
  [
    ['frame', ['ringShift', 'common']],
    ['toolSetup', ['toolSetup']],
    ['toolChange', ['toolChange']],
    ['wear', ['wear']],
    ['index', ['index']],
    ['scatter', ['scatter']],
    ['harmonics', ['harmonics']],
    ['outliers', ['outliers']],
  ];

/**
 * The budget of the position tolerance.
 *
 * @param components of the joint fit, with sizes and zone positions in mm. @param scatter of the stations, mm and rad.
 * @param index deviations of the stations.
 * @param definition of the part; without a budget in it the lines are shown without allocation.
 */
export function budgetFinding(
  components: readonly Component[],
  scatter: Scatter,
  index: readonly IndexStation[],
  definition: PartDefinition,
): BudgetFinding {
  const budget = definition.budget ?? null;
  const found = new Map(components.map((component) => [component.name, component]));
  const uses = (names: readonly ComponentName[]): Use =>
    usedTogether(
      names.flatMap((name) => found.get(name) ?? []),
      definition.stations,
    );
  const lines: BudgetLine[] = BOOKINGS.map(([name, booked]) => {
    const allocated = allocationOf(name, budget);
    const use =
      name === 'scatter'
        ? certain(scatterPosition(scatter, definition.stations, definition.uncertainty.coverage))
        : name === 'index'
          ? indexUse(found.get('index'), scatter, index, definition)
          : uses(booked);
    return {
      name,
      title: TITLES[name],
      components: booked,
      allocated,
      ...judged(use.found, allocated),
      distinguishable: use.distinguishable,
      counted: name !== 'outliers',
      otherwise: bookedOtherwise(name, allocated, found.get('common'), uses),
    };
  });
  for (const { name, allocated, found: value } of budget?.others ?? [])
    lines.push({
      name,
      title: name,
      components: [],
      allocated,
      ...judged(value === null ? null : exactly(value), allocated),
      distinguishable: true,
      counted: true,
      otherwise: null,
    });
  const tolerance = Math.min(
    ...definition.stations.flatMap(({ requirement }) => requirement.checkPoints.map((p) => p.tolerance)),
  );
  const allocatedSums = sums(lines.flatMap(({ allocated }) => allocated ?? []));
  const foundSums = sums(lines.flatMap((line) => (line.counted ? (line.found?.value ?? []) : [])));
  const finding = {
    tolerance,
    lines,
    allocated: allocatedSums,
    found: foundSums,
    left: {
      worstCase: tolerance - foundSums.worstCase,
      rootSumSquare: tolerance - foundSums.rootSumSquare,
    },
  };
  const { text: sentence, figures } = readFigures(budgetSentence(finding, budget !== null));
  return { ...finding, sentence, figures };
}

/** What one or several causes use up. */
interface Use {
  readonly found: Estimate | null;
  readonly distinguishable: boolean;
}

const NOTHING_FOUND: Use = { found: null, distinguishable: false };

function certain(found: Estimate): Use {
  return { found, distinguishable: true };
}

function exactly(value: number): Estimate {
  return { value, standard: 0, low: value, high: value, degreesOfFreedom: null };
}

function allocationOf(name: (typeof BOOKINGS)[number][0], budget: BudgetDefinition | null): number | null {
  if (name === 'harmonics' || name === 'outliers') return null;
  return budget?.lines[name] ?? null;
}

/** Causes that act together at each blade; those that do not stand out widen the interval only. */
function usedTogether(components: readonly Component[], stations: readonly StationDefinition[]): Use {
  const examined = components.filter(({ notExamined, size }) => notExamined === null && size !== null);
  if (examined.length === 0) return NOTHING_FOUND;
  const standing = examined.filter(({ significant }) => significant);
  const value =
    standing.length === 1 && standing[0]!.consumed !== null
      ? standing[0]!.consumed
      : largestPosition(togetherAt(standing), stations);
  const below = Math.hypot(...standing.map(({ size }) => size!.value - size!.low));
  const above = Math.hypot(
    ...examined.map(({ size, significant }) => (significant ? size!.high - size!.value : size!.high)),
  );
  const degrees = examined.length === 1 ? examined[0]!.size!.degreesOfFreedom : null;
  return {
    found: {
      value,
      standard: Math.hypot(...examined.map(({ size }) => size!.standard)),
      low: Math.max(0, value - below),
      high: value + above,
      degreesOfFreedom: degrees,
    },
    distinguishable: standing.length > 0,
  };
}

/** Harmonics of the index that stand out, with the scatter of single stations about them. */
function indexUse(
  component: Component | undefined,
  scatter: Scatter,
  index: readonly IndexStation[],
  { stations, uncertainty: { coverage } }: PartDefinition,
): Use {
  if (component === undefined || component.notExamined !== null) return NOTHING_FOUND;
  const { significant, size } = component;
  const { value, low, high, scatterStandsOut } = indexPosition(
    scatter.index,
    index,
    significant ? togetherAt([component]) : new Map(),
    stations,
    index.length - 1 - component.dimensions,
    coverage,
  );
  const below = significant && size !== null ? size.value - size.low : 0;
  // Harmonics that do not stand out and scatter are two views of the same deviations: the wider bound holds.
  const above = significant
    ? value + Math.hypot(high - value, (size?.high ?? 0) - (size?.value ?? 0))
    : Math.max(high, size?.high ?? 0);
  const half = (high - low) / 2 / normalQuantile((1 + coverage) / 2);
  return {
    found: {
      value,
      standard: Math.hypot(half, size?.standard ?? 0),
      low: Math.max(0, value - Math.hypot(value - low, below)),
      high: above,
      degreesOfFreedom: null,
    },
    distinguishable: significant || scatterStandsOut,
  };
}

function judged(found: Estimate | null, allocated: number | null): BudgetUse {
  if (found === null || allocated === null) return { found, used: null, state: 'unknown' };
  const state = found.high <= allocated ? 'within' : found.low > allocated ? 'over' : 'undecided';
  return { found, used: allocated === 0 ? null : found.value / allocated, state };
}

/** The common offset booked on the tool instead of the hub; nothing to say where it does not stand out. */
function bookedOtherwise(
  name: string,
  allocated: number | null,
  common: Component | undefined,
  uses: (names: readonly ComponentName[]) => Use,
): BudgetLine['otherwise'] {
  if (!common?.significant) return null;
  if (name === 'frame')
    return {
      words: 'If the common axial and clocking offset is the tool’s, the hub frame uses this.',
      ...judged(uses(['ringShift']).found, allocated),
    };
  if (name === 'toolSetup')
    return {
      words: 'If the common axial and clocking offset is the tool’s, the tool set-up uses this.',
      ...judged(uses(['toolSetup', 'common']).found, allocated),
    };
  return null;
}

function sums(values: readonly number[]): { readonly worstCase: number; readonly rootSumSquare: number } {
  return { worstCase: values.reduce((sum, x) => sum + x, 0), rootSumSquare: Math.hypot(...values) };
}
