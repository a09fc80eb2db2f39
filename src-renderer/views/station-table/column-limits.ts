import type { ReducedDisc } from '../../../src-main/api.ts';
import { formatLimit, limitDecimals, type Units } from '../../format/format.ts';
import { limitOf, type QuantityName, quantityOf, quantityValue } from '../../format/quantities.ts';
import { stationViews } from '../../format/station-view.ts';

export interface ColumnLimits {
  readonly text: Readonly<Partial<Record<QuantityName, string>>>;
  readonly decimals: Readonly<Partial<Record<QuantityName, number>>>;
}

/** The limit of each column, printed so that every value below it is seen on its side. */
export function columnLimits(disc: ReducedDisc, names: readonly QuantityName[], units: Units): ColumnLimits {
  const stations = stationViews(disc.result);
  const text: Partial<Record<QuantityName, string>> = {};
  const decimals: Partial<Record<QuantityName, number>> = {};
  for (const name of names) {
    const { kind } = quantityOf(name);
    const limits = new Set(stations.map((station) => limitOf(station, name)));
    const [limit] = limits;
    if (limits.size !== 1 || limit == null) {
      text[name] = limits.size > 1 ? 'varies' : limits.size === 1 ? '–' : '';
      continue;
    }
    const values = stations.map((station) => quantityValue(station, name));
    decimals[name] = limitDecimals(limit, values, kind, units);
    text[name] = (kind === 'size' ? '≤ ' : '±') + formatLimit(limit, kind, units, values);
  }
  return { text, decimals };
}
