/** How the values of a datum, and of a list of datums, have to fit together. */
import { associationFaults, type PlanWide, screenFaults } from './association-checks.ts';
import { allFeaturesOf } from './plan-features.ts';
import type { PlanDatum } from './plan-schema.ts';
import type { PlanFault } from './schema-faults.ts';
import { missingKey, surfaceFaults, surplusKey } from './surface-checks.ts';

type Path = readonly PropertyKey[];

export function datumListFaults(datums: readonly PlanDatum[], wide: PlanWide, path: Path): PlanFault[] {
  const faults = datums.flatMap((datum, index) => datumFaults(datum, wide, [...path, index]));
  const labels = new Map<string, number>();
  const features = new Map<string, number>();
  datums.forEach((datum, index) => {
    const earlier = labels.get(datum.label);
    if (earlier !== undefined)
      faults.push({
        code: 'duplicate-label',
        path: [...path, index, 'label'],
        says: `datum ${earlier + 1} of this list has the same label`,
        value: datum.label,
        expected: 'each label once',
        remedy: 'rename one of the two',
      });
    else labels.set(datum.label, index);
    for (const feature of allFeaturesOf(datum)) {
      const owner = features.get(feature);
      if (owner !== undefined)
        faults.push({
          code: 'duplicate-feature',
          path: [...path, index],
          says:
            owner === index
              ? `datum ${datum.label} names feature "${feature}" twice`
              : `feature "${feature}" already belongs to datum ${datums[owner]?.label}`,
          value: feature,
          expected: 'each feature once in the list',
          remedy: 'name another feature',
        });
      else features.set(feature, index);
    }
  });
  return faults;
}

function datumFaults(datum: PlanDatum, wide: PlanWide, path: Path): PlanFault[] {
  const name = `datum ${datum.label}`;
  const { type, nominal } = datum;
  const own = [...associationFaults(datum, wide, path, name), ...screenFaults(datum, wide, path, name)];
  if (type === 'pattern') return [...own, ...patternFaults(datum, path, name)];
  if (datum.members !== undefined) own.push(surplusKey(type, 'members', path, 'a pattern'));
  if (nominal === undefined)
    return [
      ...own,
      missingKey(type, 'nominal', path, 'its nominal place, such as { "point": [0, 0, 0] }', name),
    ];
  return [...own, ...surfaceFaults({ ...datum, type, nominal }, path, name)];
}

/** What a single feature has and a pattern leaves to its members. */
const OF_MEMBERS = ['feature', 'features', 'nominal', 'side', 'material'] as const;

function patternFaults(datum: PlanDatum, path: Path, name: string): PlanFault[] {
  const faults = OF_MEMBERS.filter((key) => datum[key] !== undefined && datum[key] !== null).map((key) =>
    surplusKey('pattern', key, path, 'its members and on single features'),
  );
  if (datum.clocking !== undefined) faults.push(surplusKey('pattern', 'clocking', path, 'single features'));
  if (datum.members === undefined)
    faults.push(
      missingKey('pattern', 'members', path, 'two or more features with their nominal places', name),
    );
  datum.members?.forEach((member, k) => {
    faults.push(...surfaceFaults(member, [...path, 'members', k], `member ${k + 1} of ${name}`));
  });
  return faults;
}
