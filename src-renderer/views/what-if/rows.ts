/** Measured and tried stations side by side. */
import type { StationResult } from '../../../shared-math/result.ts';
import type { WhatIfResult } from '../../../shared-math/what-if/apply.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { exportNumber, plainUnit, type Units } from '../../format/format.ts';
import { bladeErrors, quantityOf } from '../../format/quantities.ts';
import type { Sheet } from '../../parts/sheet.ts';
import { limitsNotKept } from './limits.ts';

export const notMeasured = 'What-if state – not measured';

export interface BenchRow {
  readonly station: number;
  readonly angle: number;
  readonly measured: StationResult;
  /** Null: left out, or not reduced without the points that were left out. */
  readonly tried: StationResult | null;
  /** Why there is nothing tried; empty where there is. */
  readonly absent: '' | 'left out' | 'not reduced';
}

export function benchRows(
  disc: ReducedDisc,
  tried: WhatIfResult,
  dropped: readonly number[],
): readonly BenchRow[] {
  const byNumber = new Map(tried.stations.map((entry) => [entry.station, entry]));
  return disc.result.stations.map((measured) => {
    const { station, angle } = measured;
    const found = byNumber.get(station) ?? null;
    const absent = found !== null ? '' : dropped.includes(station) ? 'left out' : 'not reduced';
    return { station, angle, measured, tried: found, absent };
  });
}

/** Every row says that it is no measurement, and of which state it is. */
export function benchSheet(rows: readonly BenchRow[], words: string, units: Units): Sheet {
  const unit = plainUnit('size', units);
  const state = words === '' ? 'as measured' : notMeasured.toUpperCase();
  return {
    head: [
      'state',
      'station',
      'angle (deg)',
      ...bladeErrors.map((name) => `what-if ${name} (${plainUnit(quantityOf(name).kind, units)})`),
      `position measured (${unit})`,
      `position what-if (${unit})`,
      `U what-if (${unit})`,
      'P conforms what-if',
      'verdict measured',
      'verdict what-if',
      'limits not kept what-if',
      'what was changed',
    ],
    rows: rows.map(({ station, angle, measured, tried, absent }) => [
      state,
      String(station),
      String(angle),
      ...bladeErrors.map((name) => exportNumber(tried?.error[name] ?? null, quantityOf(name).kind, units)),
      exportNumber(measured.position.value, 'size', units),
      exportNumber(tried?.position.value ?? null, 'size', units),
      exportNumber(tried?.position.expanded ?? null, 'size', units),
      String(tried?.position.probability ?? ''),
      measured.verdict,
      tried?.verdict ?? absent,
      tried === null ? '' : limitsNotKept(tried).join(', '),
      words,
    ]),
  };
}
