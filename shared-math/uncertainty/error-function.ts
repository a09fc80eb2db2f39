/**
 * Complementary error function, the kernel of the normal distribution.
 * Source: W. J. Cody, Rational Chebyshev approximations for the error function, Math. Comp. 23 (1969) 631–637, with the
 * coefficients of his CALERF; relative error about 2e-16 over the whole range.
 */

const NEAR = {
  p: [3.1611237438705655, 113.86415415105016, 377.485237685302, 3209.3775891384694, 0.18577770618460315],
  q: [23.601290952344122, 244.02463793444417, 1282.6165260773723, 2844.236833439171],
} as const;

const MIDDLE = {
  p: [
    0.5641884969886701, 8.883149794388377, 66.11919063714163, 298.6351381974001, 881.952221241769,
    1712.0476126340707, 2051.0783778260716, 1230.3393547979972, 2.1531153547440383e-8,
  ],
  q: [
    15.744926110709835, 117.6939508913125, 537.1811018620099, 1621.3895745666903, 3290.7992357334597,
    4362.619090143247, 3439.3676741437216, 1230.3393548037495,
  ],
} as const;

const FAR = {
  p: [
    0.30532663496123236, 0.36034489994980445, 0.12578172611122926, 0.016083785148742275,
    0.0006587491615298378, 0.016315387137302097,
  ],
  q: [2.568520192289822, 1.8729528499234673, 0.5279051029514285, 0.06051834131244132, 0.0023352049762686918],
} as const;

const INVERSE_SQRT_PI = 0.5641895835477563;

/** Beyond it erfc underflows to zero. */
const LARGEST = 27;

/** Ratio of the two polynomials; the last entry of p is the coefficient of the highest power, q is monic. */
function ratio(p: readonly number[], q: readonly number[], x: number): number {
  let numerator = p[p.length - 1]! * x;
  let denominator = x;
  const last = q.length - 1;
  for (let i = 0; i < last; i++) {
    numerator = (numerator + p[i]!) * x;
    denominator = (denominator + q[i]!) * x;
  }
  return (numerator + p[last]!) / (denominator + q[last]!);
}

/** exp(−x²) without the rounding error of x²: x is split into a short part, whose square is exact, and a rest. */
function gaussian(x: number): number {
  const short = Math.trunc(x * 16) / 16;
  return Math.exp(-short * short) * Math.exp(-(x - short) * (x + short));
}

/** erfc(x) = 2/√π·∫_x^∞ exp(−t²) dt, in [0, 2]; relative error about 2e-16, also far out in the upper tail. */
export function erfc(x: number): number {
  const y = Math.abs(x);
  if (y <= 0.46875) return 1 - x * ratio(NEAR.p, NEAR.q, y * y);
  let tail = 0;
  if (y <= 4) tail = gaussian(y) * ratio(MIDDLE.p, MIDDLE.q, y);
  else if (y < LARGEST) {
    const inverse = 1 / (y * y);
    tail = (gaussian(y) * (INVERSE_SQRT_PI - inverse * ratio(FAR.p, FAR.q, inverse))) / y;
  } else if (Number.isNaN(x)) return Number.NaN;
  return x < 0 ? 2 - tail : tail;
}
