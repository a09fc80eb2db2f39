/** What the views of causes show: everything that is computed for them outside the page. */
import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, test } from 'vitest';
import { conformingAfter } from '../../shared-math/diagnosis/corrections/conforming-after.ts';
import { rotationFromVector } from '../../shared-math/geometry/rotation.ts';
import { roundStep, scaleOf, ticksBetween, tickText } from '../../src-renderer/chart/scale.ts';
import { wrapped } from '../../src-renderer/chart/wrapped.ts';
import { formatLimit, formatValue, type Units } from '../../src-renderer/format/format.ts';
import { delimited } from '../../src-renderer/parts/sheet.ts';
import {
  arrowsSheet,
  bladeArrows,
  fittingMagnification,
  inSection,
  sectionReach,
  shownWords,
} from '../../src-renderer/views/arrows/arrows.ts';
import {
  calculatorCards,
  positionUsed,
  typedNumber,
} from '../../src-renderer/views/calculator/calculations.ts';
import { BudgetChart, spokenRow } from '../../src-renderer/views/causes/budget-chart.tsx';
import { effectsOf, vectorOf, worstEffect } from '../../src-renderer/views/causes/effects.ts';
import { evaluatedWords } from '../../src-renderer/views/causes/evaluated.ts';
import {
  againstLine,
  type CauseRow,
  causeRows,
  causesSheet,
  chartEnd,
  parameterFigure,
  parameterUnit,
  standingOf,
} from '../../src-renderer/views/causes/rows.ts';
import { predictedSheet, settingName, settingsSheet } from '../../src-renderer/views/corrections/sheets.ts';
import { harmonicAt, harmonicsSheet, indexSheet } from '../../src-renderer/views/index/channels.ts';
import { bandOutline, sequencePanels, sequenceSheet } from '../../src-renderer/views/sequence/panels.ts';
import { exampleDiagnosis } from '../support/example-diagnosis.ts';
import { exampleDisc } from '../support/example-disc.ts';

const bare = exampleDisc();
const welds = bare.result.stations.map(({ station }, index) => ({
  station,
  sequence: index + 1,
  tool: index < 9 ? 'T1' : 'T2',
  date: '',
  values: {},
}));
const disc = { ...bare, welds };
const diagnosis = exampleDiagnosis(disc);
const mm: Units = { length: 'mm', rotation: 'degree' };
const fine: Units = { length: 'µm', rotation: 'arc-second' };

describe('scales', () => {
  test('steps are 1, 2 or 5 times a power of ten, never smaller than asked', () => {
    for (const [asked, step] of [
      [0.011, 0.02],
      [0.02, 0.02],
      [3, 5],
      [6, 10],
      [1, 1],
    ] as const)
      expect(roundStep(asked)).toBeCloseTo(step, 12);
    expect(roundStep(0)).toBe(1);
  });

  test('ticks lie within the range, evenly, zero among them', () => {
    const ticks = ticksBetween(-0.013, 0.021, 5);
    expect(ticks.map((tick) => Number(tick.toFixed(6)))).toEqual([-0.01, 0, 0.01, 0.02]);
    const scale = scaleOf(-1, 3, 400, 0, 4);
    expect(scale.at(-1)).toBe(400);
    expect(scale.at(3)).toBe(0);
    expect(scale.at(1)).toBe(200);
  });

  test('figures carry no noise of rounding and a true minus', () => {
    expect(tickText(0.1 + 0.2)).toBe('0.3');
    expect(tickText(-0.02)).toBe('−0.02');
    expect(tickText(-0)).toBe('0');
  });
});

