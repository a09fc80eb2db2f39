/**
 * Coverage experiment: discs of known truth are measured with noise, reduced, and the truth is looked for in the intervals
 * that the reduction states.
 *
 * Stations of one disc share its hub, so their intervals are not independent. Beside the binomial standard error stands
 * the one from the spread of the discs' shares, which knows of that.
 */
import type {
  CheckPoint,
  DecisionDefinition,
  DiscErrorName,
  ErrorName,
} from '../../shared-math/definition.ts';
import { memberDatums } from '../../shared-math/frame/pattern-fit.ts';
import type { Vec3 } from '../../shared-math/geometry/types.ts';
import { DISC_ERRORS, ERRORS } from '../../shared-math/pose/error-names.ts';
import { reduce } from '../../shared-math/reduce.ts';
import type { StationResult } from '../../shared-math/result.ts';
import { worstVerdict } from '../../shared-math/stations/known-uncertainty.ts';
import { decide } from '../../shared-math/uncertainty/decision.ts';
import { type RandomSource, randomSource } from '../support/random.ts';
import {
  type BladeTruth,
  bladePlacement,
  moved,
  place,
  probe,
  randomPlacement,
  trueErrors,
} from './forward-model.ts';
import { SIGMA, TOLERANCE, type Variant } from './variants.ts';

export const QUANTITIES: readonly (ErrorName | DiscErrorName)[] = [...ERRORS, ...DISC_ERRORS];

/** Just outside the limit, as a multiple of it. */
export const JUST_OUTSIDE = 1.0001;
/** True positions in multiples of the tolerance; the first three stations of a disc lie just outside the limit. */
export const TRUTHS = [0, 0.05, 0.1, 0.2, 0.4, 0.7, JUST_OUTSIDE, 1.5, 2] as const;
const JUST_OUTSIDE_STATIONS = 3;

export const PROBABILITY_RULE: DecisionDefinition = { rule: 'guarded', probability: 0.95 };
export const FACTOR_RULE: DecisionDefinition = { rule: 'guarded', factor: 1 };

/** Successes and trials, disc by disc. */
export class Tally {
  #successes = 0;
  #trials = 0;
  #discs: { successes: number; trials: number }[] = [];

  startDisc(): void {
    this.#discs.push({ successes: 0, trials: 0 });
  }

  count(success: boolean): void {
    const disc = this.#discs.at(-1)!;
    disc.trials++;
    this.#trials++;
    if (!success) return;
    disc.successes++;
    this.#successes++;
  }

  get share(): number {
    return this.#successes / this.#trials;
  }

