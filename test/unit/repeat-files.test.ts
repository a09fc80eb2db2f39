/** Runs and directions in a point file, from the file to the repeatability of the index in the result. */
import { expect, it } from 'vitest';
import { bladeDirections } from '../../shared-math/frame/blade-frame.ts';
import { applyTransposed } from '../../shared-math/geometry/matrix.ts';
import { runReduction } from '../../src-main/jobs/run-reduction.ts';
import { toDefinition } from '../../src-main/plan/to-definition.ts';
import { conformingDisc, csv, writeDisc } from '../support/disc-files.ts';

const disc = conformingDisc();
const plain = writeDisc(csv(disc), disc.plan);
const { result } = await runReduction({ pointsPath: plain.points, planPath: plain.plan });
const { stations } = toDefinition(disc.plan);

const VISITS = [
  { run: '1', direction: 'up' },
  { run: '1', direction: 'down' },
  { run: '2', direction: 'up' },
  { run: '2', direction: 'down' },
];
/** Tangential shift of every blade in each visit, mm; their mean is 0. */
const SHIFTS = [0.005, -0.003, 0.001, -0.003];

/** The row of a blade's point, the blade shifted along its tangent. */
function shifted(row: readonly string[], arc: number): readonly string[] {
  if (row[0] === '') return row;
  const { angle, seat } = stations[Number(row[0]) - 1]!;
  const along = applyTransposed(result.frame.rotation, bladeDirections(angle, seat).tangential);
  return row.map((cell, k) =>
    k >= 2 && k < 5 ? (Number(cell) + arc * along[(k - 2) as 0 | 1 | 2]).toFixed(7) : cell,
  );
}

it('repeated visits give reversal and repeatability, and the reduction of all points together', async () => {
  const files = writeDisc(
    csv({
      header: [...disc.header, 'run', 'direction'],
      rows: VISITS.flatMap(({ run, direction }, v) =>
        disc.rows.map((row) => [
          ...shifted(row, SHIFTS[v]!),
          row[0] === '' ? '' : run,
          row[0] === '' ? '' : direction,
        ]),
      ),
    }),
    disc.plan,
  );
  const repeated = await runReduction({ pointsPath: files.points, planPath: files.plan });
  expect(repeated.import.sentence).not.toContain('Not used');
  const found = repeated.result.diagnosis!.index.repeatability!;
  expect(found.runs).toBe(2);
  expect(found.targets).toHaveLength(18);
  const radius = stations[0]!.seat.radius;
  for (const { reversal, standardUp, standardDown } of found.targets) {
    // Up 3 µm, down −3 µm; up scatters by 4 µm/√2, down not at all. Coordinates have seven digits.
    expect(Math.abs(reversal! * radius - 0.006)).toBeLessThan(2e-7);
    expect(Math.abs(standardUp! * radius - 0.004 / Math.SQRT2)).toBeLessThan(2e-7);
    expect(standardDown! * radius).toBeLessThan(2e-7);
  }
  repeated.result.stations.forEach(({ error }, k) => {
    expect(Math.abs(error.lateral! - result.stations[k]!.error.lateral!)).toBeLessThan(1e-6);
  });
  expect(result.diagnosis!.index.repeatability).toBeNull();
});