describe('causes', () => {
  const rows = causeRows(diagnosis);

  test('stand by size, what scatter hides and what was not examined behind them', () => {
    const standings = rows.map(({ component }) => standingOf(component));
    expect(standings).toEqual([...standings].sort((a, b) => order.indexOf(a) - order.indexOf(b)));
    const causes = rows.filter((_, index) => standings[index] === 'cause');
    const sizes = causes.map(({ component }) => component.size?.value ?? 0);
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
    expect(rows.filter((row) => row.leading).map(({ component }) => component.name)).toEqual(['ringShift']);
    expect(rows).toHaveLength(diagnosis.components.length);
  });
  const order = ['cause', 'rest', 'noise', 'absent'];

  test('the scale holds every interval but those of outlying stations', () => {
    const end = chartEnd(rows, 0.05);
    for (const { component, line } of rows) {
      if (component.name === 'outliers') expect(component.size?.value).toBeGreaterThan(end);
      else expect(end).toBeGreaterThan(Math.max(component.size?.high ?? 0, line?.allocated ?? 0));
    }
    expect(end).toBeGreaterThan(0.05);
    expect(chartEnd(rows, 1)).toBeGreaterThan(1);
  });

  test('a cause is over its allocation only where its line is, and it takes that much itself', () => {
    const over = rows.filter((row) => againstLine(row) === 'over').map(({ component }) => component.name);
    expect(over).toContain('ringShift');
    // The line says undecided.
    expect(over).not.toContain('index');
  });

  test('what keeps within its allocation says how much position it uses, since its bar shows displacement', () => {
    const row = rows.find((one) => againstLine(one) === 'within' && one.component.consumed !== null);
    const consumed = row?.component.consumed;
    if (row?.line?.allocated == null || consumed == null)
      throw new Error('The example has a line that is kept.');
    expect(consumed).toBeLessThanOrEqual(row.line.allocated);
    expect(spokenRow(row, mm)).toContain(`uses ${formatValue(consumed, 'size', mm)}, within its`);
  });

  test('what lies above its allocation with an interval that holds it is marked in words and by a sign', () => {
    const row = rows.find(({ component }) => component.name === 'index');
    if (row?.line?.allocated == null || row.line.found === null) throw new Error('The example allocates it.');
    const { allocated, found } = row.line;
    const withFound = (value: number) => ({
      ...row,
      line: {
        ...row.line!,
        state: 'undecided' as const,
        distinguishable: true,
        found: { ...found, value, low: 0.5 * allocated, high: 2 * allocated },
      },
    });
    expect(againstLine(withFound(0.9 * allocated))).toBeNull();
    const above = withFound(1.1 * allocated);
    expect(againstLine(above)).toBe('uncertain');
    expect(spokenRow(above, mm)).toContain(`over its ${formatLimit(allocated, 'size', mm)}, uncertain`);
    const chart = (shown: CauseRow) =>
      renderToStaticMarkup(
        createElement(BudgetChart, {
          rows: [shown],
          tolerance: 0.05,
          units: mm,
          chosen: null,
          onChoose: () => {},
          width: 700,
          height: 200,
        }),
      );
    expect(chart(above)).toContain('class="mark unproven"');
    expect(chart(withFound(0.9 * allocated))).not.toContain('class="mark');
    expect(againstLine({ ...above, line: { ...above.line, distinguishable: false } })).toBeNull();
  });

  test('of a line that several share, each is judged by its own position and interval', () => {
    const row = rows.find(({ component }) => component.name === 'common');
    const frame = diagnosis.budget.lines.find(({ name }) => name === 'frame');
    if (row?.component.size == null || frame?.allocated == null) throw new Error('The example has both.');
    const { allocated } = frame;
    const taking = (low: number, consumed: number): CauseRow => ({
      ...row,
      line: { ...frame, components: ['ringShift', 'common'], state: 'over', distinguishable: true },
      component: { ...row.component, size: { ...row.component.size!, value: consumed, low }, consumed },
    });
    expect(againstLine(taking(0.5 * allocated, 0.9 * allocated))).toBeNull();
    expect(againstLine(taking(0.8 * allocated, 1.2 * allocated))).toBe('uncertain');
    expect(againstLine(taking(1.1 * allocated, 1.2 * allocated))).toBe('over');
  });

  test('parameters show in the chosen units, per weld where they are a drift', () => {
    const [parameter] = diagnosis.components[0]?.parameters ?? [];
    if (parameter === undefined) throw new Error('The example has parameters.');
    expect(parameterFigure(parameter.value, parameter, fine)).toBe('+9.5');
    expect(parameterUnit(parameter, fine)).toBe('µm');
    expect(parameterUnit({ ...parameter, unit: 'rad/weld' }, fine)).toBe('″ per weld');
    const angle = { ...parameter, unit: 'degree' as const };
    expect(parameterFigure(-63.356, angle, fine)).toBe('−63.36');
    expect(parameterUnit(angle, fine)).toBe('°');
  });

  test('the table for other programs holds each component once, with reason where it was not examined', () => {
    const sheet = causesSheet(rows, mm);
    expect(sheet.rows).toHaveLength(9);
    const column = (name: string) => sheet.head.findIndex((head) => head.startsWith(name));
    const ring = sheet.rows.find(([title]) => title === 'Ring shift');
    expect(Number(ring?.[column('size')])).toBe(0.046);
    expect(ring?.[column('standing')]).toBe('stands out of scatter');
    const wear = sheet.rows.find(([title]) => title === 'Wear');
    expect(wear?.[column('standing')]).toBe('not examined');
    expect(wear?.[column('sentence')]).toContain('no welds file');
  });
});