  report() {
    const { share } = this;
    const spread = this.#discs.reduce((s, d) => s + (d.successes - share * d.trials) ** 2, 0);
    return {
      count: this.#successes,
      of: this.#trials,
      share: rounded(share),
      binomialStandardError: rounded(Math.sqrt((share * (1 - share)) / this.#trials)),
      standardErrorByDiscs: rounded(Math.sqrt(spread) / this.#trials),
    };
  }
}

export type TallyReport = ReturnType<Tally['report']>;

/** Enough digits for a share of some ten thousand. */
function rounded(x: number): number {
  return Number(x.toFixed(5));
}

/** All that is counted, for one variant or for several together. */
export class Counts {
  readonly intervals = new Map(QUANTITIES.map((name) => [name, new Tally()]));
  readonly position = new Map(TRUTHS.map((truth): [number, Tally] => [truth, new Tally()]));
  readonly acceptedByProbability = new Tally();
  readonly acceptedByFactor = new Tally();
  /** Mean of (error/standard uncertainty)², 1 where uncertainties are right on average. */
  readonly #squares = new Map<string, number>();
  #stations = 0;
  discs = 0;

  startDisc(): void {
    this.discs++;
    for (const tally of [...this.intervals.values(), ...this.position.values()]) tally.startDisc();
    this.acceptedByProbability.startDisc();
    this.acceptedByFactor.startDisc();
  }

  station(
    result: StationResult,
    errors: Readonly<Record<ErrorName | DiscErrorName, number>>,
    truth: number,
  ): void {
    this.#stations++;
    const { expanded, standard } = result.uncertainty!;
    const values = { ...result.error, ...result.disc };
    for (const name of QUANTITIES) {
      const off = values[name]! - errors[name];
      this.intervals.get(name)!.count(Math.abs(off) <= expanded[name]!);
      this.#squares.set(name, (this.#squares.get(name) ?? 0) + (off / standard[name]!) ** 2);
    }
    const { value, expanded: toBound } = result.position;
    this.position.get(truth)!.count(value! + toBound! >= truth * TOLERANCE);
    if (truth === JUST_OUTSIDE) {
      this.acceptedByProbability.count(result.position.verdict === 'conforming');
      this.acceptedByFactor.count(verdictByFactor(result) === 'conforming');
    }
  }

  report() {
    return {
      discs: this.discs,
      stations: this.#stations,
      intervals: Object.fromEntries(
        [...this.intervals].map(([name, tally]) => [
          name,
          { ...tally.report(), meanSquareOverVariance: rounded(this.#squares.get(name)! / this.#stations) },
        ]),
      ) as Record<ErrorName | DiscErrorName, TallyReport & { meanSquareOverVariance: number }>,
      position: [...this.position].map(([truth, tally]) => ({ truth, ...tally.report() })),
      acceptedJustOutside: {
        byProbability: this.acceptedByProbability.report(),
        byFactor: this.acceptedByFactor.report(),
      },
    };
  }
}

/** The verdict on the position under the other guarded rule, from the same values as the reduction's own. */
function verdictByFactor({ position }: StationResult) {
  return worstVerdict(
    position.checkPoints.map((c) =>
      decide(FACTOR_RULE, {
        value: c.value!,
        limit: c.tolerance,
        probability: c.probability!,
        expanded: c.expanded!,
      }),
    ),
  );
}

/** Measures and reduces one disc after the other. */
export function runVariant(variant: Variant, discs: number, seed: number, all: readonly Counts[]): void {
  const random = randomSource(seed);
  for (let disc = 0; disc < discs; disc++) {
    for (const counts of all) counts.startDisc();
    runDisc(variant, disc, random, all);
  }
}

function runDisc(variant: Variant, disc: number, random: RandomSource, all: readonly Counts[]): void {
  const { definition, patches } = variant;
  const { scale, temperatureScale } = definition.uncertainty;
  const stated = variant.sigma === 'column';
  const probing = {
    sigma: () => (stated ? SIGMA * 2 ** random.between(-1, 1) : SIGMA),
    statesSigma: stated,
    tip: variant.tip,
    statesNormals: variant.statesNormals,
    scale: Math.hypot(scale, temperatureScale) * random.normal(),
    machine: randomPlacement(random, 1000),
  };
  const others = TRUTHS.filter((t) => t !== JUST_OUTSIDE);
  const hub = definition.hubDatums
    .flatMap(memberDatums)
    .flatMap((d) => probe(d, patches.get(d.label)!, null, (p) => p, probing, random));
  const truths: { truth: BladeTruth; level: number }[] = [];
  const blades = definition.stations.flatMap(({ station, angle, seat, requirement }, k) => {
    const level = k < JUST_OUTSIDE_STATIONS ? JUST_OUTSIDE : others[(disc + k) % others.length]!;
    const truth = truthAt(level, requirement.checkPoints, random);
    truths.push({ truth, level });
    const at = bladePlacement(angle, seat);
    return definition.bladeDatums
      .flatMap(memberDatums)
      .flatMap((d) =>
        probe(d, patches.get(d.label)!, station, (p) => place(at, moved(truth, p)), probing, random),
      );
  });
  const result = reduce({
    blocks: [...hub, ...blades],
    definition: { ...definition, decision: PROBABILITY_RULE },
    gaps: [],
  });
  if (result.stations.length !== definition.stations.length)
    throw new Error(`${variant.name}: ${result.summary.missing.map((m) => m.reason).join(' ')}`);
  result.stations.forEach((station, k) => {
    const { angle, seat } = definition.stations[k]!;
    const errors = trueErrors(truths[k]!.truth, angle, seat);
    for (const counts of all) counts.station(station, errors, truths[k]!.level);
  });
}

/**
 * A random blade whose largest position over the check points is `level` tolerances. At zero it errs only along and about the
 * upset axis, on which the check points lie.
 */
function truthAt(level: number, checkPoints: readonly CheckPoint[], random: RandomSource): BladeTruth {
  const spherical = checkPoints.some((c) => c.zone === 'spherical');
  const free: BladeTruth = {
    displacement: [random.normal(), random.normal(), random.normal()],
    rotation: [random.normal() / 120, random.normal() / 120, random.normal() / 120],
  };
  const along = random.between(-0.02, 0.02);
  const about = random.between(-1e-3, 1e-3);
  const scaled = (factor: number): BladeTruth => ({
    displacement: [
      factor * free.displacement[0],
      factor * free.displacement[1],
      spherical ? factor * free.displacement[2] : along,
    ],
    rotation: [factor * free.rotation[0], factor * free.rotation[1], about],
  });
  const wanted = level * TOLERANCE;
  let factor = wanted;
  // The position is nearly proportional to the factor, so a few corrections reach rounding.
  for (let i = 0; i < 8 && wanted > 0; i++) factor *= wanted / truePosition(scaled(factor), checkPoints);
  return scaled(factor);
}

function truePosition(truth: BladeTruth, checkPoints: readonly CheckPoint[]): number {
  return Math.max(
    ...checkPoints.map(({ at, zone, direction }) => {
      const image = moved(truth, at);
      const d: Vec3 = [image[0] - at[0], image[1] - at[1], image[2] - at[2]];
      if (zone === 'cylindrical') return 2 * Math.hypot(d[0], d[1]);
      if (zone === 'spherical') return 2 * Math.hypot(...d);
      return 2 * Math.abs(d[0] * direction![0] + d[1] * direction![1] + d[2] * direction![2]);
    }),
  );
}
