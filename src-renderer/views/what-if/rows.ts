/** Measured and tried stations side by side. */
import type { StationResult } from '../../../shared-math/result.ts';
import type { WhatIfResult } from '../../../shared-math/what-if/apply.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { exportNumber, plainUnit, type Units } from '../../format/format.ts';
import { bladeErrors, quantityOf } from '../../format/quantities.ts';
import type { Sheet } from '../../parts/sheet.ts';

export const notMeasured = 'What-if state – not measured';

export interface BenchRow {
  readonly station: number;
  readonly angle: number;
  readonly measured: StationResult;
  /** Null: left out. */
  readonly tried: StationResult | null;
}

export function benchRows(disc: ReducedDisc, tried: WhatIfResult): readonly BenchRow[] {
  const byNumber = new Map(tried.stations.map((entry) => [entry.station, entry]));
  return disc.result.stations.map((measured) => ({
    station: measured.station,
    angle: measured.angle,
    measured,
    tried: byNumber.get(measured.station) ?? null,
  }));
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
      'what was changed',
    ],
    rows: rows.map(({ station, angle, measured, tried }) => [
      state,
      String(station),
      String(angle),
      ...bladeErrors.map((name) => exportNumber(tried?.error[name] ?? null, quantityOf(name).kind, units)),
      exportNumber(measured.position.value, 'size', units),
      exportNumber(tried?.position.value ?? null, 'size', units),
      exportNumber(tried?.position.expanded ?? null, 'size', units),
      String(tried?.position.probability ?? ''),
      measured.verdict,
      tried?.verdict ?? 'left out',
      words,
    ]),
  };
}