describe('sheets', () => {
  test('cells that a spreadsheet would run or split are guarded', () => {
    const text = delimited(
      {
        head: ['a', 'b'],
        rows: [
          ['=1+1', '-0.5'],
          ['x, "y"', '-no'],
        ],
      },
      ',',
    );
    expect(text).toBe('a,b\n\'=1+1,-0.5\n"x, ""y""",\'-no\n');
    expect(delimited({ head: ['a'], rows: [['x\ty\nz']] }, '\t')).toBe('a\nx y z\n');
  });
});

describe('effects at check points', () => {
  const station = bare.result.stations[0];
  if (station === undefined) throw new Error('The example has stations.');

  test('are those of the rigid motion at each check point', () => {
    const error = [0.004, -0.003, 0.002, 1e-4, -2e-4, 3e-4] as const;
    const [root, tip] = effectsOf(error, station);
    expect(root?.delta.map((value) => Number(value.toFixed(12)))).toEqual([0.004, -0.003, 0.002]);
    expect(root?.position).toBeCloseTo(0.01, 12);
    // A turn about lateral carries a point up the stacking axis along oscillation, one about oscillation against lateral.
    const r = rotationFromVector([1e-4, -2e-4, 3e-4]);
    expect(tip?.delta[0]).toBeCloseTo(0.004 + 160 * r[0][2], 12);
    expect(tip?.delta[1]).toBeCloseTo(-0.003 + 160 * r[1][2], 12);
    expect(tip?.delta[0]).toBeCloseTo(0.004 - 160 * 2e-4, 5);
    expect(tip?.delta[1]).toBeCloseTo(-0.003 - 160 * 1e-4, 5);
    expect(worstEffect(error, station)?.name).toBe('tip');
  });

  test('an error that is not observed leaves no vector', () => {
    const open = bare.result.stations.find(({ unobservable }) => unobservable.length > 0);
    expect(open === undefined ? 'none' : vectorOf(open.error)).toBeNull();
    expect(vectorOf(station.error)).toHaveLength(6);
  });
});

describe('arrows', () => {
  const measured = { of: 'measured', without: [], alone: null } as const;

  test('what is taken out and what stands alone add up to what was measured', () => {
    const all = bladeArrows(disc, diagnosis, measured);
    const without = bladeArrows(disc, diagnosis, { ...measured, of: 'without', without: ['ringShift'] });
    const alone = bladeArrows(disc, diagnosis, { ...measured, of: 'alone', alone: 'ringShift' });
    expect(all).toHaveLength(16);
    for (const [index, { station, arrows }] of all.entries())
      arrows.forEach(({ delta }, point) => {
        const part = alone.find((blade) => blade.station === station)?.arrows[point]?.delta ?? [];
        const rest = without[index]?.arrows[point]?.delta ?? [];
        // Rotations of some tenths of a milliradian add up but for products of two of them, times the lever.
        delta.forEach((value, axis) => {
          expect((part[axis] ?? 0) + (rest[axis] ?? 0)).toBeCloseTo(value, 5);
        });
      });
  });

  test('displacements lie along the axes of the blade in the disc', () => {
    const [blade] = bladeArrows(disc, diagnosis, measured);
    const station = disc.result.stations[0];
    const delta = station?.position.checkPoints[0]?.displacement ?? [0, 0, 0];
    // The example's blade frame: oscillation along z, lateral along y, upset along x.
    const [x, y, z] = blade?.arrows[0]?.delta ?? [];
    expect(x).toBeCloseTo(delta[2] ?? 0, 9);
    expect(y).toBeCloseTo(delta[1] ?? 0, 9);
    expect(z).toBeCloseTo(delta[0] ?? 0, 9);
  });

  test('the section shows the radial and the axial part', () => {
    const blade = { station: 1, origin: [0, 240, 15] as const, arrows: [] };
    expect(inSection(blade, [3, 4, 5])).toEqual([4, 5]);
  });

  test('the magnification is round and makes the largest arrow visible but not larger than the disc', () => {
    const blades = bladeArrows(disc, diagnosis, measured);
    const magnification = fittingMagnification(blades);
    expect(Number.isInteger(magnification)).toBe(true);
    const largest = Math.max(
      ...blades.flatMap(({ arrows }) => arrows.map((one) => Math.hypot(...one.delta))),
    );
    expect(magnification * largest).toBeGreaterThan(0.08 * 400);
    expect(magnification * largest).toBeLessThan(0.4 * 400);
  });

  test('the words and the table say what is shown', () => {
    const titles = new Map(diagnosis.components.map(({ name, title }) => [name, title]));
    const words = shownWords({ ...measured, of: 'without', without: ['ringShift', 'index'] }, titles);
    expect(words).toBe('measured without ring shift, index');
    const blades = bladeArrows(disc, diagnosis, measured);
    const sheet = arrowsSheet(blades, words, mm);
    expect(sheet.rows).toHaveLength(32);
    for (const row of sheet.rows) expect(row.at(-1)).toBe(words);
  });
});

