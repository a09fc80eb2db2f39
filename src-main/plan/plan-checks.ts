/** What a schema cannot say: how the values of a plan have to fit together. */
import { nearest } from '../nearest.ts';
import { groupsOf } from '../pattern-groups.ts';
import { datumListFaults } from './datum-checks.ts';
import type { PlanFile } from './plan-schema.ts';
import { adjustmentFaults, budgetFaults } from './process-checks.ts';
import type { PlanFault } from './schema-faults.ts';
import { checkPointsOf, positionAt } from './station-requirements.ts';
import { directionFaults } from './surface-checks.ts';

type Path = readonly PropertyKey[];

/** Two station angles nearer than this (degrees) are the same angle. */
const SAME_ANGLE = 1e-6;

export function planFaults(plan: PlanFile): PlanFault[] {
  return [
    ...stationFaults(plan),
    ...datumListFaults(plan.disc.datums, plan, ['disc', 'datums']),
    ...datumListFaults(plan.blade.datums, plan, ['blade', 'datums']),
    ...positionFaults(plan),
    ...temperatureFaults(plan),
    ...decisionFaults(plan),
    ...featureRelatingFaults(plan),
    ...budgetFaults(plan),
    ...adjustmentFaults(plan),
    ...importFaults(plan),
  ];
}

/**
 * What is missing of the station numbering. The schema cannot ask for it, since a list of angles stands for it; a plan
 * that the schema refuses lacks it all the same, and should say so at once.
 */
export function numberingFaults(plan: unknown): PlanFault[] {
  const { disc } = (plan ?? {}) as { disc?: Partial<PlanFile['disc']> | null };
  if (typeof disc !== 'object' || disc === null || (disc.angles !== null && disc.angles !== undefined))
    return [];
  return (['firstAngle', 'sense'] as const)
    .filter((key) => disc[key] === undefined)
    .map((key) => ({
      code: 'missing-key',
      path: ['disc', key],
      says: `the key "${key}" is missing`,
      expected:
        key === 'sense'
          ? '"counterclockwise" or "clockwise", seen from +Z'
          : 'the angle of station 1 in degrees',
      remedy: `add "${key}", or list every station angle under "angles"`,
    }));
}

function stationFaults(plan: PlanFile): PlanFault[] {
  const { disc, overrides } = plan;
  const faults = numberingFaults(plan);
  const { angles, stations } = disc;
  if (angles !== null && angles !== undefined) {
    if (angles.length !== stations)
      faults.push({
        code: 'wrong-length',
        path: ['disc', 'angles'],
        says: 'the list of angles does not fit the number of stations',
        value: `${angles.length} angles`,
        expected: `${stations}, one a station`,
        remedy: 'correct "angles" or "stations"',
      });
    const order = angles.map((angle, index) => ({ angle: ((angle % 360) + 360) % 360, index }));
    order.sort((a, b) => a.angle - b.angle);
    order.forEach((entry, position) => {
      const next = order[(position + 1) % order.length];
      if (next === undefined || next === entry) return;
      const gap = (next.angle - entry.angle + 360) % 360;
      if (gap < SAME_ANGLE || 360 - gap < SAME_ANGLE)
        faults.push({
          code: 'same-angle',
          path: ['disc', 'angles', Math.max(entry.index, next.index)],
          says: `stations ${Math.min(entry.index, next.index) + 1} and ${Math.max(entry.index, next.index) + 1} have the same angle`,
          value: String(angles[Math.max(entry.index, next.index)]),
          expected: 'angles that differ, counted within one turn',
          remedy: 'correct one of the two',
        });
    });
  }
  for (const key of Object.keys(overrides ?? {})) {
    const station = Number(key);
    if (!/^[1-9][0-9]*$/.test(key) || station > stations)
      faults.push({
        code: 'unknown-station',
        path: ['overrides', key],
        says: 'there is no such station',
        value: key,
        expected: `a station number from 1 to ${stations}`,
        remedy: 'correct the number or take the override out',
      });
  }
  return faults;
}

function positionFaults(plan: PlanFile): PlanFault[] {
  const faults = positionFaultsAt(plan.blade.position, ['blade', 'position']);
  for (const key of Object.keys(plan.overrides ?? {}))
    if (plan.overrides?.[key]?.position !== undefined)
      faults.push(...positionFaultsAt(positionAt(plan, Number(key)), ['overrides', key, 'position']));
  return faults;
}

