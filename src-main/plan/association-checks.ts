/** Which associations and screens exist for which datum: its own, or those that the whole plan asks for. */
import { CRITERION_TYPES } from '../../shared-math/association/criteria/index.ts';
import type { Association, DatumType } from '../../shared-math/definition.ts';
import { SCREENED_TYPES } from '../../shared-math/frame/screen-datum.ts';
import type { PlanFile, PlanSurface } from './plan-schema.ts';
import type { PlanFault } from './schema-faults.ts';

type Path = readonly PropertyKey[];

/** What the plan says for datums that do not say it themselves. */
export type PlanWide = Pick<PlanFile, 'association' | 'screen'>;

/** @param name of the datum, for messages. */
export function associationFaults(
  { type, association, side }: PlanSurface,
  wide: PlanWide,
  path: Path,
  name: string,
): PlanFault[] {
  const asked = association ?? wide.association ?? 'gaussian';
  if (asked === 'gaussian') return [];
  const own = association !== undefined;
  const known: readonly DatumType[] = CRITERION_TYPES[asked];
  if (!known.includes(type))
    return [
      {
        code: 'no-such-association',
        path: own ? [...path, 'association'] : path,
        says: own
          ? `there is no ${type} by this association`
          : `the plan asks for the association "${asked}", which does not exist for a ${type} (${name})`,
        ...(own ? { value: asked } : {}),
        expected: `for a ${type}: ${associationsOf(type).join(', ')}`,
        remedy: own ? 'choose one of these' : `add "association": "gaussian" to ${name}`,
      },
    ];
  if (asked === 'gaussian-outer' && type !== 'plane' && (side === undefined || side === null))
    return [
      {
        code: 'missing-key',
        path: [...path, 'side'],
        says: `a ${type} that touches its material from outside needs the key "side"`,
        expected: '"inside" (a bore) or "outside" (a shaft)',
        remedy: `add "side" to ${name}`,
      },
    ];
  return [];
}

function associationsOf(type: DatumType): readonly Association[] {
  const others = Object.entries(CRITERION_TYPES) as [Association, readonly DatumType[]][];
  return ['gaussian', ...others.filter(([, types]) => types.includes(type)).map(([name]) => name)];
}

export function screenFaults(
  { type, screen }: PlanSurface,
  wide: PlanWide,
  path: Path,
  name: string,
): PlanFault[] {
  const asked = screen === undefined ? wide.screen : screen;
  if (asked === undefined || asked === null || (SCREENED_TYPES as readonly DatumType[]).includes(type))
    return [];
  const own = screen !== undefined;
  return [
    {
      code: 'no-such-screen',
      path: own ? [...path, 'screen'] : path,
      says: own
        ? `there is no robust screen for a ${type}`
        : `the plan asks for a screen, which does not exist for a ${type} (${name})`,
      expected: `a screen for ${SCREENED_TYPES.join(', ')} only`,
      remedy: own ? 'take "screen" out' : `add "screen": null to ${name}`,
    },
  ];
}
