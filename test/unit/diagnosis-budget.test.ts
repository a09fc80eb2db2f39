/** The budget: what each line is used up by, how its state follows from the interval, and the sums. */
import { describe, expect, it, test } from 'vitest';
import type { BudgetDefinition, PartDefinition } from '../../shared-math/definition.ts';
import { budgetFinding as budgetOf } from '../../shared-math/diagnosis/budget.ts';
import type {
  BudgetLine,
  Component,
  ComponentName,
  Estimate,
  IndexStation,
  Scatter,
  Vec6,
} from '../../shared-math/diagnosis/findings.ts';
import { indexPosition, scatterPosition } from '../../shared-math/diagnosis/scatter-position.ts';
import { nominalBladeFrame } from '../../shared-math/frame/blade-frame.ts';
import { compose, inverse, rotationAboutLine } from '../../shared-math/geometry/rigid-motion.ts';
import { rotationFromVector } from '../../shared-math/geometry/rotation.ts';
import { displacement, positionValue } from '../../shared-math/pose/position.ts';
import { randomSource } from '../support/random.ts';
import { discDefinition } from '../support/synthetic-disc.ts';

const NO_SCATTER: Scatter = {
  process: [0, 0, 0, 0, 0, 0],
  measurement: [0, 0, 0, 0, 0, 0],
  index: 0,
  degreesOfFreedom: 60,
};

function size(value: number, half: number): Estimate {
  return {
    value,
    standard: half / 2,
    low: Math.max(0, value - half),
    high: value + half,
    degreesOfFreedom: 40,
  };
}

/** A component that moves every blade by the same error. */
function component(name: ComponentName, error: Vec6, half = 0.002, more: Partial<Component> = {}): Component {
  // Cylindrical zones at the root: half of the position is √(oscillation² + lateral²).
  const value = 2 * Math.hypot(error[0], error[1]);
  return {
    name,
    title: name,
    notExamined: null,
    significant: true,
    test: null,
    size: size(value, half),
    at: { station: 1, checkPoint: 'root' },
    rms: value,
    consumed: value,
    share: 0.1,
    sumOfSquares: 1,
    dimensions: 1,
    parameters: [],
    readings: [],
    stations: Array.from({ length: 18 }, (_, k) => ({ station: k + 1, error })),
    sentence: '',
    ...more,
  };
}

function definition(
  lines: BudgetDefinition['lines'] | null,
  others: BudgetDefinition['others'] = [],
): PartDefinition {
  return { ...discDefinition(), budget: lines && { lines, others } };
}

function line(lines: readonly BudgetLine[], name: string): BudgetLine {
  return lines.find((one) => one.name === name)!;
}

/** What is known of the index of each station, with this standard uncertainty (rad). */
function indexStations(standard: number): IndexStation[] {
  return Array.from({ length: 18 }, (_, k) => ({
    station: k + 1,
    angle: 20 * k,
    deviation: { value: 0, standard, low: -2 * standard, high: 2 * standard, degreesOfFreedom: null },
    arc: 0,
    harmonic: 0,
    rest: 0,
    singlePitch: 0,
    cumulativePitch: 0,
  }));
}

function budgetFinding(components: readonly Component[], scatter: Scatter, part: PartDefinition) {
  return budgetOf(components, scatter, indexStations(0), part);
}

const along = (mm: number): Vec6 => [mm, 0, 0, 0, 0, 0];
const across = (mm: number): Vec6 => [0, mm, 0, 0, 0, 0];

