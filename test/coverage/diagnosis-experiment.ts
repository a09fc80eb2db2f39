/**
 * Coverage, false claims and power of the diagnosis on simulated discs of known causes.
 *
 * Station errors are simulated directly (planted motions composed exactly, scatter, index, measurement and hub noise of realistic
 * covariance), so that thousands of discs are quick. Quantities are counted disc by disc.
 */
import { ORDER } from '../../shared-math/diagnosis/component-tests.ts';
import { findCauses } from '../../shared-math/diagnosis/diagnose.ts';
import type { ComponentName } from '../../shared-math/diagnosis/findings.ts';
import { component, covers, plantedTruth, statedParameters } from '../support/planted-truth.ts';
import { type RandomSource, randomSource } from '../support/random.ts';
import { NO_CAUSES, type SimulatedCauses, type Six, simulateDisc } from '../support/simulated-stations.ts';

export interface Tally {
  count: number;
  of: number;
}

export class Tallies {
  readonly all = new Map<string, Tally>();

  add(name: string, success: boolean): void {
    const tally = this.all.get(name) ?? { count: 0, of: 0 };
    tally.of++;
    if (success) tally.count++;
    this.all.set(name, tally);
  }

  share(name: string): number {
    const { count, of } = this.all.get(name)!;
    return count / of;
  }

  report(): Record<string, { share: number; of: number; standardError: number }> {
    return Object.fromEntries(
      [...this.all].map(([name, { count, of }]) => {
        const share = count / of;
        return [
          name,
          {
            share: Number(share.toFixed(4)),
            of,
            standardError: Number(Math.sqrt((share * (1 - share)) / of).toFixed(4)),
          },
        ];
      }),
    );
  }
}

/** Stations in a random weld order, tools one after the other. */
export function randomWelds(random: RandomSource, stations: number, tools: number) {
  return Array.from({ length: stations }, (_, k) => ({ station: k + 1, at: random.uniform() }))
    .sort((a, b) => a.at - b.at)
    .map(({ station }, i) => ({ station, tool: Math.floor((i * tools) / stations) }));
}

/** A disc of 6 to 20 stations, one to three tools, every cause at a random size, sometimes a missing or a slipped blade. */
function anyDisc(random: RandomSource) {
  const stations = 6 + Math.floor(15 * random.uniform());
  const tools = stations < 8 ? 1 : 1 + Math.floor(random.uniform() * (stations > 12 ? 3 : 2));
  const six = (mm: number, rad: number): Six => [mm, mm, mm, rad, rad, rad].map((s) => s * random.normal());
  const between = (low: number, high: number): number => random.between(low, high);
  const spread = (mm: readonly [number, number], rad: readonly [number, number]): Six =>
    [mm, mm, mm, rad, rad, rad].map(([low, high]) => between(low, high));
  const slipped = stations >= 10 && random.uniform() < 0.3;
  const causes: SimulatedCauses = {
    ring: six(0.01, 3e-5),
    tools: Array.from({ length: tools }, () => six(0.008, 6e-5)),
    wear: six(0.0005, 3e-6),
    index: [{ order: 1, amplitude: Math.abs(1.5e-5 * random.normal()), phase: between(-Math.PI, Math.PI) }],
    radial: [],
    scatter: spread([0.0015, 0.0035], [1e-5, 2e-5]),
    indexScatter: random.uniform() < 0.5 ? 0 : between(0, 4e-6),
    slips: new Map(slipped ? [[3, [0.06, 0.01, 0, 0, 0, 3e-4]]] : []),
  };
  const missing = random.uniform() < 0.3 ? [2] : [];
  return { stations, causes, missing, welds: randomWelds(random, stations, tools) };
}

/** Coverage of parameters, sizes and index deviations over discs of every kind. */
export function runCoverage(discs: number, seed: number): Tallies {
  const random = randomSource(seed);
  const tallies = new Tallies();
  for (let disc = 0; disc < discs; disc++) {
    const options = anyDisc(random);
    const { causes, welds } = options;
    const simulated = simulateDisc(options, random);
    const diagnosis = findCauses(simulated);
    if (diagnosis === null) throw new Error('a disc of six or more stations was not diagnosed');
    const truth = plantedTruth(simulated.definition, welds, causes, diagnosis.stations);
    const tools = causes.tools.map((_, t) => `T${t + 1}`);
    for (const p of statedParameters(diagnosis, truth, tools)) {
      tallies.add('any parameter', covers(p.stated, p.truth));
      tallies.add(p.name.replace(/\.\d$/, ''), covers(p.stated, p.truth));
    }
    for (const [name, size] of truth.sizes) {
      const c = component(diagnosis, name);
      if (c.size === null) continue;
      tallies.add('any size', covers(c.size, size));
      tallies.add(`size of ${name}`, covers(c.size, size));
    }
    const named = diagnosis.outliers.map((o) => o.station);
    const counted = diagnosis.stations.filter((s) => !named.includes(s));
    const mean = counted.reduce((sum, s) => sum + simulated.index.get(s)!, 0) / counted.length;
    for (const { station, deviation } of diagnosis.index.stations)
      if (!causes.slips.has(station))
        tallies.add('index deviation', covers(deviation, simulated.index.get(station)! - mean));
    tallies.add(
      'no false outlier',
      named.every((s) => causes.slips.has(s)),
    );
    for (const slipped of causes.slips.keys()) tallies.add('slipped blade named', named.includes(slipped));
  }
  return tallies;
}

export const CAUSES = ORDER.filter((name) => name !== 'scatter');

/** Discs with scatter, measurement and hub noise only: how often a cause is claimed. */
export function runScatterOnly(stations: number, discs: number, seed: number): Tallies {
  const random = randomSource(seed);
  const tallies = new Tallies();
  for (let disc = 0; disc < discs; disc++) {
    const welds = randomWelds(random, stations, 1);
    const diagnosis = findCauses(simulateDisc({ stations, causes: NO_CAUSES, welds }, random))!;
    tallies.add(
      'any claim',
      diagnosis.components.some((c) => c.significant),
    );
    for (const name of CAUSES) {
      const { notExamined, significant, test } = component(diagnosis, name);
      if (notExamined !== null) continue;
      tallies.add(`claimed: ${name}`, significant);
      tallies.add(`p ≤ 0.05: ${name}`, test!.probability <= 0.05);
    }
  }
  return tallies;
}

/** Discs with one planted cause: how often its test is beyond 5 %, and how often it is claimed. */
export function runPlanted(
  name: ComponentName,
  causes: SimulatedCauses,
  stations: number,
  discs: number,
  seed: number,
): Tallies {
  const random = randomSource(seed);
  const tallies = new Tallies();
  const welds = plannedWelds(stations);
  for (let disc = 0; disc < discs; disc++) {
    const diagnosis = findCauses(simulateDisc({ stations, causes, welds }, random))!;
    const { test, significant } = component(diagnosis, name);
    tallies.add('p ≤ 0.05', test!.probability <= 0.05);
    tallies.add('claimed', significant);
  }
  return tallies;
}

/** One tool, in an order that goes across the disc. */
export function plannedWelds(stations: number) {
  const step = stations % 7 === 0 ? 5 : 7;
  return Array.from({ length: stations }, (_, i) => ({ station: ((i * step) % stations) + 1, tool: 0 }));
}
