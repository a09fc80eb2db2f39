/** The calculator: exact factors, the formulas in mixed units, and the steps that lead to each result. */
import { describe, expect, it, test } from 'vitest';
import {
  angleOfArc,
  arcAtRadius,
  conversion,
  deflection,
  leverDisplacement,
  MATERIALS,
  positionOfDisplacement,
  thermalGrowth,
  unitsOf,
} from '../../shared-math/calculator/index.ts';
import { ReductionError } from '../../shared-math/errors.ts';

describe('conversion', () => {
  // NIST SP 811 (2008), appendix B.
  test.each([
    ['in to mm', conversion('length', { value: 1, unit: 'in' }, 'mm').value, 25.4],
    ['lbf to N', conversion('force', { value: 1, unit: 'lbf' }, 'N').value, 4.448_221_615_260_5],
    [
      'lbf/in to N/mm',
      conversion('stiffness', { value: 1, unit: 'lbf/in' }, 'N/mm').value,
      0.175_126_835_246_477,
    ],
    ['arc-second to µrad', conversion('angle', { value: 1, unit: '″' }, 'µrad').value, 4.848_136_811_095_36],
    ['degree to arc-seconds', conversion('angle', { value: 1, unit: '°' }, '″').value, 3600],
    ['°F to K', conversion('temperatureDifference', { value: 9, unit: '°F' }, 'K').value, 5],
    // 4.78e-6/°F is the same as 8.6e-6/K, both printed for Ti-6Al-4V.
    ['per °F to per K', conversion('expansion', { value: 4.78, unit: '10⁻⁶/°F' }, '10⁻⁶/K').value, 8.604],
  ])('%s', (_, ours, reference) => {
    expect(Math.abs(ours / reference - 1)).toBeLessThan(5e-15);
  });

  it('goes there and back through every pair of units', () => {
    for (const from of unitsOf('length'))
      for (const to of unitsOf('length')) {
        const there = conversion('length', { value: 0.37, unit: from }, to).value;
        expect(conversion('length', { value: there, unit: to }, from).value).toBeCloseTo(0.37, 14);
      }
  });

  it('says its factor', () => {
    expect(conversion('length', { value: 2, unit: 'in' }, 'mm')).toEqual({
      value: 50.8,
      unit: 'mm',
      formula: '1 in = 25.4 mm',
      steps: ['2 in = 50.8 mm'],
    });
  });
});

describe('formulas', () => {
  it('deflection is force over stiffness, whatever the units', () => {
    const metric = deflection({ value: 12, unit: 'kN' }, { value: 400, unit: 'N/µm' });
    expect(metric).toEqual({
      value: 30,
      unit: 'µm',
      formula: 'δ = F / k',
      steps: [
        'Force: 12 kN = 12000 N',
        'Stiffness: 400 N/µm = 400000 N/mm',
        'Force over stiffness: 12000 N / 400000 N/mm = 0.03 mm',
        '0.03 mm = 30 µm',
      ],
    });
    // 100 lbf on 50 000 lbf/in are 0.002 in, whatever a pound is.
    const inches = deflection({ value: 100, unit: 'lbf' }, { value: 50_000, unit: 'lbf/in' }, 'in');
    expect(inches.value).toBeCloseTo(0.002, 16);
  });

  it('an arc-second at 100 mm is 0.4848 µm, and back', () => {
    const arc = arcAtRadius({ value: 1, unit: '″' }, { value: 100, unit: 'mm' });
    expect(arc.value).toBeCloseTo(0.484_813_681, 9);
    const angle = angleOfArc({ value: arc.value, unit: 'µm' }, { value: 100, unit: 'mm' });
    expect(angle.value).toBeCloseTo(1, 13);
    expect(angle.steps.at(-1)).toBe('0.00000484814 rad = 1 ″');
  });

  it('100 mm of Ti-6Al-4V grow by 0.86 µm a kelvin', () => {
    const titanium = MATERIALS.find(({ name }) => name.includes('Ti-6Al-4V'))!;
    const expansion = { value: titanium.expansion, unit: '10⁻⁶/K' } as const;
    const growth = thermalGrowth({ value: 100, unit: 'mm' }, { value: 1, unit: 'K' }, expansion);
    expect(growth.value).toBeCloseTo(0.86, 12);
    const colder = thermalGrowth({ value: 100, unit: 'mm' }, { value: -1.8, unit: '°F' }, expansion);
    expect(colder.value).toBeCloseTo(-0.86, 12);
  });

  it('a lever of 160 mm moves its end by 16 µm for 0.1 mrad, which is 32 µm of position', () => {
    const moved = leverDisplacement({ value: 0.1, unit: 'mrad' }, { value: 160, unit: 'mm' });
    expect(moved.value).toBeCloseTo(16, 12);
    expect(positionOfDisplacement({ value: -moved.value, unit: 'µm' }).value).toBeCloseTo(32, 12);
  });

  it('refuses what has no result', () => {
    const force = { value: 1, unit: 'N' } as const;
    expect(() => deflection(force, { value: 0, unit: 'N/µm' })).toThrow('stiffness must be above 0');
    expect(() => deflection({ value: Number.NaN, unit: 'N' }, { value: 1, unit: 'N/µm' })).toThrow(
      ReductionError,
    );
    expect(() => angleOfArc({ value: 1, unit: 'mm' }, { value: -1, unit: 'mm' })).toThrow('radius');
  });
});
