/** Every single value of a plan that has a field of its own. */
import {
  discFields,
  identityFields,
  inspectionFields,
  limitFields,
  poseField,
  positionFields,
  relatingFields,
  seatFields,
} from './fields/drawing-fields.ts';
import type { Field } from './fields/field-types.ts';
import {
  associationFields,
  decisionFields,
  temperatureFields,
  uncertaintyFields,
} from './fields/judging-fields.ts';
import { adjustmentFields, budgetFields } from './fields/process-fields.ts';

export * from './fields/drawing-fields.ts';
export type * from './fields/field-types.ts';
export * from './fields/judging-fields.ts';
export * from './fields/process-fields.ts';

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
