/** What the causes are held against, and what can be set before the next disc. */
import { microns } from './conversions.ts';
import { type NumberField, number } from './field-types.ts';

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