describe('lines', () => {
  test.each([
    ['within', 0.01, 0.003, 0.015],
    ['undecided', 0.01, 0.003, 0.011],
    ['undecided', 0.01, 0.003, 0.009],
    ['over', 0.01, 0.003, 0.006],
  ] as const)('%s where the interval %f ± %f meets %f so', (state, value, half, allocated) => {
    const { lines } = budgetFinding(
      [component('wear', along(value / 2), half)],
      NO_SCATTER,
      definition({ wear: allocated }),
    );
    const wear = line(lines, 'wear');
    expect(wear.state).toBe(state);
    expect(wear.used).toBeCloseTo(value / allocated, 12);
    expect(wear.found?.low).toBeCloseTo(value - half, 12);
    expect(wear.found?.high).toBeCloseTo(value + half, 12);
  });

  it('a cause that does not stand out consumes nothing, but its interval counts', () => {
    const shift = component('ringShift', along(0.002), 0.005, { significant: false });
    const wide = line(budgetFinding([shift], NO_SCATTER, definition({ frame: 0.008 })).lines, 'frame');
    expect(wide).toMatchObject({ distinguishable: false, state: 'undecided', used: 0 });
    expect(wide.found).toMatchObject({ value: 0, low: 0 });
    expect(wide.found?.high).toBeCloseTo(0.009, 12);
    const { lines, found } = budgetFinding([shift], NO_SCATTER, definition({ frame: 0.01 }));
    expect(line(lines, 'frame').state).toBe('within');
    expect(found.worstCase).toBe(0);
  });

  it('a cause that was not examined is unknown', () => {
    const wear = component('wear', along(0), 0, {
      notExamined: 'No welds file.',
      size: null,
      consumed: null,
    });
    const { lines } = budgetFinding([wear], NO_SCATTER, definition({ wear: 0.01 }));
    expect(line(lines, 'wear')).toMatchObject({ found: null, used: null, state: 'unknown' });
  });

  it('ring shift and common offset add up blade by blade on the frame', () => {
    const both = [component('ringShift', along(0.003)), component('common', across(0.004))];
    const { lines } = budgetFinding(both, NO_SCATTER, definition({ frame: 0.02, toolSetup: 0.02 }));
    const frame = line(lines, 'frame');
    expect(frame.found?.value).toBeCloseTo(0.01, 9);
    expect(frame.found!.high - frame.found!.value).toBeCloseTo(0.002 * Math.SQRT2, 12);
  });

  it('the common offset is booked on the frame, and otherwise on the tool', () => {
    const all = [
      component('ringShift', along(0.003)),
      component('common', across(0.004)),
      component('toolSetup', across(0.001)),
    ];
    const { lines, found } = budgetFinding(all, NO_SCATTER, definition({ frame: 0.02, toolSetup: 0.001 }));
    expect(line(lines, 'frame').otherwise?.found?.value).toBeCloseTo(0.006, 9);
    expect(line(lines, 'toolSetup').found?.value).toBeCloseTo(0.002, 9);
    expect(line(lines, 'toolSetup').otherwise?.found?.value).toBeCloseTo(0.01, 9);
    expect(line(lines, 'toolSetup').otherwise?.state).toBe('over');
    expect(line(lines, 'wear').otherwise).toBeNull();
    // The other booking is not counted a second time.
    expect(found.worstCase).toBeCloseTo(0.01 + 0.002, 9);
    const quiet = all.map((c) => (c.name === 'common' ? { ...c, significant: false } : c));
    const without = budgetFinding(quiet, NO_SCATTER, definition({ frame: 0.02 })).lines;
    expect(line(without, 'frame').otherwise).toBeNull();
  });

  it('lines of the plan that no point shows stand below, with what is known of them', () => {
    const { lines, allocated, found } = budgetFinding(
      [],
      NO_SCATTER,
      definition({}, [
        { name: 'Deflection', allocated: 0.004, found: 0.006 },
        { name: 'Clamp', allocated: 0.003, found: null },
      ]),
    );
    expect(line(lines, 'Deflection')).toMatchObject({ state: 'over', used: 1.5, components: [] });
    expect(line(lines, 'Clamp')).toMatchObject({ state: 'unknown', found: null });
    expect(allocated.worstCase).toBeCloseTo(0.007, 12);
    expect(found.worstCase).toBeCloseTo(0.006, 12);
  });
});

