/** How the values of a feature (of a datum, or of a member of a pattern) have to fit together. */
import type { FeatureType } from '../../shared-math/definition.ts';
import type { PlanMember } from './plan-schema.ts';
import type { PlanFault } from './schema-faults.ts';

type Path = readonly PropertyKey[];

/** A direction shorter than this has no direction; any other length is normalised. */
const SHORTEST_DIRECTION = 1e-9;

const ROUND: ReadonlySet<FeatureType> = new Set(['circle', 'sphere', 'cylinder', 'cone']);
const WITHOUT_DIRECTION: ReadonlySet<FeatureType> = new Set(['sphere', 'point']);

/** A fault that names what a type needs, or does not have. */
export function missingKey(
  type: string,
  key: string,
  where: Path,
  expected: string,
  name: string,
): PlanFault {
  return {
    code: 'missing-key',
    path: [...where, key],
    says: `a ${type} needs the key "${key}"`,
    expected,
    remedy: `add "${key}" to ${name}`,
  };
}

export function surplusKey(type: string, key: string, where: Path, belongs: string): PlanFault {
  return {
    code: 'surplus-key',
    path: [...where, key],
    says: `a ${type} has no "${key}"`,
    expected: `"${key}" on ${belongs} only`,
    remedy: 'take it out, or correct the type',
  };
}

/** @param name of the datum or member, for messages. */
export function surfaceFaults(datum: PlanMember, path: Path, name: string): PlanFault[] {
  const faults: PlanFault[] = [];
  const { type, nominal } = datum;
  const missing = (key: string, where: Path, expected: string): void => {
    faults.push(missingKey(type, key, where, expected, name));
  };
  const surplus = (key: string, where: Path, belongs: string): void => {
    faults.push(surplusKey(type, key, where, belongs));
  };
  if (type === 'midplane') {
    if (datum.features === undefined) missing('features', path, 'the names of its two faces');
    else if (datum.features.length !== 2)
      faults.push({
        code: 'wrong-length',
        path: [...path, 'features'],
        says: 'a midplane has two faces',
        value: `${datum.features.length} features`,
        expected: 'the names of its two faces',
        remedy: 'take out what does not belong, or make a datum of its own of it',
      });
    if (datum.feature !== undefined) surplus('feature', path, 'other types (a midplane has "features")');
  } else if (datum.features === undefined) {
    if (datum.feature === undefined) missing('feature', path, 'the name of its feature in the point file');
  } else if (datum.feature !== undefined)
    faults.push({
      code: 'contradiction',
      path: [...path, 'feature'],
      says: '"features" already names the features of this datum',
      value: datum.feature,
      expected: '"feature" (one name), or "features" (several that are one datum together)',
      remedy: 'take one of the two out',
    });
  const where = [...path, 'nominal'];
  const { direction, radius, halfAngle } = nominal;
  if (!WITHOUT_DIRECTION.has(type)) {
    if (direction === null || direction === undefined)
      missing('direction', where, 'three numbers, such as [0, 0, 1]');
    else faults.push(...directionFaults(direction, [...where, 'direction']));
  }
  const hasRadius = radius !== null && radius !== undefined;
  if (ROUND.has(type) && !hasRadius) missing('radius', where, 'the nominal radius in mm');
  if (!ROUND.has(type) && hasRadius) surplus('radius', where, 'circle, sphere, cylinder and cone');
  const hasHalfAngle = halfAngle !== null && halfAngle !== undefined;
  if (type === 'cone' && !hasHalfAngle) missing('halfAngle', where, 'half of the apex angle in degrees');
  if (type !== 'cone' && hasHalfAngle) surplus('halfAngle', where, 'a cone');
  if (type === 'cone' && hasHalfAngle && (Math.abs(halfAngle) >= 90 || halfAngle === 0))
    faults.push({
      code: 'wrong-value',
      path: [...where, 'halfAngle'],
      says: 'this is no cone',
      value: String(halfAngle),
      expected: 'degrees between 0 and 90, or between −90 and 0 where the cone narrows along its direction',
      remedy: 'correct the half angle',
    });
  if (datum.side !== null && datum.side !== undefined && !ROUND.has(type))
    surplus('side', path, 'circle, sphere, cylinder and cone (planes have "material")');
  return faults;
}

export function directionFaults(direction: readonly number[], path: Path): PlanFault[] {
  if (Math.hypot(...direction) > SHORTEST_DIRECTION) return [];
  return [
    {
      code: 'zero-direction',
      path,
      says: 'this is no direction',
      value: JSON.stringify(direction),
      expected: 'three numbers that are not all zero (any length)',
      remedy: 'state the direction',
    },
  ];
}
