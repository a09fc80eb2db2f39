/** A single value of a plan: where it stands, what it is called, its unit, and what it means in a sentence. */

import type { Draft } from '../draft.ts';

interface Common {
  /** `blade.seat.radius` */
  readonly path: string;
  readonly label: string;
  readonly hint: string;
  /** Why it has no effect as the plan stands; null: it has one. */
  readonly idle?: (draft: Draft) => string | null;
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

export const text = (path: string, label: string, hint: string, example = ''): TextField => ({
  kind: 'text',
  path,
  label,
  hint,
  example,
});
export const number = (
  path: string,
  label: string,
  unit: string,
  hint: string,
  more: Partial<Pick<NumberField, 'also' | 'whole' | 'idle'>> = {},
): NumberField => ({ kind: 'number', path, label, unit, hint, ...more });