describe('sums', () => {
  const causes = [component('wear', along(0.006)), component('index', across(0.008))];

  it('are arithmetic and root sum of squares, and leave the rest of the tolerance', () => {
    const finding = budgetFinding(causes, NO_SCATTER, definition({ wear: 0.03, index: 0.04 }));
    expect(finding.tolerance).toBe(0.05);
    expect(finding.allocated.worstCase).toBeCloseTo(0.07, 12);
    expect(finding.allocated.rootSumSquare).toBeCloseTo(0.05, 12);
    expect(finding.found.worstCase).toBeCloseTo(0.028, 12);
    expect(finding.found.rootSumSquare).toBeCloseTo(0.02, 12);
    expect(finding.left.worstCase).toBeCloseTo(0.022, 12);
    expect(finding.left.rootSumSquare).toBeCloseTo(0.03, 12);
    expect(finding.sentence).toContain('Every line that was examined keeps within its allocation.');
  });

  it('count harmonics and leave outliers out', () => {
    const { lines, found } = budgetFinding(
      [...causes, component('harmonics', along(0.001)), component('outliers', along(0.04))],
      NO_SCATTER,
      definition({}),
    );
    expect(found.worstCase).toBeCloseTo(0.03, 12);
    expect(line(lines, 'outliers')).toMatchObject({ counted: false, allocated: null, state: 'unknown' });
    expect(line(lines, 'outliers').found?.value).toBeCloseTo(0.08, 12);
  });

  it('name the lines that are overspent, and those that cannot be told', () => {
    const { sentence } = budgetFinding(causes, NO_SCATTER, definition({ wear: 0.008, index: 0.0165 }));
    expect(sentence).toContain('tool wear at the end of the longest life seen, 12 µm of 8 µm');
    expect(sentence).toContain('Too uncertain to tell: index');
    expect(sentence).not.toContain('Every line');
  });

  it('state both readings of the common offset', () => {
    const { sentence } = budgetFinding(
      [component('ringShift', along(0.003)), component('toolSetup', across(0.001))],
      NO_SCATTER,
      definition(null),
    );
    expect(sentence).not.toContain('booked on the hub frame');
    const both = budgetFinding(
      [
        component('ringShift', along(0.003)),
        component('common', across(0.004)),
        component('toolSetup', across(0.001)),
      ],
      NO_SCATTER,
      definition({}),
    );
    expect(both.sentence).toContain('booked on the hub frame (10 µm)');
    expect(both.sentence).toContain('the hub frame uses 6 µm and the tool set-up 10 µm instead of 2 µm');
  });

  it('say that nothing is allocated where the plan has no budget', () => {
    const { sentence, lines } = budgetFinding(causes, NO_SCATTER, definition(null));
    expect(sentence).toContain('The plan allocates nothing to single causes.');
    expect(lines.every(({ state }) => state === 'unknown')).toBe(true);
  });
});

describe('scatter', () => {
  const process: Vec6 = [0.003, 0.005, 0.002, 2e-5, 4e-5, 1e-4];
  const scatter: Scatter = {
    ...NO_SCATTER,
    process,
    measurement: process.map((s) => s / 3) as unknown as Vec6,
  };
  const { stations } = discDefinition();

  it('keeps 95 % of simulated blades within its position at the worst check point', () => {
    const { value } = scatterPosition(scatter, stations, 0.95);
    const random = randomSource(7);
    const shares = stations[0]!.requirement.checkPoints.map((point) => {
      let within = 0;
      const trials = 20_000;
      for (let i = 0; i < trials; i++) {
        const [x, y, z, a, b, c] = process.map((s) => s * random.normal()) as unknown as Vec6;
        const motion = { translation: [x, y, z], rotation: rotationFromVector([a, b, c]) } as const;
        if (positionValue(displacement(motion, point.at), point) <= value) within++;
      }
      return within / trials;
    });
    // Four standard deviations of a share of 0.95 in 20 000 trials.
    expect(Math.abs(Math.min(...shares) - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / 20_000));
  });

  it('has an interval of standard deviations where measurement is small', () => {
    const exact = { ...scatter, measurement: NO_SCATTER.measurement, degreesOfFreedom: 30 };
    const { value, low, high } = scatterPosition(exact, stations, 0.95);
    // √(30/χ²) at 0.975 and 0.025 with 30 degrees of freedom: 46.979 and 16.791 (SciPy 1.17.1).
    expect(low / value).toBeCloseTo(Math.sqrt(30 / 46.979), 4);
    expect(high / value).toBeCloseTo(Math.sqrt(30 / 16.791), 4);
  });

  it('that measurement hides still has an upper bound', () => {
    const hidden = { ...scatter, process: NO_SCATTER.process };
    const { value, low, high } = scatterPosition(hidden, stations, 0.95);
    expect([value, low]).toEqual([0, 0]);
    expect(high).toBeGreaterThan(0.001);
    const used = line(budgetFinding([], hidden, definition({ scatter: high / 2 })).lines, 'scatter');
    expect(used.state).toBe('undecided');
  });
});

