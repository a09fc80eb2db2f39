/**
 * Adaptive integration of a smooth function over panels.
 * Source: R. Piessens et al., QUADPACK (1983): the pair of a 7-point Gauss and a 15-point Kronrod rule. The error of the
 * Kronrod value is taken to be its difference from the Gauss value, which for smooth integrands is far too large; the
 * sharper laws in use are guesses that were seen to fail here by a factor of ten. The panel with the largest error is halved
 * until the sum of errors is small enough.
 */
import { ReductionError } from '../errors.ts';

const KRONROD_NODES = [
  0.9914553711208126, 0.9491079123427585, 0.8648644233597691, 0.7415311855993945, 0.5860872354676911,
  0.4058451513773972, 0.20778495500789848, 0,
] as const;
const KRONROD_WEIGHTS = [
  0.022935322010529224, 0.06309209262997856, 0.10479001032225019, 0.14065325971552592, 0.1690047266392679,
  0.19035057806478542, 0.20443294007529889, 0.20948214108472782,
] as const;
/** Weights of the Gauss nodes, which are the Kronrod nodes 1, 3, 5, 7. */
const GAUSS_WEIGHTS = [
  0.1294849661688697, 0.27970539148927664, 0.3818300505051189, 0.4179591836734694,
] as const;

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
  for (let i = 0; i < 8; i++) {
    const offset = half * KRONROD_NODES[i]!;
    const sum = i === 7 ? f(centre) : f(centre - offset) + f(centre + offset);
    kronrod += KRONROD_WEIGHTS[i]! * sum;
    if (i % 2 === 1) gauss += GAUSS_WEIGHTS[(i - 1) / 2]! * sum;
  }
  return { from, to, value: half * kronrod, error: Math.abs(half * (kronrod - gauss)) };
}

/** A smooth integrand needs some ten panels; one that needs more than these has a step that no break shows. */
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