describe('around the disc', () => {
  test('the curve is the sum of the significant harmonics only', () => {
    const at = (degrees: number) => harmonicAt(diagnosis.harmonics, 'index', (degrees * Math.PI) / 180);
    expect(at((1.92 * 180) / Math.PI)).toBeCloseTo(0.0000194, 12);
    expect(at((1.92 * 180) / Math.PI + 180)).toBeCloseTo(-0.0000194, 12);
    expect(harmonicAt(diagnosis.harmonics, 'radial', 1)).toBe(0);
  });

  test('tables hold every order and every station in the display units', () => {
    expect(harmonicsSheet(diagnosis.harmonics, mm).rows).toHaveLength(7 * 9);
    const sheet = indexSheet(diagnosis.index, fine);
    const [first] = diagnosis.index.stations;
    expect(sheet.head[2]).toBe('deviation (arcsec)');
    expect(Number(sheet.rows[0]?.[2])).toBeCloseTo(((first?.deviation.value ?? 0) * 180 * 3600) / Math.PI, 3);
    expect(Number(sheet.rows[0]?.[5])).toBeCloseTo(1000 * (first?.arc ?? 0), 3);
  });
});

describe('the weld sequence', () => {
  const { sequence, outliers } = diagnosis;
  if (sequence === null) throw new Error('The example has welds.');

  test('each error is drawn once a weld, outlying stations marked and kept out of the scale', () => {
    const panels = sequencePanels(sequence, outliers);
    expect(panels.map(({ error }) => error)).toHaveLength(6);
    for (const panel of panels) {
      expect(panel.marks).toHaveLength(17);
      expect(panel.marks.filter((mark) => mark.outlier).map((mark) => mark.station)).toEqual(
        outliers.map((entry) => entry.station),
      );
      for (const mark of panel.marks.filter((one) => !one.outlier)) {
        expect(mark.value).toBeGreaterThanOrEqual(panel.low);
        expect(mark.value).toBeLessThanOrEqual(panel.high);
      }
      for (const { from, to } of panel.lines) {
        expect(Math.min(from.low, to.low)).toBeGreaterThanOrEqual(panel.low);
        expect(Math.max(from.high, to.high)).toBeLessThanOrEqual(panel.high);
      }
    }
  });

  test('the band of a line is drawn through every place where it is known, along below and back above', () => {
    const band = [
      { sequence: 1, low: -2, high: 2 },
      { sequence: 2.5, low: -1, high: 1 },
      { sequence: 4, low: -3, high: 3 },
    ];
    expect(bandOutline(band, (x, y) => `${x} ${y}`)).toBe('M1 -2L2.5 -1L4 -3L4 3L2.5 1L1 2Z');
  });

  test('welds of stations that were not reduced keep their row in the table', () => {
    const gap = {
      ...sequence,
      welds: sequence.welds.map((weld, i) => (i === 0 ? { ...weld, error: null } : weld)),
    };
    expect(sequencePanels(gap, outliers)[0]?.marks).toHaveLength(16);
    const sheet = sequenceSheet(gap, mm);
    expect(sheet.rows).toHaveLength(17);
    expect(sheet.rows[0]?.slice(4)).toEqual(['', '', '', '', '', '']);
  });
});

describe('the section of arrows', () => {
  test('has room for every arrow at the fitting magnification', () => {
    const blades = bladeArrows(disc, diagnosis, { of: 'measured', without: [], alone: null });
    const magnification = fittingMagnification(blades);
    const ends = blades.flatMap((blade) =>
      blade.arrows.flatMap(({ at, delta }) => {
        const [from, by] = [inSection(blade, at)[0], inSection(blade, delta)[0]];
        return [from, from + magnification * by];
      }),
    );
    expect(Math.max(...ends)).toBe(sectionReach(blades));
  });
});

describe('names on a chart', () => {
  test('are broken between words and never cut', () => {
    expect(wrapped('Common axial shift and clocking', 26)).toEqual(['Common axial shift and', 'clocking']);
    expect(wrapped('Common axial shift and clocking', 31)).toEqual(['Common axial shift and clocking']);
    for (const { title } of diagnosis.components)
      for (const most of [5, 12, 23]) expect(wrapped(title, most).join(' ')).toBe(title);
  });
});

