/** Computes all chapters of the validation document, in their order. */
import type { Chapter } from './check.ts';
import { coverage } from './checks/coverage.ts';
import { criteria } from './checks/criteria.ts';
import { decisionRules } from './checks/decision.ts';
import { distributions } from './checks/distributions.ts';
import { geometry } from './checks/geometry.ts';
import { gum } from './checks/gum.ts';
import { independentDiscs } from './checks/independent-discs.ts';
import { monteCarlo } from './checks/monte-carlo.ts';
import { nistNonlinear } from './checks/nist-nonlinear.ts';
import { nistStatistics } from './checks/nist-statistics.ts';
import { pattern } from './checks/pattern.ts';
import { pitch } from './checks/pitch.ts';
import { positionTable } from './checks/position-table.ts';
import { publishedFits } from './checks/published-fits.ts';
import { randomConfigurations } from './checks/random-configurations.ts';
import { randomOrientation } from './checks/random-orientation.ts';
import { regression } from './checks/regression.ts';
import { varianceAnalysis } from './checks/variance-analysis.ts';

export async function buildChapters(): Promise<readonly Chapter[]> {
  return [
    publishedFits(),
    randomConfigurations(),
    randomOrientation(),
    criteria(),
    geometry(),
    nistNonlinear(),
    nistStatistics(),
    regression(),
    varianceAnalysis(),
    pitch(),
    positionTable(),
    pattern(),
    gum(),
    monteCarlo(),
    decisionRules(),
    distributions(),
    await independentDiscs(),
    coverage(),
  ];
}
