/** The conforming sample disc spoilt in every way that the program says something about and still reduces. */
import type { ReducedDisc } from '../../src-main/api.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { conformingDisc, csv, type DiscText, rowOf, writeDisc } from './disc-files.ts';

/** Words of a person, which no language changes. */
export const handWords = 'the clamp had slipped before this point was taken';

/** Many stations missing or with warnings, rows left out for every reason. */
export async function spoiltDisc(): Promise<ReducedDisc> {
  const disc = conformingDisc();
  disc.header.push('r', 'sigma', 'temperature', 'direction');
  for (const row of disc.rows) row.push('0', '0.001', '20', 'up');
  const column = (name: string): number => disc.header.indexOf(name);
  const set = (station: string, feature: string, nth: number, name: string, value: string): void => {
    rowOf(disc, station, feature, nth).row[column(name)] = value;
  };

  const faults: readonly (readonly [string, string])[] = [
    ['x', 'oops'],
    ['x', ''],
    ['y', 'nan'],
    ['z', '1e999'],
    ['x', '12,5'],
    ['y', '1.234.567'],
    ['z', '\u22125.25'],
    ['i', '0.5'],
    ['i', ''],
    ['r', '-1'],
    ['r', ''],
    ['sigma', '0'],
    ['temperature', '900'],
  ];
  // After two good rows, which show what the points of the feature state.
  faults.forEach(([name, value], i) => {
    const nth = i + 2;
    if (name === 'i' && value === '')
      for (const normal of ['i', 'j', 'k']) set('1', 'FLANK', nth, normal, '');
    else set('1', 'FLANK', nth, name, value);
  });
  rowOf(disc, '1', 'FLANK', faults.length + 2).row.length = 4;
  rowOf(disc, '1', 'FLANK', faults.length + 3).row.push('and', 'more');
  set('2', 'SEAT', 0, 'x', 'oops');
  set('3', 'SEAT', 0, 'x', 'oops');
  set('3', 'SEAT', 1, 'x', 'oops');

  drop(disc, (station, feature) => station === '6' && feature === 'SEAT');
  let flanks = 0;
  drop(disc, (station, feature) => station === '7' && feature === 'FLANK' && ++flanks > 2);
  disc.rows
    .filter(([station, feature]) => station === '8' && feature === 'FLANK')
    .forEach((row, i, [first = []]) => {
      for (const name of ['x', 'y', 'z'])
        row[column(name)] = String(Number(first[column(name)]) + i * (name === 'x' ? 1 : 0.5));
    });
  drop(disc, (station) => station === '9');
  set('11', 'SEAT', 0, 'z', String(Number(rowOf(disc, '11', 'SEAT').row[column('z')]) + 5));
  disc.rows
    .filter(([station, feature]) => station === '12' && feature === 'FLANK')
    .forEach((row, i) => {
      for (const [axis, normal] of [
        ['x', 'i'],
        ['y', 'j'],
        ['z', 'k'],
      ] as const)
        row[column(axis)] = String(
          Number(row[column(axis)]) + (i % 2 ? 0.08 : -0.08) * Number(row[column(normal)]),
        );
    });
  for (const row of disc.rows)
    if (row[0] === '13' && row[1] === 'EDGE')
      for (const normal of ['i', 'j', 'k']) row[column(normal)] = String(-Number(row[column(normal)]));
  // Along its normal, far beyond the noise and near enough to be no wild point.
  const flagged = rowOf(disc, '14', 'SEAT', 3).row;
  for (const [axis, normal] of [
    ['x', 'i'],
    ['y', 'j'],
    ['z', 'k'],
  ] as const)
    flagged[column(axis)] = String(Number(flagged[column(axis)]) + 0.04 * Number(flagged[column(normal)]));
  set('15', 'SEAT', 0, 'temperature', '26');
  set('16', 'SEAT', 0, 'direction', 'sideways');
  set('16', 'SEAT', 1, 'direction', 'sideways');

  const like = [...rowOf(disc, '4', 'SEAT').row];
  const stray = (station: string, feature: string): void => {
    disc.rows.push([station, feature, ...like.slice(2)]);
  };
  stray('4', 'SAET');
  stray('4', 'WINGTIP-RADIUS');
  stray('', 'REFERENCE-BALL');
  stray('99', 'SEAT');
  stray('5', 'HUB-FACE');
  stray('', 'SEAT');

  const { blade, temperature } = disc.plan as unknown as {
    blade: { datums: Record<string, unknown>[] };
    temperature: Record<string, unknown>;
  };
  temperature['applied'] = false;
  for (const datum of blade.datums)
    if (datum['feature'] === 'SEAT') datum['screen'] = { method: 'biweight', cutoff: 6 };
  const files = writeDisc(csv(disc, ';'), disc.plan);
  return runReduction({
    pointsPath: files.points,
    planPath: files.plan,
    exclusions: [rowOf(disc, '17', 'SEAT'), rowOf(disc, '17', 'SEAT', 2)].map(({ line }) => ({
      line,
      reason: handWords,
    })),
    excludedFeatures: [
      { station: 10, feature: 'EDGE', reason: handWords },
      { station: 9, feature: 'EDGE', reason: handWords },
      { station: null, feature: 'NOSE', reason: handWords },
    ],
  });
}

/** Three stations, no statement on uncertainty, and a header that contradicts the plan. */
export async function sparseDisc(): Promise<ReducedDisc> {
  const disc = conformingDisc();
  drop(disc, (station) => station !== '' && Number(station) > 3);
  disc.header = disc.header.map((name) => (/^[xyz]$/.test(name) ? `${name} (inch)` : name));
  const { uncertainty } = disc.plan as unknown as { uncertainty: Record<string, unknown> };
  delete uncertainty['probing'];
  const files = writeDisc(csv(disc), { ...disc.plan, import: { unit: 'mm' } });
  return runReduction({ pointsPath: files.points, planPath: files.plan });
}

function drop(disc: DiscText, isDropped: (station: string, feature: string) => boolean): void {
  disc.rows = disc.rows.filter(([station = '', feature = '']) => !isDropped(station, feature));
}
