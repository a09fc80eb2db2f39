/**
 * The plan file, `hubtrue-plan/1`, as one schema: the types, the JSON Schema beside this file and every message about
 * a plan come from here. Degrees for angles, mm for lengths, radians for the rotations in `limits`.
 */
import { z } from 'zod';
import { PATTERN_FREEDOMS } from '../../shared-math/pattern/pattern-motion.ts';
import { ERRORS } from '../../shared-math/pose/error-names.ts';
import { encodingSpellings } from '../text-encoding.ts';

const text = z.string();
const textOrNumber = z.union([text, z.number()]);
const name = z.string().trim().min(1);
const vector = z.tuple([z.number(), z.number(), z.number()]);
const positive = z.number().positive();
const notNegative = z.number().nonnegative();

/** Null: the file has no such column, whatever its headers say. */
const columnReference = z.union([name, z.int().positive()]).nullish();

export const columnRoles = [
  'station',
  'feature',
  'label',
  'x',
  'y',
  'z',
  'i',
  'j',
  'k',
  'r',
  'sigma',
  'seq',
  'time',
  'temperature',
  'run',
  'direction',
] as const;
export type ColumnRole = (typeof columnRoles)[number];

const importBlock = z.strictObject({
  encoding: z.enum(encodingSpellings as [string, ...string[]]).optional(),
  delimiter: z.enum([',', ';', '\t', '|', ' ']).optional(),
  decimal: z.enum(['.', ',']).optional(),
  // Both code points of the micro sign occur on keyboards.
  unit: z.enum(['mm', 'inch', 'in', '\u00b5m', '\u03bcm', 'um']).optional(),
  header: z.boolean().optional(),
  columns: z
    .strictObject(
      Object.fromEntries(columnRoles.map((role) => [role, columnReference])) as Record<
        ColumnRole,
        typeof columnReference
      >,
    )
    .optional(),
  label: name.optional(),
});

const association = z.enum([
  'gaussian',
  'gaussian-outer',
  'minimax',
  'maximum-inscribed',
  'minimum-circumscribed',
]);

const screen = z.strictObject({
  method: z.enum(['huber', 'biweight']),
  cutoff: positive.optional(),
  exclude: z.boolean().optional(),
});

const featureTypes = ['plane', 'line', 'circle', 'sphere', 'cylinder', 'cone', 'point', 'midplane'] as const;

const nominal = z.strictObject({
  point: vector,
  direction: vector.nullish(),
  radius: positive.nullish(),
  halfAngle: z.number().nullish(),
});

/** One feature, or several that are one surface together, with its nominal place. */
const surface = {
  feature: name.optional(),
  features: z.array(name).min(2).optional(),
  side: z.enum(['inside', 'outside']).nullish(),
  material: z.enum(['negative', 'positive']).optional(),
};

const member = z.strictObject({ ...surface, type: z.enum(featureTypes), nominal });

const datum = z.strictObject({
  label: name,
  ...surface,
  type: z.enum([...featureTypes, 'pattern']),
  nominal: nominal.optional(),
  members: z.array(member).min(2).optional(),
  association: association.optional(),
  screen: screen.nullish(),
  clocking: z.enum(['direction', 'location']).optional(),
  weights: z.enum(['equal', 'sigma']).optional(),
});

const seat = z.strictObject({
  radius: positive,
  axial: z.number(),
  heightAngle: z.number().min(-90).max(90),
  staggerAngle: z.number().min(-360).max(360),
});

const zone = z.enum(['cylindrical', 'spherical', 'planar']);

/** The position block of one station; see `bladePosition` for the level that concerns all blades together. */
const position = z.strictObject({
  tolerance: positive,
  zone,
  direction: vector.optional(),
  checkPoints: z
    .array(
      z.strictObject({
        name,
        at: vector,
        tolerance: positive.optional(),
        zone: zone.optional(),
        direction: vector.optional(),
      }),
    )
    .min(1),
});

const bladePosition = position.extend({
  featureRelating: z
    .strictObject({
      tolerance: positive,
      free: z.array(z.enum(PATTERN_FREEDOMS)).min(1).optional(),
    })
    .optional(),
});

