/**
 * Regularised incomplete gamma and beta functions.
 *
 * Sources: NIST Digital Library of Mathematical Functions, 8.11.4 (series), 8.9.2 (continued fraction of Γ(a, x)), 8.17.22 and
 * A. R. DiDonato, A. H. Morris, Algorithm 708, ACM TOMS 18 (1992) 360–373 (continued fraction of I_x(a, b)); W. J. Lentz, Applied Optics 15 (1976) 668 in the form of Thompson and Barnett (how the
 * fractions are summed); C. Loader, Fast and accurate computation of binomial probabilities (2000) (the leading factors
 * without the cancellation of logarithms of gamma functions).
 */

/** Terms of a series or fraction that no longer change a double. */
const CONVERGED = 2.3e-16;
/** About 20·√a terms are needed for large a; this serves a up to 1e9. */
const MOST_TERMS = 1_000_000;
/** Stands for zero in Lentz's algorithm. */
const TINY = 1e-300;

/** Coefficients of Stirling's series for ln Γ: 1/12, −1/360, 1/1260 … (DLMF 5.11.1). */
const STIRLING = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360360, 1 / 156] as const;
/** From here seven terms of the series are below 1e-17. */
const STIRLING_FROM = 15;

/** δ(x) = ln Γ(x + 1) − (x + ½)·ln x + x − ½·ln 2π for x > 0. */
function stirlingError(x: number): number {
  return x === 0.5 ? STIRLING_ERROR_OF_HALF : stirlingSeries(x);
}

function stirlingSeries(x: number): number {
  let sum = 0;
  let n = x;
  for (; n < STIRLING_FROM; n++) sum += (n + 0.5) * Math.log1p(1 / n) - 1;
  let series = 0;
  for (let i = STIRLING.length - 1; i >= 0; i--) series = STIRLING[i]! + series / (n * n);
  return sum + series / n;
}

/** Every value of Student's distribution needs it, and it takes fifteen logarithms. */
const STIRLING_ERROR_OF_HALF = stirlingSeries(0.5);

/** x·ln(x/m) + m − x for x > 0, m ≥ 0, without cancellation where x ≈ m. */
function deviance(x: number, m: number): number {
  const difference = x - m;
  if (Math.abs(difference) >= 0.1 * (x + m)) return x * Math.log(x / m) + m - x;
  const v = difference / (x + m);
  let sum = difference * v;
  let term = 2 * x * v;
  for (let j = 3; ; j += 2) {
    term *= v * v;
    const next = sum + term / j;
    if (next === sum) return sum;
    sum = next;
  }
}

/** x^a·e^(−x)/Γ(a + 1) for a > 0, x > 0. */
function poissonFactor(a: number, x: number): number {
  return Math.exp(-stirlingError(a) - deviance(a, x)) / Math.sqrt(2 * Math.PI * a);
}

/** x^a·y^b·Γ(a + b + 1)/(Γ(a + 1)·Γ(b + 1)) with y = 1 − x. */
function binomialFactor(a: number, b: number, x: number, y: number): number {
  const n = a + b;
  const exponent =
    stirlingError(n) - stirlingError(a) - stirlingError(b) - deviance(a, n * x) - deviance(b, n * y);
  return Math.exp(exponent) * Math.sqrt(n / (2 * Math.PI * a * b));
}

/**
 * Regularised incomplete gamma functions P(a, x) and Q(a, x) = 1 − P, each with small relative error where it is the
 * smaller one.
 *
 * @param a shape, > 0. @param x ≥ 0.
 */
export function incompleteGamma(a: number, x: number): { readonly lower: number; readonly upper: number } {
  if (x <= 0) return { lower: 0, upper: 1 };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  const factor = poissonFactor(a, x);
  if (x < a + 1) {
    let term = 1;
    let sum = 1;
    for (let n = 1; n < MOST_TERMS && term > CONVERGED * sum; n++) {
      term *= x / (a + n);
      sum += term;
    }
    const lower = factor * sum;
    return { lower, upper: 1 - lower };
  }
  let b = x + 1 - a;
  let c = 1 / TINY;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; n < MOST_TERMS; n++) {
    const coefficient = -n * (n - a);
    b += 2;
    d = 1 / nonzero(coefficient * d + b);
    c = nonzero(b + coefficient / c);
    const step = c * d;
    fraction *= step;
    if (Math.abs(step - 1) < CONVERGED) break;
  }
  const upper = factor * a * fraction;
  return { lower: 1 - upper, upper };
}

/**
 * Regularised incomplete beta function I_x(a, b) and its complement. Both x and y = 1 − x are asked for, so that a caller
 * who knows the smaller one exactly loses nothing.
 *
 * @param a > 0. @param b > 0. @param x in [0, 1]. @param y 1 − x.
 */
export function incompleteBeta(
  a: number,
  b: number,
  x: number,
  y: number,
): { readonly lower: number; readonly upper: number } {
  if (x <= 0) return { lower: 0, upper: 1 };
  if (y <= 0) return { lower: 1, upper: 0 };
  if (x > (a + 1) / (a + b + 2)) {
    const upper = smallerBeta(b, a, y, x);
    return { lower: 1 - upper, upper };
  }
  const lower = smallerBeta(a, b, x, y);
  return { lower, upper: 1 - lower };
}

/** I_x(a, b) for x up to about (a + 1)/(a + b + 2), where its fraction converges quickly. */
function smallerBeta(a: number, b: number, x: number, y: number): number {
  return (binomialFactor(a, b, x, y) * a * b) / (a + b) / betaFraction(a, b, x, y);
}

/** x^a·y^b/B(a, b) over I_x(a, b), a fraction whose partial denominators do not cancel where x is close to 1. */
function betaFraction(a: number, b: number, x: number, y: number): number {
  const slope = a * y - b * x + 1;
  let fraction = nonzero((a * slope) / (a + 1));
  let c = fraction;
  let d = 0;
  for (let m = 1; m < MOST_TERMS; m++) {
    const odd = a + 2 * m - 1;
    const coefficient = ((((a + m - 1) / odd) * (a + b + m - 1)) / odd) * m * (b - m) * x * x;
    const next = m + (m * (b - m) * x) / odd + ((a + m) / (a + 2 * m + 1)) * (slope + m * (1 + y));
    d = 1 / nonzero(next + coefficient * d);
    c = nonzero(next + coefficient / c);
    const step = c * d;
    fraction *= step;
    if (Math.abs(step - 1) < CONVERGED) break;
  }
  return fraction;
}

function nonzero(value: number): number {
  return Math.abs(value) < TINY ? TINY : value;
}
