/**
 * Curve of coverage against truth: how often the upper bound of the position at 95 % lies above the true position, when the
 * measured displacement is the truth plus a normal error of the stated covariance. By construction it is also how often a
 * guarded decision does not accept a part whose true position is at the limit.
 *
 * Run: npx tsx test/validation/scripts/uncertainty-coverage.ts > test/validation/data/uncertainty-coverage.json
 */
import { covarianceFactor } from '../../../shared-math/uncertainty/covariance-factor.ts';
import { positionCdf } from '../../../shared-math/uncertainty/position-distribution.ts';
import { seededGenerator } from '../../../shared-math/uncertainty/random.ts';
import { COVERAGE_CASES, coverageOfUpperBound, truthsAlong } from '../../support/position-coverage.ts';

const TRIALS = 20_000;
const curves = COVERAGE_CASES.map(({ name, covariance, direction, degreesOfFreedom }) => {
  const generator = seededGenerator(20_240_101);
  const factor = covarianceFactor(covariance);
  const points = truthsAlong(direction, factor).map(({ scores, truth }) => ({
    truth: scores,
    coverage: coverageOfUpperBound(
      { truth, covariance, factor, degreesOfFreedom, coverage: 0.95, trials: TRIALS, generator },
      positionCdf,
    ),
  }));
  return { name, covariance, direction, degreesOfFreedom, points };
});
process.stdout.write(
  `${JSON.stringify({ coverage: 0.95, trials: TRIALS, unitOfTruth: 'largest standard deviation', curves }, null, 1)}\n`,
);