describe('index', () => {
  const TURN = 2e-5;
  const disc = discDefinition();
  const scattered: Scatter = { ...NO_SCATTER, index: TURN };

  it('keeps 95 % of simulated blades within its position, harmonics and scatter together', () => {
    const harmonics = new Map<number, Vec6>([[3, [0.004, -0.006, 0.001, 1e-5, 2e-5, -3e-5]]]);
    const stations = disc.stations.filter(({ station }) => station === 3);
    const { value } = indexPosition(TURN, indexStations(0), harmonics, stations, 17, 0.95);
    const { angle, seat, requirement } = stations[0]!;
    const nominal = nominalBladeFrame(angle, seat);
    const [x, y, z, a, b, c] = harmonics.get(3)!;
    const own = { translation: [x, y, z], rotation: rotationFromVector([a, b, c]) } as const;
    const random = randomSource(17);
    const trials = 20_000;
    const within = requirement.checkPoints.map(() => 0);
    for (let i = 0; i < trials; i++) {
      const turn = rotationAboutLine([0, 0, 0], [0, 0, 1], TURN * random.normal());
      const error = compose(inverse(nominal), compose(turn, compose(nominal, own)));
      requirement.checkPoints.forEach((point, p) => {
        if (positionValue(displacement(error, point.at), point) <= value) within[p] = within[p]! + 1;
      });
    }
    expect(Math.abs(Math.min(...within) / trials - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / trials));
  });

  it('that scatters from station to station uses up its line, not that of scatter', () => {
    const quiet = component('index', along(0.001), 0.001, { significant: false });
    const { lines } = budgetOf([quiet], scattered, indexStations(0), {
      ...disc,
      budget: { lines: {}, others: [] },
    });
    expect(line(lines, 'index')).toMatchObject({ distinguishable: true });
    expect(line(lines, 'index').found!.value).toBeGreaterThan(1.9 * 2 * TURN * 200);
    expect(line(lines, 'scatter').found!.value).toBe(0);
  });

  it('that measurement explains consumes nothing, but its interval counts', () => {
    const quiet = component('index', along(0.001), 0.001, { significant: false });
    const { lines } = budgetOf([quiet], scattered, indexStations(2 * TURN), {
      ...disc,
      budget: { lines: { index: 0.001 }, others: [] },
    });
    const index = line(lines, 'index');
    expect(index).toMatchObject({ distinguishable: false, state: 'undecided' });
    expect(index.found).toMatchObject({ value: 0, low: 0 });
    expect(index.found!.high).toBeGreaterThan(0.001);
  });

  it('without scatter is what its harmonics are', () => {
    const { lines } = budgetOf([component('index', along(0.006))], NO_SCATTER, indexStations(0), disc);
    expect(line(lines, 'index').found).toMatchObject({ value: 0.012, low: 0.01 });
    expect(line(lines, 'index').found!.high).toBeCloseTo(0.014, 12);
  });
});
