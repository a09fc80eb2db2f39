/** How points become numbers, and numbers verdicts. */
import { type Draft, textAt } from '../draft.ts';
import { microns, percent, perMillion, perMillionKelvin } from './conversions.ts';
import { type ChoiceField, type Field, type NumberField, number } from './field-types.ts';

export const uncertaintyFields: readonly NumberField[] = [
  number(
    'uncertainty.probing',
    'Point',
    'mm',
    'Standard uncertainty of a single point, where the file states none.',
    { also: microns },
  ),
  number('uncertainty.scale', 'Scale of the machine', '', 'Relative standard uncertainty of lengths.', {
    also: perMillion,
  }),
  number(
    'uncertainty.coverage',
    'Coverage',
    '',
    'Probability of the intervals; 0.95 where nothing is stated.',
    { also: percent },
  ),
  number(
    'uncertainty.formCorrelation',
    'Correlation of form',
    '',
    'How far form error repeats from point to point of a feature, 0 to 1; 0 where nothing is stated.',
  ),
];

/** Only the guarded rule asks for a proof. */
function unguarded(draft: Draft): string | null {
  const rule = textAt(draft, ['decision', 'rule']);
  if (rule === 'guarded') return null;
  return 'Without effect: value against limit asks for no proof. Choose the guarded rule to set it.';
}

export const decisionFields: readonly Field[] = [
  {
    kind: 'choice',
    path: 'decision.rule',
    label: 'Decision rule',
    hint: 'How value and uncertainty are held against a limit.',
    choices: [
      [null, 'Not stated', 'Value against limit.'],
      ['guarded', 'Guarded', 'Conformity, or the lack of it, must be proven.'],
      ['simple', 'Simple', 'Value against limit; the uncertainty is stated beside it.'],
    ],
  },
  number(
    'decision.probability',
    'Probability to prove',
    '',
    'Guarded rule: proven at this probability; 0.95 where nothing is stated.',
    { also: percent, idle: unguarded },
  ),
  number(
    'decision.factor',
    'Guard band factor',
    '× U',
    'Guarded rule, instead of a probability: width of the guard band in expanded uncertainties.',
    { idle: unguarded },
  ),
];

export const temperatureFields: readonly Field[] = [
  {
    kind: 'choice',
    path: 'temperature.applied',
    label: 'Coordinates hold',
    hint: 'To compensate twice is the common trap: look at the settings of the measuring program.',
    choices: [
      [null, 'Not stated', 'No temperature enters the uncertainty.'],
      [true, '20 °C values', 'The machine has compensated already; nothing is scaled.'],
      [false, 'Values as measured', 'Hubtrue scales them to 20 °C.'],
    ],
  },
  number('temperature.part', 'Part temperature', '°C', 'While it was measured.'),
  number('temperature.expansion', 'Expansion', '1/K', 'Coefficient of linear expansion of the part.', {
    also: perMillionKelvin,
  }),
  number('temperature.uPart', 'u (temperature)', 'K', 'Standard uncertainty of the part temperature.'),
  number('temperature.uExpansion', 'u (expansion)', '1/K', 'Standard uncertainty of the expansion.', {
    also: perMillionKelvin,
  }),
];

export const associationChoices: ChoiceField['choices'] = [
  [null, 'As the plan', 'What the whole plan asks for; least squares where it says nothing.'],
  ['gaussian', 'Least squares', 'Gaussian association.'],
  [
    'gaussian-outer',
    'Least squares, outer',
    'Direction by least squares, shifted to the outermost point of the material.',
  ],
  ['minimax', 'Minimum zone', 'The smallest zone that holds all points.'],
  ['maximum-inscribed', 'Maximum inscribed', 'Bores: the largest that fits in.'],
  ['minimum-circumscribed', 'Minimum circumscribed', 'Shafts: the smallest that fits around.'],
];

const wideAssociations = associationChoices.map(([value, word, meaning]) =>
  value === null ? ([null, 'Not stated', 'Least squares.'] as const) : ([value, word, meaning] as const),
);

export const associationFields: readonly Field[] = [
  {
    kind: 'choice',
    path: 'association',
    label: 'Association',
    hint: 'How a feature is laid through its points, unless a datum says otherwise. A drawing may ask for another than least squares.',
    choices: wideAssociations,
  },
  {
    kind: 'choice',
    path: 'weights',
    label: 'Weights of points',
    hint: 'All alike, or by the uncertainty column of the file.',
    choices: [
      [null, 'Not stated', 'All alike.'],
      ['equal', 'All alike', 'Each point counts the same.'],
      ['sigma', 'By sigma', 'Points of small uncertainty count more.'],
    ],
  },
  {
    kind: 'choice',
    path: 'screen.method',
    label: 'Screen for wild points',
    hint: 'Flags points that lie far from their feature; a datum may say otherwise.',
    choices: [
      [null, 'None', 'No point is looked for.'],
      ['huber', 'Huber', 'Robust fit that bounds the pull of far points.'],
      ['biweight', 'Biweight', 'Robust fit that lets far points go.'],
    ],
  },
  number(
    'screen.cutoff',
    'Flag beyond',
    'robust σ',
    'Robust standard deviations; 3.5 where nothing is stated.',
  ),
  {
    kind: 'choice',
    path: 'screen.exclude',
    label: 'Flagged points',
    hint: 'Leaving points out is always listed in the result.',
    choices: [
      [null, 'Stay in', 'They are reported only.'],
      [true, 'Are left out', 'Of everything that follows.'],
    ],
  },
];
