/** The quantities whose harmonics are examined, and their numbers for other programs. */
import type { Harmonic, HarmonicChannel, IndexFinding } from '../../../shared-math/diagnosis/findings.ts';
import { exportNumber, plainUnit, type Units } from '../../format/format.ts';
import type { QuantityKind } from '../../format/quantities.ts';
import type { Sheet } from '../../parts/sheet.ts';

export const channels: readonly (readonly [HarmonicChannel, string, string])[] = [
  ['index', 'Index', 'Index: rotation about the disc axis'],
  ['radial', 'Radial', 'Radial displacement'],
  ['tangential', 'Tang.', 'Tangential displacement'],
  ['axial', 'Axial', 'Axial displacement'],
  ['lean', 'Lean', 'Lean'],
  ['sweep', 'Sweep', 'Sweep'],
  ['stagger', 'Stagger', 'Stagger'],
];

export function channelKind(channel: HarmonicChannel): QuantityKind {
  return channel === 'radial' || channel === 'tangential' || channel === 'axial' ? 'length' : 'rotation';
}

/** The significant harmonics of a channel at an angle (rad). */
export function harmonicAt(harmonics: readonly Harmonic[], channel: HarmonicChannel, angle: number): number {
  return harmonics
    .filter((entry) => entry.channel === channel && entry.significant)
    .reduce((sum, { amplitude, order, phase }) => sum + amplitude.value * Math.cos(order * angle - phase), 0);
}

export function harmonicsSheet(harmonics: readonly Harmonic[], units: Units): Sheet {
  return {
    head: [
      'channel',
      'order',
      'unit',
      'amplitude',
      'low',
      'high',
      'phase (deg)',
      'floor',
      'probability',
      'significant',
      'aliases',
    ],
    rows: harmonics.map((entry) => {
      const kind = channelKind(entry.channel);
      const number = (value: number): string => exportNumber(value, kind, units);
      return [
        entry.channel,
        String(entry.order),
        plainUnit(kind, units),
        number(entry.amplitude.value),
        number(entry.amplitude.low),
        number(entry.amplitude.high),
        ((entry.phase * 180) / Math.PI).toFixed(2),
        number(entry.floor),
        entry.probability.toPrecision(4),
        entry.significant ? 'yes' : 'no',
        entry.aliases.join(' '),
      ];
    }),
  };
}

export function indexSheet(index: IndexFinding, units: Units): Sheet {
  const angle = plainUnit('rotation', units);
  const length = plainUnit('length', units);
  return {
    head: [
      'station',
      'planned angle (deg)',
      `deviation (${angle})`,
      `low (${angle})`,
      `high (${angle})`,
      `at the seat radius (${length})`,
      `harmonic part (${angle})`,
      `rest (${angle})`,
      `single pitch to the next (${length})`,
      `cumulative pitch (${length})`,
    ],
    rows: index.stations.map((entry) => [
      String(entry.station),
      String(entry.angle),
      ...[entry.deviation.value, entry.deviation.low, entry.deviation.high].map((value) =>
        exportNumber(value, 'rotation', units),
      ),
      exportNumber(entry.arc, 'length', units),
      exportNumber(entry.harmonic, 'rotation', units),
      exportNumber(entry.rest, 'rotation', units),
      exportNumber(entry.singlePitch, 'length', units),
      exportNumber(entry.cumulativePitch, 'length', units),
    ]),
  };
}
