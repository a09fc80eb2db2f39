/**
 * P(|δ| ≤ r) for a normal or multivariate t vector δ with independent components in its principal axes.
 *
 * With components m_i + s_i·z_i/w (z_i standard normal, w² = χ²_ν/ν, w = 1 for ν = ∞) the event is
 * Q = Σ(w·m_i + s_i·z_i)² − w²·r² ≤ 0. Averaging e^(−pQ) over z and w gives, with q_i = 1 + 2p·s_i² and
 * g(p) = p·(r² − Σ m_i²/q_i), the transform L(p) = Π q_i^(−1/2)·(1 − 2g/ν)^(−ν/2), e^g for ν = ∞, and
 * P = (1/2πi)·∫ L(p)/p dp along any path from −i∞ to +i∞ that crosses the real axis between 0 and the first
 * singularity of L on the right. One-dimensional for every number of components; those without deviation only shorten r to the half chord.
 *
 * The path crosses at the saddle point p₀ of L(p)/p and leaves it along two straight rays, tilted to the left by the angle
 * τ from the vertical. Along them |L| never rises: for u = p − p₀ with Re u < 0, |q_i + 2s_i²u| ≥ q_i·cos τ, so that
 * Re g(p₀ + u) − g(p₀) ≤ −|Re u|·(r² − Σ m_i²/(q_i²·cos²τ)), which is not positive while tan²τ ≤ g'(p₀)/Σ(m_i²/q_i²); and
 * g'(p₀) > 0 at the saddle. All of it is smooth and decays, so adaptive quadrature gives P to the stated absolute error.
 *
 * Sources: S. O. Rice, Distribution of quadratic forms in normal random variables – evaluation by numerical integration, SIAM
 * J. Sci. Stat. Comput. 1 (1980) 438–448 (integration through the saddle point); J. P. Imhof, Biometrika 48 (1961) 419–426
 * (the transform). The tilt and the averaging over w are our own.
 */
import { integrate } from './quadrature.ts';
import { findRoot } from './root.ts';

/** Absolute error of P unless less is asked for. */
export const FULL_ACCURACY = 1e-12;
/** Largest tan τ, 30° from the vertical: at the saddle the integrand then still falls off as a Gaussian. */
const LARGEST_TILT = 0.577;
/** Share of the bound on tan²τ that is used, so that |L| does not merely stay level. */
const TILT_SHARE = 0.5;
/** The saddle point need not be exact, only near; the integral is the same for every crossing. */
const SADDLE_TOLERANCE = 0.01;
/** Ends of the first panels along a ray grow by this factor, starting from p₀, the distance of the pole. */
const PANEL_GROWTH = 4;
/** The ray ends where the integrand times the distance, which bounds the rest up to a small factor, is below this part of the error. */
const NEGLIGIBLE = 1e-4;
/** Below exp(−40) = 4e-18 the probability is zero to double precision. */
const NEGLIGIBLE_EXPONENT = -40;
/** Roundings of the exponent near the saddle point, with a margin. */
const ROUNDINGS = 8;
/** In largest deviations: below, P is zero to within the tolerance, and squares could underflow. */
const SMALLEST_RADIUS = 1e-13;
/** Normal components more than this many largest deviations from the sphere leave P within 3e-15 of 0 or 1. */
const FAR = 8.5;

export interface PrincipalDistribution {
  /** s_i: standard deviations (scales of t) along the principal axes, ascending, one to three. */
  readonly deviations: readonly number[];
  /** m_i: means along them. */
  readonly means: readonly number[];
}

/**
 * P(Σ δ_i² ≤ r²), absolute error below `accuracy`, or what a relative rounding of 1e-15 of r and the means makes of P where they are
 * many thousands of deviations.
 *
 * @param r in the unit of the deviations; 0 for r < 0.
 * @param degreesOfFreedom ν > 0, ∞ for normal components.
 * @param accuracy no less than the default of 1e-12.
 */
