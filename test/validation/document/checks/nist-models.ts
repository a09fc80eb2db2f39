/** Models of the NIST nonlinear regression sets: value and derivatives by the parameters, in one array. */

/** [value, ∂value/∂b1, ∂value/∂b2, …] at x (Nelson: x is a pair, and the value is log y). */
export type NistModel = (b: readonly number[], x: number, second: number) => number[];

const { exp, log, cos, sin, atan, sqrt, PI } = Math;

/** Polynomial of `top` coefficients over one of the rest with the constant 1. */
function rational(top: number): NistModel {
  return (b, x) => {
    const numerator = b.slice(0, top).reduceRight((sum, c) => sum * x + c, 0);
    const denominator = b.slice(top).reduceRight((sum, c) => sum * x + c, 0) * x + 1;
    const value = numerator / denominator;
    return [
      value,
      ...b.map((_, j) => (j < top ? x ** j / denominator : (-value * x ** (j - top + 1)) / denominator)),
    ];
  };
}

const decay: NistModel = ([b1, b2, b3] = [], x) => {
  const bottom = b2! + b3! * x;
  const value = exp(-b1! * x) / bottom;
  return [value, -x * value, -value / bottom, (-x * value) / bottom];
};

const saturation: NistModel = ([b1, b2] = [], x) => {
  const e = exp(-b2! * x);
  return [b1! * (1 - e), 1 - e, b1! * x * e];
};

const gaussianPeaks: NistModel = ([b1, b2, b3, b4, b5, b6, b7, b8] = [], x) => {
  const e = exp(-b2! * x);
  const peak = (height: number, centre: number, width: number): number[] => {
    const z = (x - centre) / width;
    const shape = exp(-z * z);
    return [height * shape, shape, (2 * height * shape * z) / width, (2 * height * shape * z * z) / width];
  };
  const [v1, ...g1] = peak(b3!, b4!, b5!);
  const [v2, ...g2] = peak(b6!, b7!, b8!);
  return [b1! * e + v1! + v2!, e, -x * b1! * e, ...g1, ...g2];
};

const threeExponentials: NistModel = (b, x) => {
  const terms = [0, 2, 4].map((k) => [b[k]!, exp(-b[k + 1]! * x)] as const);
  return [terms.reduce((sum, [a, e]) => sum + a * e, 0), ...terms.flatMap(([a, e]) => [e, -x * a * e])];
};

export const NIST_MODELS: Readonly<Record<string, NistModel>> = {
  Bennett5: ([b1, b2, b3] = [], x) => {
    const power = (b2! + x) ** (-1 / b3!);
    return [
      b1! * power,
      power,
      (-b1! * power) / (b3! * (b2! + x)),
      (b1! * power * log(b2! + x)) / (b3! * b3!),
    ];
  },
  BoxBOD: saturation,
  Chwirut1: decay,
  Chwirut2: decay,
  DanWood: ([b1, b2] = [], x) => [b1! * x ** b2!, x ** b2!, b1! * x ** b2! * log(x)],
  ENSO: ([b1, b2, b3, b4, b5, b6, b7, b8, b9] = [], x) => {
    const cycle = (period: number, c: number, s: number): number[] => {
      const angle = (2 * PI * x) / period;
      const slope = (angle / period) * (c * sin(angle) - s * cos(angle));
      return [c * cos(angle) + s * sin(angle), slope, cos(angle), sin(angle)];
    };
    const [v0, , ...g0] = cycle(12, b2!, b3!);
    const [v1, ...g1] = cycle(b4!, b5!, b6!);
    const [v2, ...g2] = cycle(b7!, b8!, b9!);
    return [b1! + v0! + v1! + v2!, 1, ...g0, ...g1, ...g2];
  },
  Eckerle4: ([b1, b2, b3] = [], x) => {
    const z = (x - b3!) / b2!;
    const shape = exp(-0.5 * z * z) / b2!;
    return [b1! * shape, shape, (b1! * shape * (z * z - 1)) / b2!, (b1! * shape * z) / b2!];
  },
  Gauss1: gaussianPeaks,
  Gauss2: gaussianPeaks,
  Gauss3: gaussianPeaks,
  Hahn1: rational(4),
  Kirby2: rational(3),
  Lanczos1: threeExponentials,
  Lanczos2: threeExponentials,
  Lanczos3: threeExponentials,
  MGH09: ([b1, b2, b3, b4] = [], x) => {
    const top = x * x + x * b2!;
    const bottom = x * x + x * b3! + b4!;
    const value = (b1! * top) / bottom;
    return [value, top / bottom, (b1! * x) / bottom, (-value * x) / bottom, -value / bottom];
  },
  MGH10: ([b1, b2, b3] = [], x) => {
    const e = exp(b2! / (x + b3!));
    return [b1! * e, e, (b1! * e) / (x + b3!), (-b1! * b2! * e) / (x + b3!) ** 2];
  },
  MGH17: ([b1, b2, b3, b4, b5] = [], x) => {
    const [e4, e5] = [exp(-x * b4!), exp(-x * b5!)];
    return [b1! + b2! * e4 + b3! * e5, 1, e4, e5, -x * b2! * e4, -x * b3! * e5];
  },
  Misra1a: saturation,
  Misra1b: ([b1, b2] = [], x) => {
    const u = 1 + (b2! * x) / 2;
    return [b1! * (1 - u ** -2), 1 - u ** -2, b1! * x * u ** -3];
  },
  Misra1c: ([b1, b2] = [], x) => {
    const u = 1 + 2 * b2! * x;
    return [b1! * (1 - 1 / sqrt(u)), 1 - 1 / sqrt(u), (b1! * x) / (u * sqrt(u))];
  },
  Misra1d: ([b1, b2] = [], x) => {
    const u = 1 + b2! * x;
    return [(b1! * b2! * x) / u, (b2! * x) / u, (b1! * x) / (u * u)];
  },
  Nelson: ([b1, b2, b3] = [], x1, x2) => {
    const e = exp(-b3! * x2);
    return [b1! - b2! * x1 * e, 1, -x1 * e, b2! * x1 * x2 * e];
  },
  Rat42: ([b1, b2, b3] = [], x) => {
    const e = exp(b2! - b3! * x);
    const slope = (b1! * e) / (1 + e) ** 2;
    return [b1! / (1 + e), 1 / (1 + e), -slope, x * slope];
  },
  Rat43: ([b1, b2, b3, b4] = [], x) => {
    const e = exp(b2! - b3! * x);
    const power = (1 + e) ** (-1 / b4!);
    const slope = (-b1! * power * e) / (b4! * (1 + e));
    return [b1! * power, power, slope, -x * slope, (b1! * power * log(1 + e)) / (b4! * b4!)];
  },
  Roszman1: ([b1, b2, b3, b4] = [], x) => {
    const u = b3! / (x - b4!);
    const slope = -1 / (PI * (1 + u * u) * (x - b4!));
    return [b1! - b2! * x - atan(u) / PI, 1, -x, slope, slope * u];
  },
  Thurber: rational(4),
};