describe('counts of stations', () => {
  const numbers = disc.result.stations.map(({ station }) => station);
  const { summary } = disc.result;
  const missing = summary.missing.map(({ station }) => station);
  const whole = { ...disc, result: { ...disc.result, summary: { ...summary, stations: 17, missing: [] } } };

  test('say why not all stations of the plan have a say', () => {
    expect(missing).toHaveLength(1);
    expect(evaluatedWords(disc, numbers)).toBe(
      `${numbers.length} of ${summary.stations} stations evaluated; station ${missing[0]} missing`,
    );
    const [first = 0, second = 0, ...others] = numbers;
    expect(evaluatedWords(disc, others, [first])).toBe(
      `${others.length} of ${summary.stations} stations evaluated; station ${missing[0]} missing; station ${first} left out; station ${second} without all six errors`,
    );
    expect(evaluatedWords(whole, numbers)).toBeNull();
  });

  test('of a correction count the stations that it says nothing of as they were measured', () => {
    const [correction] = diagnosis.corrections;
    if (correction === undefined) throw new Error('no correction');
    const told = { ...correction, conforming: 0, predicted: correction.predicted.slice(1) };
    const untold = disc.result.stations.find(({ station }) => station === correction.predicted[0]?.station);
    expect(conformingAfter(told, disc.result.stations)).toBe(untold?.verdict === 'conforming' ? 1 : 0);
    expect(conformingAfter(correction, disc.result.stations)).toBe(correction.conforming);
    expect(conformingAfter({ ...told, predicted: [] }, disc.result.stations)).toBe(summary.conforming);
  });
});

describe('corrections', () => {
  test('the error found and the setting change never stand alone, and have opposite signs', () => {
    for (const correction of diagnosis.corrections)
      for (const [, , found, change] of settingsSheet(correction, mm).rows) {
        expect(found).not.toBe('');
        expect(Number(found) * Number(change)).toBeLessThanOrEqual(0);
      }
  });

  test('settings are named by what is set', () => {
    const names = diagnosis.corrections.flatMap(({ settings }) => settings.map(settingName));
    expect(names).toContain('Hub seating: shift along X');
    expect(names).toContain('Tool T1: rotation about upset');
    expect(names).toContain('Station 3: index');
  });

  test('the predicted table sets the measured position beside the predicted one', () => {
    const correction = diagnosis.corrections[0];
    if (correction === undefined) throw new Error('The example has corrections.');
    const sheet = predictedSheet(correction, disc, mm);
    const column = (name: string) => sheet.head.findIndex((head) => head.startsWith(name));
    for (const row of sheet.rows) {
      const measured = disc.result.stations.find(({ station }) => String(station) === row[0]);
      expect(Number(row[column('position measured')])).toBeCloseTo(measured?.position.value ?? Number.NaN, 6);
    }
    expect(
      sheet.head.filter((head) => head.includes('position')).every((head) => /measured|predicted/.test(head)),
    ).toBe(true);
  });
});

describe('the calculator', () => {
  test('every card calculates from the values it starts with', () => {
    for (const card of calculatorCards) {
      const quantities = Object.fromEntries(
        card.fields.map(({ key, value, unit }) => [key, { value: typedNumber(value) ?? Number.NaN, unit }]),
      );
      for (const unit of card.resultUnits) {
        const { value, formula, steps } = card.calculate(quantities, unit);
        expect(value, card.name).toBeGreaterThan(0);
        expect(formula).toContain('=');
        expect(steps.length).toBeGreaterThan(0);
      }
    }
  });

  test('one kilonewton on a hundred kilonewtons a millimetre is ten micrometres, twenty of position', () => {
    const card = calculatorCards.find(({ name }) => name === 'deflection');
    const result = card?.calculate(
      { force: { value: 1, unit: 'kN' }, stiffness: { value: 100, unit: 'kN/mm' } },
      'µm',
    );
    expect(result?.value).toBeCloseTo(10, 12);
    expect(result === undefined ? 0 : positionUsed(result).value).toBeCloseTo(20, 12);
  });

  test('numbers are read with a point, a comma or a true minus, and nothing else is a number', () => {
    expect(typedNumber(' 1,5 ')).toBe(1.5);
    expect(typedNumber('−2.25')).toBe(-2.25);
    for (const text of ['', ' ', 'abc', '1e999', '1.2.3']) expect(typedNumber(text)).toBeNull();
  });
});