export function ballProbability(
  r: number,
  { deviations, means }: PrincipalDistribution,
  degreesOfFreedom: number,
  accuracy = FULL_ACCURACY,
): number {
  const widest = deviations.at(-1)!;
  const distance = Math.hypot(...means);
  if (widest === 0) return distance <= r ? 1 : 0;
  if (r <= 0) return 0;
  if (degreesOfFreedom === Number.POSITIVE_INFINITY) {
    if (r - distance > FAR * widest) return 1;
    if (distance - r > FAR * widest) return 0;
  }
  // Components without deviation shorten the radius of the others, to the half chord.
  const uncertain = deviations.flatMap((s, i) => (s > 0 ? [i] : []));
  const certain = Math.hypot(...means.filter((_, i) => deviations[i] === 0));
  if (r <= certain) return 0;
  const chord = certain === 0 ? r : Math.sqrt((r - certain) * (r + certain));
  // The component along the widest axis alone is within the chord with a probability below 0.8·chord/widest.
  if (chord <= SMALLEST_RADIUS * widest) return 0;
  // In units of the largest deviation, so that no square overflows.
  const variances = uncertain.map((i) => (deviations[i]! / widest) ** 2);
  const squares = uncertain.map((i) => (means[i]! / widest) ** 2);
  const limit = (chord / widest) ** 2;

  const saddle = saddlePoint(limit, squares, variances, degreesOfFreedom);
  let attraction = 0;
  for (let i = 0; i < squares.length; i++) attraction += squares[i]! / (1 + 2 * saddle * variances[i]!) ** 2;
  const slope = Math.max(limit - attraction, 0);
  const tilt =
    attraction > 0 ? Math.min(LARGEST_TILT, Math.sqrt((TILT_SHARE * slope) / attraction)) : LARGEST_TILT;
  const cosine = 1 / Math.hypot(1, tilt);
  const sine = tilt * cosine;

  /** Im(L(p)/p·dp/dρ)/π at p = p₀ + ρ·(−sin τ + i·cos τ), or the bound |L(p)/p|. */
  const onRay = (rho: number, wanted: 'value' | 'magnitude'): number => {
    const x = saddle - rho * sine;
    const y = rho * cosine;
    // Σ m²/q, and p·Π q^(1/2).
    let attractionX = 0;
    let attractionY = 0;
    let productX = x;
    let productY = y;
    for (let i = 0; i < squares.length; i++) {
      const v = 2 * variances[i]!;
      const qx = 1 + v * x;
      const qy = v * y;
      const norm = qx * qx + qy * qy;
      attractionX += (squares[i]! * qx) / norm;
      attractionY -= (squares[i]! * qy) / norm;
      // The root with a positive real part, by the part that does not cancel.
      const larger = Math.sqrt(0.5 * (Math.sqrt(norm) + Math.abs(qx)));
      const smaller = (0.5 * qy) / larger;
      const rootX = qx > 0 ? larger : smaller;
      const rootY = qx > 0 ? smaller : larger;
      const turned = productX * rootX - productY * rootY;
      productY = productX * rootY + productY * rootX;
      productX = turned;
    }
    const rest = limit - attractionX;
    let gx = x * rest + y * attractionY;
    let gy = y * rest - x * attractionY;
    if (degreesOfFreedom !== Number.POSITIVE_INFINITY) {
      const a = (-2 * gx) / degreesOfFreedom;
      const b = (-2 * gy) / degreesOfFreedom;
      gx = -0.25 * degreesOfFreedom * logNormBesideOne(a, b);
      gy = -0.5 * degreesOfFreedom * Math.atan2(b, 1 + a);
    }
    const square = productX * productX + productY * productY;
    if (wanted === 'magnitude') return Math.exp(gx) / Math.sqrt(square);
    // e^(i·gy)·(cos τ + i·sin τ)/product.
    const alongX = cosine * productX + sine * productY;
    const alongY = sine * productX - cosine * productY;
    return (Math.exp(gx) * (Math.cos(gy) * alongX - Math.sin(gy) * alongY)) / (square * Math.PI);
  };
  const magnitude = (rho: number): number => onRay(rho, 'magnitude');

  // What rounding the limit and the means does to the exponent, and so to P whatever the method.
  const noise = ROUNDINGS * Number.EPSILON * saddle * (limit + squares.reduce((sum, m) => sum + m, 0));
  if (Math.log(magnitude(0) * saddle) < NEGLIGIBLE_EXPONENT) return 0;
  const breaks = [0];
  for (let end = saddle; ; end *= PANEL_GROWTH) {
    breaks.push(end);
    if (!(magnitude(end) * end > NEGLIGIBLE * accuracy)) break;
  }
  // Half of what is promised, the rest is for rounding and the ends of the rays.
  return Math.min(
    Math.max(
      integrate((rho) => onRay(rho, 'value'), breaks, accuracy / 2 + noise),
      0,
    ),
    1,
  );
}

/** ln((1 + a)² + b²), with small a and b in full: where ν is large, the rounding of 1 + a would be multiplied by ν. */
function logNormBesideOne(a: number, b: number): number {
  return Math.log1p(a * (2 + a) + b * b);
}

/** p₀ > 0 with d ln(L(p)/p)/dp = 0, roughly. */
function saddlePoint(
  limit: number,
  squares: readonly number[],
  variances: readonly number[],
  degreesOfFreedom: number,
): number {
  const growth = (logP: number): number => {
    const p = Math.exp(logP);
    let g = p * limit;
    let slope = p * limit;
    let decay = 1;
    for (let i = 0; i < squares.length; i++) {
      const q = 1 + 2 * p * variances[i]!;
      g -= (p * squares[i]!) / q;
      slope -= (p * squares[i]!) / (q * q);
      decay += (p * variances[i]!) / q;
    }
    const left = 1 - (2 * g) / degreesOfFreedom;
    return left > 0 ? slope / left - decay : Number.POSITIVE_INFINITY;
  };
  let lower = -Math.log(limit + squares.reduce((sum, m) => sum + m, 1));
  while (growth(lower) > 0) lower -= 2;
  let upper = lower + 2;
  while (growth(upper) < 0) {
    lower = upper;
    upper += 2;
  }
  // The bracket is of logarithms, and findRoot's tolerance is relative: shift it away from zero.
  return Math.exp(
    findRoot((shifted) => growth(shifted + lower - 1), 1, upper - lower + 1, SADDLE_TOLERANCE) + lower - 1,
  );
}
