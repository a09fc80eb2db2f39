/** Diametral position from two coordinate deviations. */
import { positionValue } from '../../../../shared-math/pose/position.ts';
import { type Chapter, Checks, fixture } from '../check.ts';

const GROUP = 'Position conversion table';

export function positionTable(): Chapter {
  const { rows } = fixture<{ rows: readonly (readonly [number, number, number])[] }>('position-table.json');
  const checks = new Checks(
    GROUP,
    'Conversion table of position as handbooks of the trade print it, 2·√(x² + y²) to four decimals (common practice, no page at hand; values recomputed with 30 decimal digits by scripts/position-table.py)',
  );
  for (const [x, y, position] of rows) {
    const ours = positionValue([x, y, 0], { zone: 'cylindrical', direction: null });
    checks.add('entries of the table, x and y from 0.001 to 0.020', ours, position, 5.1e-5, 'mm');
  }
  for (const [x, y, position] of [
    [0.003, 0.004, 0.01],
    [0.005, 0.012, 0.026],
    [0.008, 0.015, 0.034],
  ] as const) {
    const ours = positionValue([x, y, 0.5], { zone: 'cylindrical', direction: null });
    checks.add(`x = ${x}, y = ${y} (Pythagorean)`, ours, position, 1e-15, 'mm');
  }
  checks.add(
    'spherical zone, (0.002, 0.003, 0.006)',
    positionValue([0.002, 0.003, 0.006], { zone: 'spherical', direction: null }),
    0.014,
    1e-15,
    'mm',
  );
  checks.add(
    'planar zone square to (0, 0.6, 0.8), (0.1, 0.005, 0.01)',
    positionValue([0.1, 0.005, 0.01], { zone: 'planar', direction: [0, 0.6, 0.8] }),
    0.022,
    1e-15,
    'mm',
  );
  return {
    group: GROUP,
    text: 'Table entries are rounded to four decimals, so their bound is half a unit of the fourth.',
    checks: checks.list,
  };
}
