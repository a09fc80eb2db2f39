/**
 * The six errors against the weld sequence: one line for each tool with a wear common to all of them, and how much the tools differ.
 * Every weld counts alike, so these are what a person would draw through the points shown; the joint fit with all covariances
 * decides on causes.
 */
import { ERRORS } from '../stations/describe-uncertainty.ts';
import type { SequenceFinding, ToolVariance, Vec6 } from './findings.ts';
import { fittedMean, linearRegression, type Regression } from './regression.ts';
import { oneWayAnalysis } from './variance-analysis.ts';

type Weld = SequenceFinding['welds'][number];
type MeasuredWeld = Weld & { readonly error: Vec6 };

/**
 * For each error the line of each tool, error = level of the tool + wear · age, at its first and last weld with the interval of its
 * mean.
 *
 * @param coverage of the intervals.
 * @returns no lines where the welds do not determine them: fewer than two more than there are tools, or all of one age.
 */
export function toolLines(welds: readonly Weld[], coverage: number): SequenceFinding['lines'] {
  const known = welds.filter(isMeasured);
  const tools = toolsOf(known);
  if (!determines(known, tools)) return [];
  return ERRORS.flatMap((error, k) => {
    const fit = fitOf(known, tools, k);
    return tools.map((tool) => {
      const own = welds.filter((weld) => weld.tool === tool).sort((a, b) => a.sequence - b.sequence);
      const at = (weld: Weld) => ({
        sequence: weld.sequence,
        ...fittedMean(fit, rowOf(weld, tools), coverage),
      });
      return { error, tool, from: at(own[0]!), to: at(own.at(-1)!) };
    });
  });
}

/**
 * One-way analysis of variance of each error over the tools, the wear common to them taken out first.
 *
 * @returns none where there is one tool, or too few welds to tell.
 */
export function toolToTool(welds: readonly Weld[]): readonly ToolVariance[] {
  const known = welds.filter(isMeasured);
  const tools = toolsOf(known);
  if (tools.length < 2 || known.length < tools.length + 2) return [];
  const worn = determines(known, tools);
  return ERRORS.map((error, k) => {
    const wear = worn ? fitOf(known, tools, k).coefficients.at(-1)! : 0;
    const groups = tools.map((tool) =>
      known.filter((weld) => weld.tool === tool).map((weld) => weld.error[k]! - wear * weld.age),
    );
    const { statistic, between, within, probability, betweenDeviation, standardDeviation } = oneWayAnalysis(
      groups,
      worn ? 1 : 0,
    );
    return {
      error,
      between: betweenDeviation,
      within: standardDeviation,
      statistic,
      numerator: between.degreesOfFreedom,
      denominator: within.degreesOfFreedom,
      probability,
    };
  });
}

function isMeasured(weld: Weld): weld is MeasuredWeld {
  return weld.error !== null;
}

function toolsOf(welds: readonly Weld[]): readonly string[] {
  return [...new Set([...welds].sort((a, b) => a.sequence - b.sequence).map(({ tool }) => tool))];
}

/** Whether one wear and a level for each tool follow from the welds, with at least one degree of freedom left. */
function determines(welds: readonly Weld[], tools: readonly string[]): boolean {
  const aged = tools.some((tool) => new Set(welds.filter((w) => w.tool === tool).map((w) => w.age)).size > 1);
  return aged && welds.length >= tools.length + 2;
}

function rowOf({ tool, age }: Weld, tools: readonly string[]): readonly number[] {
  return [...tools.map((name) => (name === tool ? 1 : 0)), age];
}

function fitOf(welds: readonly MeasuredWeld[], tools: readonly string[], k: number): Regression {
  return linearRegression(
    welds.map((weld) => rowOf(weld, tools)),
    welds.map(({ error }) => error[k]!),
  );
}