const limits = z.strictObject({
  oscillation: positive.optional(),
  lateral: positive.optional(),
  upset: positive.optional(),
  rotOscillation: positive.optional(),
  rotLateral: positive.optional(),
  rotUpset: positive.optional(),
  radial: positive.optional(),
  tangential: positive.optional(),
  axial: positive.optional(),
  lean: positive.optional(),
  sweep: positive.optional(),
  stagger: positive.optional(),
});

/** What differs at one station: keys of `seat` and `position` replace single values, `limits` replaces them all. */
const override = z.strictObject({
  seat: seat.partial().optional(),
  position: position.partial().optional(),
  limits: limits.optional(),
});

/** How far and in which steps something can be set, mm or rad. */
const range = z.strictObject({ limit: positive.optional(), step: positive.optional() });

/** A range for each freedom that can be set; the others cannot. */
function ranges<Freedom extends string>(freedoms: readonly Freedom[]) {
  const shape = Object.fromEntries(freedoms.map((freedom) => [freedom, range.optional()]));
  return z.strictObject(shape as Record<Freedom, z.ZodOptional<typeof range>>);
}

export const planSchema = z.strictObject({
  $schema: text.optional(),
  format: z.literal('hubtrue-plan/1'),
  title: text.optional(),
  units: z.literal('mm'),
  part: z
    .strictObject({
      name: text.optional(),
      number: text.optional(),
      revision: text.optional(),
      serial: text.optional(),
      material: text.optional(),
    })
    .optional(),
  inspection: z
    .strictObject({
      machine: text.optional(),
      program: text.optional(),
      operator: text.optional(),
      date: text.optional(),
      calibrationDue: text.optional(),
    })
    .optional(),
  import: importBlock.optional(),
  disc: z.strictObject({
    stations: z.int().min(1).max(10_000),
    firstAngle: z.number().optional(),
    sense: z.enum(['counterclockwise', 'clockwise']).optional(),
    angles: z.array(z.number()).nullish(),
    datums: z.array(datum).min(1),
  }),
  blade: z.strictObject({
    seat,
    datums: z.array(datum).min(1),
    pose: z.enum(['datum', 'bestfit']).optional(),
    position: bladePosition,
    limits: limits.optional(),
  }),
  overrides: z.record(z.string(), override).optional(),
  weights: z.enum(['equal', 'sigma']).optional(),
  association: association.optional(),
  screen: screen.nullish(),
  characteristics: z
    .array(
      z.strictObject({
        number: textOrNumber,
        reference: textOrNumber.optional(),
        quantity: textOrNumber.optional(),
        requirement: textOrNumber.optional(),
      }),
    )
    .optional(),
  temperature: z
    .strictObject({
      applied: z.boolean(),
      part: z.number().min(-50).max(200).optional(),
      expansion: z.number().min(0).max(1e-3).optional(),
      uPart: notNegative.optional(),
      uExpansion: notNegative.optional(),
    })
    .optional(),
  uncertainty: z
    .strictObject({
      probing: notNegative.optional(),
      scale: notNegative.optional(),
      // Below one half an interval would leave its own value out.
      coverage: z.number().min(0.5).lt(1).optional(),
      formCorrelation: z.number().min(0).max(1).optional(),
    })
    .optional(),
  decision: z
    .strictObject({
      rule: z.enum(['guarded', 'simple']),
      probability: z.number().gt(0.5).lt(1).optional(),
      factor: notNegative.optional(),
    })
    .optional(),
  budget: z
    .strictObject({
      toolSetup: notNegative.optional(),
      index: notNegative.optional(),
      frame: notNegative.optional(),
      wear: notNegative.optional(),
      toolChange: notNegative.optional(),
      scatter: notNegative.optional(),
      others: z
        .array(z.strictObject({ name, allocated: notNegative.optional(), found: notNegative.optional() }))
        .optional(),
    })
    .optional(),
  adjustments: z
    .strictObject({
      tool: ranges(ERRORS).optional(),
      hub: ranges(PATTERN_FREEDOMS).optional(),
      index: range.optional(),
    })
    .optional(),
});

export type PlanFile = z.infer<typeof planSchema>;
export type PlanImport = NonNullable<PlanFile['import']>;
export type PlanDatum = PlanFile['disc']['datums'][number];
/** A member of a pattern; a datum of any other type says the same of its surface. */
export type PlanMember = NonNullable<PlanDatum['members']>[number];
/** What a datum says of its kind and how it is associated. */
export type PlanSurface = Pick<PlanDatum, 'type' | 'association' | 'screen' | 'side'>;
