/** All numbers of one station for other programs: errors, positions of the check points, datum features; one line each. */
import { exportNumber, plainUnit, type Units } from '../../format/format.ts';
import {
  bladeErrors,
  discErrors,
  expandedOf,
  limitOf,
  probabilityOf,
  type QuantityName,
  quantityOf,
  quantityValue,
  verdictOf,
} from '../../format/quantities.ts';
import type { StationView } from '../../format/station-view.ts';
import type { Sheet } from '../../parts/sheet.ts';

export function stationSheet(station: StationView, units: Units): Sheet {
  const length = plainUnit('length', units);
  const share = (value: number | null): string => String(value ?? '');
  const size = (value: number | null): string => exportNumber(value, 'length', units);
  const quantity = (name: QuantityName): readonly string[] => {
    const { kind } = quantityOf(name);
    return [
      name,
      plainUnit(kind, units),
      exportNumber(quantityValue(station, name), kind, units),
      exportNumber(expandedOf(station, name), kind, units),
      exportNumber(limitOf(station, name), kind, units),
      share(probabilityOf(station, name)),
      verdictOf(station, name) ?? '',
      '',
      '',
    ];
  };
  const names: readonly QuantityName[] = [
    ...bladeErrors,
    ...discErrors,
    'position',
    ...(station.relative == null ? [] : (['relative'] as const)),
  ];
  return {
    head: [
      `station ${station.station}`,
      'unit',
      'value',
      'U',
      'limit',
      'P conforms',
      'verdict',
      'points',
      'r.m.s.',
    ],
    rows: [
      ...names.map(quantity),
      ...station.position.checkPoints.map(({ name, value, expanded, tolerance, probability, verdict }) => [
        `position ${name}`,
        length,
        size(value),
        size(expanded),
        size(tolerance),
        share(probability),
        verdict,
        '',
        '',
      ]),
      ...station.features.map(({ label, feature, form, rms, points }) => [
        `form of ${label} ${feature}`,
        length,
        size(form),
        '',
        '',
        '',
        '',
        String(points),
        size(rms),
      ]),
    ],
  };
}
