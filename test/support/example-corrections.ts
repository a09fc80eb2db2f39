/** Budget and corrections of the invented diagnosis. */
import type {
  Correction,
  CorrectionKind,
  Setting,
} from '../../shared-math/diagnosis/corrections/correction.ts';
import type { BudgetFinding, BudgetLine, Vec6 } from '../../shared-math/diagnosis/findings.ts';
import type { Verdict } from '../../shared-math/result.ts';
import type { ReducedDisc } from '../../src-main/api.ts';

const line = (
  name: string,
  title: string,
  components: BudgetLine['components'],
  allocated: number | null,
  found: number | null,
  state: BudgetLine['state'],
): BudgetLine => ({
  name,
  title,
  components,
  allocated,
  found:
    found === null
      ? null
      : {
          value: found,
          standard: 0.002,
          low: found - 0.004,
          high: found + 0.004,
          degreesOfFreedom: 34,
        },
  used: found === null || allocated === null ? null : found / allocated,
  state,
  distinguishable: true,
  counted: true,
  otherwise:
    name === 'toolSetup'
      ? {
          found: null,
          used: null,
          state: 'unknown',
          words: 'The common part may belong to the hub frame: then the line of the hub frame bears it.',
        }
      : null,
});

export function exampleBudget(): BudgetFinding {
  return {
    tolerance: 0.05,
    lines: [
      line('toolSetup', 'Tool set-up', ['common', 'toolSetup'], 0.015, 0.0094, 'within'),
      line('index', 'Index', ['index'], 0.012, 0.0141, 'undecided'),
      line('frame', 'Hub frame and ring', ['ringShift'], 0.015, 0.046, 'over'),
      line('wear', 'Wear', ['wear'], 0.01, null, 'unknown'),
      line('toolChange', 'Tool change', ['toolChange'], null, null, 'unknown'),
      line('scatter', 'Scatter', ['scatter'], 0.02, 0.0098, 'within'),
      line('Deflection', 'Deflection', [], 0.005, null, 'unknown'),
    ],
    allocated: { worstCase: 0.077, rootSumSquare: 0.033 },
    found: { worstCase: 0.0793, rootSumSquare: 0.05 },
    left: { worstCase: -0.0293, rootSumSquare: 0 },
    sentence: 'The hub frame uses 46 µm of 15 µm allocated.',
  };
}

const setting = (
  kind: Setting['kind'],
  freedom: Setting['freedom'],
  of: string | null,
  found: number,
  step: number | null = null,
): Setting => {
  const change = step === null ? -found : -Math.round(found / step) * step;
  return { kind, freedom, of, found, change, exact: -found, step, limit: null, atLimit: false };
};

export function exampleCorrections(disc: ReducedDisc): readonly Correction[] {
  const { stations } = disc.result;
  const tool = [
    setting('tool', 'oscillation', 'T1', 0.0041),
    setting('tool', 'lateral', 'T1', -0.0032),
    setting('tool', 'rotUpset', 'T1', 0.00004),
  ];
  const hub = [
    setting('hub', 'x', null, 0.0098, 0.002),
    setting('hub', 'y', null, -0.0191, 0.002),
    setting('hub', 'rotX', null, 0.000016),
  ];
  const index = stations.map((entry) =>
    setting('index', 'index', String(entry.station), 0.00001 * Math.sin(entry.station), 0.0000048),
  );
  const kinds: readonly (readonly [CorrectionKind, string, readonly Setting[], number, boolean])[] = [
    ['hub', 'Seat the hub differently', hub, 0.5, false],
    ['tool', 'Set the tool differently', tool, 0.93, true],
    ['index', 'Offset the index by station', index, 0.9, false],
    ['all', 'All together', [...hub, ...tool, ...index], 0.4, false],
  ];
  const before = disc.result.summary.worst?.position ?? 0.1;
  return kinds.map(([kind, title, settings, part, chasesNoise]): Correction => {
    const predicted = stations.map((entry) => {
      const position = (entry.position.value ?? 0) * part;
      const verdict: Verdict = position <= disc.plan.tolerance ? 'conforming' : 'nonconforming';
      return {
        station: entry.station,
        error: Object.values(entry.error).map((value) => (value ?? 0) * part) as unknown as Vec6,
        position,
        at: entry.position.at,
        expanded: 0.004,
        probability: verdict === 'conforming' ? 0.99 : 0.01,
        verdict,
      };
    });
    const conforming = predicted.filter((entry) => entry.verdict === 'conforming').length;
    return {
      kind,
      title,
      settings,
      leftOut: [],
      before,
      optimum: before * part * 0.99,
      after: before * part,
      gap: 1e-9,
      interval: { low: before * part - 0.004, high: before * part + 0.005 },
      predicted,
      conforming,
      nonconforming: predicted.length - conforming,
      unproven: 0,
      noiseGain: 0.006,
      next: {
        unchanged: { expected: before, low: 0.9 * before, high: 1.15 * before },
        corrected: { expected: 1.1 * before * part, low: 0.95 * before * part, high: 1.3 * before * part },
      },
      chasesNoise,
      sentence: `${title}: the largest position falls to ${(before * part * 1000).toFixed(0)} µm.`,
    };
  });
}