function positionFaultsAt(position: PlanFile['blade']['position'], path: Path): PlanFault[] {
  const faults: PlanFault[] = [];
  if (position.direction !== undefined)
    faults.push(...directionFaults(position.direction, [...path, 'direction']));
  const names = new Set<string>();
  checkPointsOf(position).forEach((point, index) => {
    const where = [...path, 'checkPoints', index];
    if (names.has(point.name))
      faults.push({
        code: 'duplicate-name',
        path: [...where, 'name'],
        says: 'another check point has this name',
        value: point.name,
        expected: 'each name once',
        remedy: 'rename one of the two',
      });
    names.add(point.name);
    const own = position.checkPoints[index]?.direction;
    if (own !== undefined) faults.push(...directionFaults(own, [...where, 'direction']));
    if (point.zone === 'planar' && point.direction === null)
      faults.push({
        code: 'missing-key',
        path: position.zone === 'planar' ? [...path, 'direction'] : [...where, 'direction'],
        says: `the planar zone of check point "${point.name}" needs a direction`,
        expected: 'three numbers in the blade frame, such as [0, 1, 0]',
        remedy: 'add "direction"',
      });
  });
  return faults;
}

/** A guarded rule goes by a probability or by a factor, the simple one by neither. */
function decisionFaults({ decision }: PlanFile): PlanFault[] {
  if (decision === undefined) return [];
  const { rule, probability, factor } = decision;
  if (rule === 'guarded' && probability !== undefined && factor !== undefined)
    return [
      {
        code: 'contradiction',
        path: ['decision', 'factor'],
        says: 'the guarded rule has both a probability and a factor',
        value: String(factor),
        expected: 'one of them',
        remedy: 'remove "probability" or "factor"',
      },
    ];
  if (rule === 'simple' && factor !== undefined)
    return [
      {
        code: 'contradiction',
        path: ['decision', 'factor'],
        says: 'the simple rule knows no factor',
        value: String(factor),
        expected: '"factor" with the rule "guarded" only',
        remedy: 'remove "factor", or set "rule": "guarded"',
      },
    ];
  return [];
}

function featureRelatingFaults({ blade }: PlanFile): PlanFault[] {
  const free = blade.position.featureRelating?.free ?? [];
  const again = free.findIndex((name, index) => free.indexOf(name) < index);
  if (again < 0) return [];
  return [
    {
      code: 'duplicate',
      path: ['blade', 'position', 'featureRelating', 'free', again],
      says: 'a free motion is named twice',
      value: String(free[again]),
      expected: 'each motion once',
      remedy: 'remove the repetition',
    },
  ];
}

function temperatureFaults({ temperature }: PlanFile): PlanFault[] {
  if (temperature === undefined || temperature.applied || temperature.expansion !== undefined) return [];
  return [
    {
      code: 'missing-key',
      path: ['temperature', 'expansion'],
      says: 'points that are not yet at 20 °C need the key "expansion"',
      expected: 'the coefficient of linear expansion in 1/K, such as 8.6e-6',
      remedy: 'add "expansion", or set "applied" to true if the file already holds 20 °C values',
    },
  ];
}

function importFaults({ import: block }: PlanFile): PlanFault[] {
  if (block === undefined) return [];
  const faults: PlanFault[] = [];
  const { columns, label } = block;
  if ((columns?.label ?? null) !== null)
    for (const role of ['station', 'feature'] as const)
      if ((columns?.[role] ?? null) !== null)
        faults.push({
          code: 'contradiction',
          path: ['import', 'columns', role],
          says: `"label" already holds the ${role}`,
          value: String(columns?.[role]),
          expected: 'either "label", or "station" and "feature"',
          remedy: 'take one of the two out',
        });
  const owners = new Map<string, string>();
  for (const [role, reference] of Object.entries(columns ?? {})) {
    if (reference === null) continue;
    const owner = owners.get(String(reference));
    if (owner !== undefined)
      faults.push({
        code: 'duplicate-column',
        path: ['import', 'columns', role],
        says: `the column already serves as ${owner}`,
        value: String(reference),
        expected: 'each column once',
        remedy: 'name another column',
      });
    else owners.set(String(reference), role);
  }
  if (label !== undefined) {
    const groups = groupsOf(label);
    const near = groups === null ? null : nearest('station', groups);
    // Station cells alone may have a pattern too; then the feature has a column of its own.
    const needed = (columns?.station ?? null) === null ? ['station', 'feature'] : ['station'];
    if (groups === null || needed.some((group) => !groups?.includes(group)))
      faults.push({
        code: 'label-pattern',
        path: ['import', 'label'],
        says: groups === null ? 'this is no regular expression' : 'the pattern lacks a named group',
        value: label,
        expected:
          'a pattern with the groups (?<station>…) and (?<feature>…), such as B(?<station>\\d+)_(?<feature>.+)',
        remedy:
          near !== null && near !== 'station'
            ? `rename the group "${near}" to "station"`
            : 'correct the pattern',
      });
  }
  return faults;
}
