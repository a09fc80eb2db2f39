/** Every single value of a plan: where it stands, what it is called, its unit, and what it means in a sentence. */

interface Common {
  /** `blade.seat.radius` */
  readonly path: string;
  readonly label: string;
  readonly hint: string;
}
export interface TextField extends Common {
  readonly kind: 'text';
  readonly example?: string;
}
export interface NumberField extends Common {
  readonly kind: 'number';
  readonly unit: string;
  /** The same value in another unit, said beside it. */
  readonly also?: (value: number) => string;
  readonly whole?: boolean;
}
export interface ChoiceField extends Common {
  readonly kind: 'choice';
  /** Value, word, and what it means. `null` stands for "not stated". */
  readonly choices: readonly (readonly [value: string | boolean | null, text: string, meaning: string])[];
}
export interface VectorField extends Common {
  readonly kind: 'vector';
  readonly unit: string;
  readonly axes: readonly [string, string, string];
}
export type Field = TextField | NumberField | ChoiceField | VectorField;

const text = (path: string, label: string, hint: string, example = ''): TextField => ({
  kind: 'text',
  path,
  label,
  hint,
  example,
});
const number = (
  path: string,
  label: string,
  unit: string,
  hint: string,
  more: Partial<Pick<NumberField, 'also' | 'whole'>> = {},
): NumberField => ({ kind: 'number', path, label, unit, hint, ...more });

const inches = (value: number): string => `${(value / 25.4).toPrecision(4)} in`;
const arcMinutes = (value: number): string => `${((value * 180 * 60) / Math.PI).toPrecision(3)}′`;
const percent = (value: number): string => `${+(value * 100).toPrecision(6)} %`;
const perMillion = (value: number): string => `${+(value * 1e6).toPrecision(4)} µm/m`;
const microns = (value: number): string => `${+(value * 1000).toPrecision(4)} µm`;

export const identityFields: readonly TextField[] = [
  text('title', 'Title', 'Stands above every view and report of this disc.', 'Fan stage 1, first article'),
  text('part.name', 'Part', 'Name as the drawing has it.'),
  text('part.number', 'Part number', 'From the title block.'),
  text('part.revision', 'Revision', 'Of the drawing that the tolerances come from.'),
  text('part.serial', 'Serial number', 'Of the disc that was measured.'),
  text('part.material', 'Material', 'For the report; its expansion is set under Temperature.'),
];

export const inspectionFields: readonly TextField[] = [
  text('inspection.machine', 'Measuring machine', 'Name or inventory number.'),
  text('inspection.program', 'Measuring program', 'That made the point file.'),
  text('inspection.operator', 'Operator', 'Name or initials.'),
  text('inspection.date', 'Date of measurement', 'Year-month-day.', '2026-03-12'),
  text('inspection.calibrationDue', 'Calibration due', 'Of the measuring machine, year-month-day.'),
];

export const discFields: readonly Field[] = [
  number(
    'disc.stations',
    'Stations',
    'blades',
    'How many blades the disc has by the drawing, measured or not.',
    {
      whole: true,
    },
  ),
  number(
    'disc.firstAngle',
    'Angle of station 1',
    '°',
    'About the disc axis +Z, counted from +X of the disc frame.',
  ),
  {
    kind: 'choice',
    path: 'disc.sense',
    label: 'Numbers run',
    hint: 'Sense of the station numbers, looking at the disc from +Z (against the axis).',
    choices: [
      ['counterclockwise', 'Counterclockwise', 'Station 2 lies at a larger angle than station 1.'],
      ['clockwise', 'Clockwise', 'Station 2 lies at a smaller angle than station 1.'],
    ],
  },
];

export const seatFields: readonly NumberField[] = [
  number('blade.seat.radius', 'Radius', 'mm', 'From the disc axis to the blade origin.', { also: inches }),
  number(
    'blade.seat.axial',
    'Axial place',
    'mm',
    'Height of the blade origin over the disc origin, along +Z.',
    {
      also: inches,
    },
  ),
  number(
    'blade.seat.heightAngle',
    'Height angle φ',
    '°',
    'The stacking axis rises from radial towards +Z by this angle.',
  ),
  number(
    'blade.seat.staggerAngle',
    'Stagger angle ξ',
    '°',
    'The oscillation direction turns from the axial side towards growing angles.',
  ),
];

export const poseField: ChoiceField = {
  kind: 'choice',
  path: 'blade.pose',
  label: 'How the blade is placed',
  hint: 'By the datums in their order, as a drawing does, or by all blade points at once.',
  choices: [
    ['datum', 'By datums', 'Each datum takes the freedoms that the earlier ones left.'],
    ['bestfit', 'Best fit', 'All points of the blade against their nominal features at once.'],
  ],
};

export const positionFields: readonly Field[] = [
  number(
    'blade.position.tolerance',
    'Position tolerance',
    'mm',
    'Full size of the zone (diameter or width), as it stands in the frame.',
    {
      also: inches,
    },
  ),
  {
    kind: 'choice',
    path: 'blade.position.zone',
    label: 'Zone',
    hint: 'Shape in which the check point must lie.',
    choices: [
      ['cylindrical', '⌀ Cylindrical', 'About the stacking axis: play across it counts, along it does not.'],
      ['spherical', 'S⌀ Spherical', 'Every direction counts.'],
      ['planar', 'Planar', 'Only one direction counts: state it below.'],
    ],
  },
  {
    kind: 'vector',
    path: 'blade.position.direction',
    label: 'Direction of a planar zone',
    unit: '',
    axes: ['o', 'l', 'u'],
    hint: 'In the blade frame; any length. Not used by the other zones.',
  },
];

