/**
 * How much each error differs from tool to tool, and how it goes with the age of the tools. Every weld counts alike, so this is what a
 * person would find from the points shown; the joint fit with all covariances decides on causes.
 */
import { ERRORS } from '../pose/error-names.ts';
import type { Estimate, SequenceFinding, ToolVariance, Vec6 } from './findings.ts';
import { fittedMean, linearRegression } from './regression.ts';
import { oneWayAnalysis } from './variance-analysis.ts';

type Weld = SequenceFinding['welds'][number];
type MeasuredWeld = Weld & { readonly error: Vec6 };

/**
 * One-way analysis of variance of each error over the tools. The wear common to them is taken out first where ages tell it, by the
 * regression error = level of the tool + wear · age; F then counts the wear as known, but for its degree of freedom.
 *
 * @param coverage of the interval of the wear.
 * @returns none where there is one tool, or fewer than two welds more than tools.
 */
export function toolToTool(welds: readonly Weld[], coverage: number): readonly ToolVariance[] {
  const known = welds.filter(isMeasured);
  const tools = toolsOf(known);
  if (tools.length < 2 || known.length < tools.length + 2) return [];
  const aged = tools.some((tool) => new Set(known.filter((w) => w.tool === tool).map((w) => w.age)).size > 1);
  return ERRORS.map((error, k) => {
    const wear = aged ? wearOf(known, tools, k, coverage) : null;
    const groups = tools.map((tool) =>
      known
        .filter((weld) => weld.tool === tool)
        .map((weld) => weld.error[k]! - (wear?.value ?? 0) * weld.age),
    );
    const { statistic, between, within, probability, betweenDeviation, standardDeviation } = oneWayAnalysis(
      groups,
      aged ? 1 : 0,
    );
    return {
      error,
      between: betweenDeviation,
      within: standardDeviation,
      statistic,
      numerator: between.degreesOfFreedom,
      denominator: within.degreesOfFreedom,
      probability,
      wear,
    };
  });
}

function isMeasured(weld: Weld): weld is MeasuredWeld {
  return weld.error !== null;
}

function toolsOf(welds: readonly Weld[]): readonly string[] {
  return [...new Set([...welds].sort((a, b) => a.sequence - b.sequence).map(({ tool }) => tool))];
}

/** Slope of an error by the age of the tools, each tool with a level of its own. */
function wearOf(
  welds: readonly MeasuredWeld[],
  tools: readonly string[],
  k: number,
  coverage: number,
): Estimate {
  const fit = linearRegression(
    welds.map(({ tool, age }) => [...tools.map((name) => (name === tool ? 1 : 0)), age]),
    welds.map(({ error }) => error[k]!),
  );
  return fittedMean(fit, [...tools.map(() => 0), 1], coverage);
}
