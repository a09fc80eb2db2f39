/** Corrections as tables: what is set, and what the blades would then have shown. */
import type { Correction, Setting } from '../../../shared-math/diagnosis/corrections/correction.ts';
import type { ReducedDisc } from '../../../src-main/api.ts';
import { exportNumber, plainUnit, type Units } from '../../format/format.ts';
import { bladeErrors, type QuantityKind, quantityOf } from '../../format/quantities.ts';
import type { Sheet } from '../../parts/sheet.ts';

const hubNames: Readonly<Record<string, string>> = {
  x: 'shift along X',
  y: 'shift along Y',
  z: 'shift along Z',
  rotX: 'tilt about X',
  rotY: 'tilt about Y',
  rotZ: 'clocking about Z',
};

export function settingKind({ kind, freedom }: Setting): QuantityKind {
  return kind === 'index' || freedom.startsWith('rot') ? 'rotation' : 'length';
}

/** What is set, in words. */
export function settingName({ kind, freedom, of }: Setting): string {
  if (kind === 'index') return `Station ${of ?? ''}: index`;
  if (kind === 'hub') return `Hub seating: ${hubNames[freedom] ?? freedom}`;
  const name = bladeErrors.find((error) => error === freedom);
  const title = name === undefined ? freedom : quantityOf(name).title.toLowerCase();
  return `Tool${of === null ? '' : ` ${of}`}: ${title}`;
}

/** e.g. `at its limit, rounded to 0.0020`. */
export function settingNote({ atLimit, step }: Setting, figure: (value: number) => string): string {
  return [
    ...(atLimit ? ['at its limit'] : []),
    ...(step === null ? [] : [`in steps of ${figure(step)}`]),
  ].join(', ');
}

export function settingsSheet({ settings }: Correction, units: Units): Sheet {
  return {
    head: [
      'setting',
      'unit',
      'error found',
      'setting change',
      'before rounding',
      'step',
      'limit',
      'at its limit',
    ],
    rows: settings.map((setting) => {
      const kind = settingKind(setting);
      const number = (value: number | null): string => exportNumber(value, kind, units);
      return [
        settingName(setting),
        plainUnit(kind, units),
        number(setting.found),
        number(setting.change),
        number(setting.exact),
        number(setting.step),
        number(setting.limit),
        setting.atLimit ? 'yes' : 'no',
      ];
    }),
  };
}

export function predictedSheet(correction: Correction, disc: ReducedDisc, units: Units): Sheet {
  const unit = plainUnit('size', units);
  const before = new Map(disc.result.stations.map((entry) => [entry.station, entry.position.value]));
  return {
    head: [
      'station',
      ...bladeErrors.map((name) => `predicted ${name} (${plainUnit(quantityOf(name).kind, units)})`),
      `position measured (${unit})`,
      `position predicted (${unit})`,
      `U (${unit})`,
      'at',
      'P conforms',
      'verdict predicted',
      'left out of the optimisation',
    ],
    rows: correction.predicted.map((entry) => [
      String(entry.station),
      ...bladeErrors.map((name, index) =>
        exportNumber(entry.error[index] ?? null, quantityOf(name).kind, units),
      ),
      exportNumber(before.get(entry.station) ?? null, 'size', units),
      exportNumber(entry.position, 'size', units),
      exportNumber(entry.expanded, 'size', units),
      entry.at ?? '',
      String(entry.probability ?? ''),
      entry.verdict,
      correction.leftOut.includes(entry.station) ? 'yes' : 'no',
    ]),
  };
}

export function correctionsSheet(corrections: readonly Correction[], units: Units): Sheet {
  const unit = plainUnit('size', units);
  const number = (value: number | null): string => exportNumber(value, 'size', units);
  return {
    head: [
      'correction',
      ...[
        'worst before',
        'worst after',
        'low',
        'high',
        'exact optimum',
        'gain by scatter alone',
        'next disc unchanged',
        'next disc corrected',
      ].map((name) => `${name} (${unit})`),
      'conforming',
      'nonconforming',
      'unproven',
      'chases noise',
    ],
    rows: corrections.map((entry) => [
      entry.title,
      number(entry.before),
      number(entry.after),
      number(entry.interval.low),
      number(entry.interval.high),
      number(entry.optimum),
      number(entry.noiseGain),
      number(entry.next?.unchanged.expected ?? null),
      number(entry.next?.corrected.expected ?? null),
      String(entry.conforming),
      String(entry.nonconforming),
      String(entry.unproven),
      entry.chasesNoise ? 'yes' : 'no',
    ]),
  };
}