export const relatingFields: readonly NumberField[] = [
  number(
    'blade.position.featureRelating.tolerance',
    'Blades relative to each other',
    'mm',
    'Second level of position: one zone size for the whole pattern, which may move as the free motions allow.',
    {
      also: inches,
    },
  ),
];

export const limitFields: readonly NumberField[] = [
  number('blade.limits.oscillation', 'Oscillation', 'mm', 'Displacement along the oscillation direction.', {
    also: microns,
  }),
  number('blade.limits.lateral', 'Lateral', 'mm', 'Displacement across it.', { also: microns }),
  number('blade.limits.upset', 'Upset', 'mm', 'Displacement along the stacking axis.', { also: microns }),
  number('blade.limits.rotOscillation', 'Rotation about oscillation', 'rad', 'Right-handed.', {
    also: arcMinutes,
  }),
  number('blade.limits.rotLateral', 'Rotation about lateral', 'rad', 'Right-handed.', { also: arcMinutes }),
  number(
    'blade.limits.rotUpset',
    'Rotation about upset',
    'rad',
    'Right-handed; close to minus the stagger error.',
    { also: arcMinutes },
  ),
  number('blade.limits.radial', 'Radial', 'mm', 'Too far out or in.', { also: microns }),
  number('blade.limits.tangential', 'Tangential', 'mm', 'Along the pitch circle.', { also: microns }),
  number('blade.limits.axial', 'Axial', 'mm', 'Along the disc axis.', { also: microns }),
  number('blade.limits.lean', 'Lean', 'rad', 'Tilt of the stacking axis along the pitch circle.', {
    also: arcMinutes,
  }),
  number('blade.limits.sweep', 'Sweep', 'rad', 'Tilt of the stacking axis towards +Z.', { also: arcMinutes }),
  number('blade.limits.stagger', 'Stagger', 'rad', 'Measured minus nominal stagger angle.', {
    also: arcMinutes,
  }),
];

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
    { also: percent },
  ),
  number(
    'decision.factor',
    'Guard band factor',
    '× U',
    'Guarded rule, instead of a probability: width of the guard band in expanded uncertainties.',
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

function perMillionKelvin(value: number): string {
  return `${+(value * 1e6).toPrecision(4)} µm/(m·K)`;
}

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

export const budgetFields: readonly NumberField[] = [
  number('budget.toolSetup', 'Tool set-up', 'mm', 'Constant offset of the welding tool.', { also: microns }),
  number('budget.index', 'Index', 'mm', 'Angles of the indexing table.', { also: microns }),
  number('budget.frame', 'Hub frame', 'mm', 'Seating and shift of the whole ring against the hub.', {
    also: microns,
  }),
  number('budget.wear', 'Tool wear', 'mm', 'Growth with every weld.', { also: microns }),
  number('budget.toolChange', 'Tool change', 'mm', 'Step from one tool to the next.', { also: microns }),
  number('budget.scatter', 'Scatter', 'mm', 'What differs from weld to weld.', { also: microns }),
];

const freedom = (owner: string, key: string, name: string, unit: string): readonly NumberField[] => [
  number(
    `adjustments.${owner}${key}.limit`,
    `${name}, at most`,
    unit,
    'Largest setting either way; without it there is no bound.',
  ),
  number(
    `adjustments.${owner}${key}.step`,
    `${name}, step`,
    unit,
    'Smallest step of the setting; without it there is none.',
  ),
];

export const adjustmentFields: readonly NumberField[] = [
  ...freedom('tool.', 'oscillation', 'Tool, oscillation', 'mm'),
  ...freedom('tool.', 'lateral', 'Tool, lateral', 'mm'),
  ...freedom('tool.', 'upset', 'Tool, upset', 'mm'),
  ...freedom('tool.', 'rotOscillation', 'Tool, about oscillation', 'rad'),
  ...freedom('tool.', 'rotLateral', 'Tool, about lateral', 'rad'),
  ...freedom('tool.', 'rotUpset', 'Tool, about upset', 'rad'),
  ...freedom('hub.', 'x', 'Hub, along X', 'mm'),
  ...freedom('hub.', 'y', 'Hub, along Y', 'mm'),
  ...freedom('hub.', 'z', 'Hub, along Z', 'mm'),
  ...freedom('hub.', 'rotX', 'Hub, about X', 'rad'),
  ...freedom('hub.', 'rotY', 'Hub, about Y', 'rad'),
  ...freedom('hub.', 'rotZ', 'Hub, about Z', 'rad'),
  ...freedom('', 'index', 'Index', 'rad'),
];

export const allFields: readonly Field[] = [
  ...identityFields,
  ...inspectionFields,
  ...discFields,
  ...seatFields,
  poseField,
  ...positionFields,
  ...relatingFields,
  ...limitFields,
  ...uncertaintyFields,
  ...decisionFields,
  ...temperatureFields,
  ...associationFields,
  ...budgetFields,
  ...adjustmentFields,
];
