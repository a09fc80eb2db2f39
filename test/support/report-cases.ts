/** Discs that strain the layout of a report: the samples, awkward plans, and invented texts and numbers of stations. */
import { fileURLToPath } from 'node:url';
import type { CheckPointResult, ResultDocument, StationResult } from '../../shared-math/result.ts';
import type { ReducedDisc } from '../../src-main/api.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import {
  type Language,
  type LengthUnit,
  languages,
  type Paper,
  papers,
} from '../../src-main/report/index.ts';
import { exampleDiscOfTwoLevels } from './example-disc.ts';
import { reduceSample } from './reports.ts';

export interface ReportCase {
  readonly name: string;
  readonly disc: ReducedDisc;
  readonly length: LengthUnit;
  /** Languages and sheets to look at; fewer where the disc differs from others in one respect only. */
  readonly looks: readonly (readonly [Language, Paper])[];
}

const everyLook = languages.flatMap((language) => papers.map((paper) => [language, paper] as const));
const oneLookALanguage = [
  ['en', 'a4'],
  ['de', 'letter'],
  ['fr', 'a4'],
] as const;

/** In the order in which people look at them. */
export async function reportCases(): Promise<readonly ReportCase[]> {
  const [conforming, drifting, offCentre] = await Promise.all([
    reduceSample('conforming'),
    reduceSample('drifting'),
    reduceSample('off-centre'),
  ]);
  const [overrides, gaps, one, all] = await Promise.all(
    ['18-zones-overrides', '10-gaps', '28c-one-station', '27-all-conform'].map(reduceIndependent),
  );
  const everywhere = (name: string, disc: ReducedDisc): ReportCase => ({
    name,
    disc,
    length: 'µm',
    looks: everyLook,
  });
  const strained = (name: string, disc: ReducedDisc, length: LengthUnit = 'µm'): ReportCase => ({
    name,
    disc,
    length,
    looks: oneLookALanguage,
  });
  return [
    everywhere('conforming', conforming),
    everywhere('drifting', drifting),
    everywhere('off-centre', offCentre),
    everywhere('zones-overrides', overrides as ReducedDisc),
    strained('gaps', gaps as ReducedDisc),
    strained('one-station', one as ReducedDisc),
    strained('all-conform', all as ReducedDisc),
    strained('two-levels', exampleDiscOfTwoLevels()),
    strained('inches', offCentre, 'inch'),
    strained('long-texts', withLongTexts(drifting)),
    strained('long-texts-inches', withLongTexts(overrides as ReducedDisc), 'inch'),
    strained('120-stations', withStations(conforming, offCentre, 120)),
    strained('many-missing', withManyMissing(offCentre)),
  ];
}

function reduceIndependent(name: string): Promise<ReducedDisc> {
  const path = (file: string) =>
    fileURLToPath(new URL(`../validation/independent/discs/${name}/${file}`, import.meta.url));
  return runReduction({ pointsPath: path('points.csv'), planPath: path('plan.json') });
}

/** Names, files and reasons as long as people and programs make them, with and without blanks. */
export function withLongTexts(disc: ReducedDisc): ReducedDisc {
  const { result, plan, welds } = disc;
  const longName = (name: string) => `${name}-MEASURED-ON-THE-UPPER-TRANSITION-OF-THE-AIRFOIL-STUB`;
  const point = (entry: CheckPointResult): CheckPointResult => ({ ...entry, name: longName(entry.name) });
  const feature = <T extends { readonly feature: string; readonly label: string }>(entry: T): T => ({
    ...entry,
    feature: `${entry.feature}_${'ABCDEFGHIJKLMNOPQRSTUVWXYZ'.repeat(2)}`,
  });
  const stations = result.stations.map(
    (station): StationResult => ({
      ...station,
      position: {
        ...station.position,
        at: longName(station.position.at),
        checkPoints: station.position.checkPoints.map(point),
      },
      features: station.features.map(feature),
    }),
  );
  const file = `${'2026-05-20_turbine_disc_measured_again_after_the_second_weld_'.repeat(3)}points-final.csv`;
  const excluded = Array.from({ length: 46 }, (_, i) => ({
    line: 100000 + 17 * i,
    reason:
      i < 2
        ? `excluded by hand: ${'burr'.repeat(150)}`
        : i < 4
          ? `excluded by hand: ${'a very long and quite talkative remark on a burr, '.repeat(14)}`
          : `excluded by hand: dust, seen under the microscope on point ${i} of the seat`,
  }));
  const details = {
    ...plan.details,
    hubDatums: plan.details.hubDatums.map((datum) => ({
      ...datum,
      features: datum.features.map((name) => `${name}${'_AND_SOME_MORE'.repeat(4)}`),
    })),
  };
  return {
    ...disc,
    result: {
      ...result,
      stations,
      warnings: [...result.warnings, `A remark without any blank: ${'x'.repeat(520)}`],
      source: {
        ...result.source,
        points: { ...result.source.points, name: file, excluded },
        plan: { ...result.source.plan, name: `${'plan'.repeat(50)}.json` },
      },
    },
    plan: {
      ...plan,
      details,
      title: `Trial of the ${'very '.repeat(30)}long plan`,
      part: {
        ...plan.part,
        name: `Fan stage, invented ${'for the trial of the layout '.repeat(8)}`,
        number: `INVENTED-${'0123456789'.repeat(16)}`,
        serial: 'S'.repeat(90),
      },
      inspection: { ...plan.inspection, operator: 'o'.repeat(200) },
    },
    welds: (welds ?? []).map((weld) => ({ ...weld, tool: `${weld.tool}-${'COLLET'.repeat(9)}` })),
  };
}

/** As many stations as asked for: copies of a conforming disc's, every thirtieth of another disc's nonconforming ones. */
export function withStations(like: ReducedDisc, broken: ReducedDisc, count: number): ReducedDisc {
  const nonconforming = broken.result.stations.filter(({ verdict }) => verdict === 'nonconforming');
  const pool = like.result.stations;
  const stations = Array.from(
    { length: count },
    (_, i): StationResult => ({
      ...((i % 30 === 7 ? nonconforming[i % nonconforming.length] : pool[i % pool.length]) as StationResult),
      station: i + 1,
      angle: (360 * i) / count,
    }),
  );
  return withOwnStations(like, stations, []);
}

/** All but six stations were not measured. */
function withManyMissing(disc: ReducedDisc): ReducedDisc {
  const stations = disc.result.stations.filter(({ station }) => station % 3 === 1).slice(0, 6);
  const missing = disc.result.stations
    .filter((station) => !stations.includes(station))
    .map(({ station, angle }) => ({
      station,
      angle,
      reason: 'The file has no points of this station.',
      note: { code: 'no-points-of-station', values: {} } as const,
    }));
  return withOwnStations(disc, stations, missing);
}

function withOwnStations(
  disc: ReducedDisc,
  stations: readonly StationResult[],
  missing: ResultDocument['summary']['missing'],
): ReducedDisc {
  const count = (verdict: string) => stations.filter((station) => station.verdict === verdict).length;
  const angles = [...stations, ...missing].map(({ station, angle }) => ({ station, angle }));
  return {
    ...disc,
    result: {
      ...disc.result,
      stations,
      summary: {
        ...disc.result.summary,
        stations: angles.length,
        conforming: count('conforming'),
        nonconforming: count('nonconforming'),
        unproven: count('unproven'),
        missing,
      },
    },
    plan: { ...disc.plan, stations: angles.sort((a, b) => a.station - b.station) },
  };
}
