/**
 * Adaptive integration of a smooth function over panels.
 * Source: R. Piessens et al., QUADPACK (1983): the pair of a 15-point Gauss and a 31-point Kronrod rule (nodes and weights were
 * computed anew with 80 digits: zeros of the Legendre and Stieltjes polynomials). The error of the Kronrod value is taken to be
 * its difference from the Gauss value, which for smooth integrands is far too large; the sharper laws in use are guesses that
 * were seen to fail here by a factor of ten. The panel with the largest error is halved until the sum of errors is small enough.
 * A pair of higher order than the customary 7 and 15 points takes half the values of the integrand at full accuracy.
 */
import { ReductionError } from '../errors.ts';

const KRONROD_NODES = [
  0.9980022986933971, 0.9879925180204854, 0.9677390756791391, 0.937273392400706, 0.8972645323440819,
  0.8482065834104272, 0.790418501442466, 0.7244177313601701, 0.650996741297417, 0.5709721726085388,
  0.4850818636402397, 0.3941513470775634, 0.29918000715316884, 0.20119409399743451, 0.1011420669187175, 0,
] as const;
const KRONROD_WEIGHTS = [
  0.005377479872923349, 0.015007947329316122, 0.02546084732671532, 0.03534636079137585, 0.04458975132476488,
  0.05348152469092809, 0.06200956780067064, 0.06985412131872826, 0.07684968075772038, 0.08308050282313302,
  0.08856444305621176, 0.09312659817082532, 0.09664272698362368, 0.09917359872179196, 0.10076984552387559,
  0.10133000701479154,
] as const;
/** Weights of the Gauss nodes, which are the Kronrod nodes 1, 3, 5 … 15. */
const GAUSS_WEIGHTS = [
  0.03075324199611727, 0.07036604748810812, 0.10715922046717194, 0.13957067792615432, 0.16626920581699392,
  0.1861610000155622, 0.19843148532711158, 0.2025782419255613,
] as const;
/** Of the middle of the panel. */
const CENTRE = KRONROD_NODES.length - 1;

interface Panel {
  readonly from: number;
  readonly to: number;
  readonly value: number;
  readonly error: number;
}

function integratePanel(f: (x: number) => number, from: number, to: number): Panel {
  const centre = 0.5 * (from + to);
  const half = 0.5 * (to - from);
  let kronrod = 0;
  let gauss = 0;
  for (let i = 0; i <= CENTRE; i++) {
    const offset = half * KRONROD_NODES[i]!;
    const sum = i === CENTRE ? f(centre) : f(centre - offset) + f(centre + offset);
    kronrod += KRONROD_WEIGHTS[i]! * sum;
    if (i % 2 === 1) gauss += GAUSS_WEIGHTS[(i - 1) / 2]! * sum;
  }
  return { from, to, value: half * kronrod, error: Math.abs(half * (kronrod - gauss)) };
}

/** A smooth integrand needs some five panels; one that needs more than these has a step that no break shows. */
const MOST_PANELS = 400;

/**
 * ∫ f over [breaks[0], breaks[last]].
 *
 * @param f finite on the open interval; a scale that f has should show in the breaks, or it may be overlooked.
 * @param breaks ascending, at least two; the first panels lie between them.
 * @param tolerance absolute.
 * @throws ReductionError `not-converged` where the tolerance is not reached.
 */
export function integrate(f: (x: number) => number, breaks: readonly number[], tolerance: number): number {
  const panels: Panel[] = [];
  for (let i = 1; i < breaks.length; i++)
    if (breaks[i]! > breaks[i - 1]!) panels.push(integratePanel(f, breaks[i - 1]!, breaks[i]!));
  for (;;) {
    let error = 0;
    let value = 0;
    let worst = 0;
    for (let i = 0; i < panels.length; i++) {
      error += panels[i]!.error;
      value += panels[i]!.value;
      if (panels[i]!.error > panels[worst]!.error) worst = i;
    }
    if (error <= tolerance) return value;
    if (!(panels.length < MOST_PANELS))
      throw new ReductionError('not-converged', `An integral was not found to within ${tolerance}.`);
    const { from, to } = panels[worst]!;
    const middle = 0.5 * (from + to);
    panels[worst] = integratePanel(f, from, middle);
    panels.push(integratePanel(f, middle, to));
  }
}
