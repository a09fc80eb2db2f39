/** What stands on the drawing and in the head of an inspection. */
import { type Draft, isBlock, listAt, textAt, valueAt } from '../draft.ts';
import { arcMinutes, inches, microns } from './conversions.ts';
import {
  type ChoiceField,
  type Field,
  type NumberField,
  number,
  type TextField,
  text,
} from './field-types.ts';

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

/** Stations that differ, and check points with a zone of their own, take the direction from here as well. */
function undirected(draft: Draft): string | null {
  const overrides = valueAt(draft, ['overrides']);
  const blades = [valueAt(draft, ['blade']), ...(isBlock(overrides) ? Object.values(overrides) : [])];
  const zones = blades.flatMap((blade) => [
    textAt(blade, ['position', 'zone']),
    ...listAt(blade, ['position', 'checkPoints']).map((point) => textAt(point, ['zone'])),
  ]);
  if (zones.includes('planar')) return null;
  return 'Without effect: no zone is planar. Choose a planar zone to set it.';
}

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
    hint: 'In the blade frame; any length.',
    idle: undirected,
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
