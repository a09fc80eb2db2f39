/**
 * Root of a continuous function in a bracket.
 * Source: T. R. Chandrupatla, A new hybrid quadratic/bisection algorithm for finding the zero of a nonlinear function without
 * using derivatives, Advances in Engineering Software 28 (1997) 145–149.
 */
import { ReductionError } from '../errors.ts';

/** Bisection alone would need 2100 halvings between the smallest and the largest double; the hybrid needs about ten. */
const MOST_STEPS = 300;

/**
 * The x between `lower` and `upper` where f changes its sign.
 *
 * @param f continuous; f(lower) and f(upper) of opposite sign, or one of them zero. Infinite values are allowed at the ends.
 * @param tolerance half-width of the final bracket, relative to |x|; rounding is the least that can be reached.
 * @throws ReductionError `invalid-argument` where f does not change its sign, `not-converged` where f is NaN.
 */
export function findRoot(
  f: (x: number) => number,
  lower: number,
  upper: number,
  tolerance = Number.EPSILON,
): number {
  let a = upper;
  let b = lower;
  let fa = f(a);
  let fb = f(b);
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (fa > 0 === fb > 0)
    throw new ReductionError('invalid-argument', `No change of sign between ${lower} and ${upper}.`);
  let c = a;
  let fc = fa;
  let t = 0.5;
  for (let i = 0; i < MOST_STEPS; i++) {
    const x = a + t * (b - a);
    const fx = f(x);
    if (Number.isNaN(fx)) break;
    if (fx > 0 === fa > 0) {
      c = a;
      fc = fa;
    } else {
      c = b;
      fc = fb;
      b = a;
      fb = fa;
    }
    a = x;
    fa = fx;
    const best = Math.abs(fa) < Math.abs(fb) ? a : b;
    const least = (Math.max(tolerance, Number.EPSILON) * Math.abs(best) + Number.MIN_VALUE) / Math.abs(b - a);
    if (fa === 0 || least > 0.5) return best;
    const xi = (a - b) / (c - b);
    const phi = (fa - fb) / (fc - fb);
    const quadratic = phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi && Number.isFinite(fa + fb + fc);
    t = quadratic
      ? (fa / (fb - fa)) * (fc / (fb - fc)) + (((c - a) / (b - a)) * (fa / (fc - fa)) * fb) / (fc - fb)
      : 0.5;
    t = Math.min(Math.max(t, least), 1 - least);
  }
  throw new ReductionError('not-converged', `The search for a root between ${lower} and ${upper} failed.`);
}
