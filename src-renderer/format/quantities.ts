import type { DiscErrorName, ErrorName, LimitName } from '../../shared-math/definition.ts';
import { DISC_ERRORS, ERRORS } from '../../shared-math/pose/error-names.ts';
import type { LimitResult, StationResult, Verdict } from '../../shared-math/result.ts';
import type { StationView } from './station-view.ts';

export { DISC_ERRORS as discErrors, ERRORS as bladeErrors };

/** `relative`: position of the blades relative to each other; only where the plan asks for it. */
export type QuantityName = 'position' | 'relative' | LimitName;
export type QuantityGroup = 'position' | 'blade' | 'disc';
/** `size` has no sign and starts at zero; the others are signed. */
export type QuantityKind = 'size' | 'length' | 'rotation';

export interface Quantity {
  readonly name: QuantityName;
  readonly title: string;
  /** As a label beside others of its group. */
  readonly label: string;
  /** For narrow table heads. */
  readonly short: string;
  readonly kind: QuantityKind;
  readonly group: QuantityGroup;
  readonly meaning: string;
}

const quantity = (
  name: QuantityName,
  title: string,
  short: string,
  kind: QuantityKind,
  group: QuantityGroup,
  meaning: string,
): Quantity => ({
  name,
  title,
  label: title.replace(/^Rotation about (.)/, (_, first: string) => `↻ ${first.toUpperCase()}`),
  short,
  kind,
  group,
  meaning,
});

export const quantities: readonly Quantity[] = [
  quantity(
    'position',
    'Position',
    'Position',
    'size',
    'position',
    'size of the smallest zone that holds the worst check point',
  ),
  quantity(
    'relative',
    'Relative position',
    'Relative',
    'size',
    'position',
    'of the blades to each other, in zones that move as one',
  ),
  quantity(
    'oscillation',
    'Oscillation',
    'Oscill.',
    'length',
    'blade',
    'displacement along the oscillation direction',
  ),
  quantity('lateral', 'Lateral', 'Lateral', 'length', 'blade', 'displacement along the lateral direction'),
  quantity('upset', 'Upset', 'Upset', 'length', 'blade', 'displacement along the upset direction, outwards'),
  quantity(
    'rotOscillation',
    'Rotation about oscillation',
    'Oscill.',
    'rotation',
    'blade',
    'rotation about the oscillation direction',
  ),
  quantity(
    'rotLateral',
    'Rotation about lateral',
    'Lateral',
    'rotation',
    'blade',
    'rotation about the lateral direction',
  ),
  quantity(
    'rotUpset',
    'Rotation about upset',
    'Upset',
    'rotation',
    'blade',
    'rotation about the upset direction',
  ),
  quantity('radial', 'Radial', 'Radial', 'length', 'disc', 'displacement away from the disc axis'),
  quantity(
    'tangential',
    'Tangential',
    'Tangent.',
    'length',
    'disc',
    'displacement counterclockwise, seen from +Z',
  ),
  quantity('axial', 'Axial', 'Axial', 'length', 'disc', 'displacement along +Z'),
  quantity('lean', 'Lean', 'Lean', 'rotation', 'disc', 'tilt of the stacking axis counterclockwise'),
  quantity('sweep', 'Sweep', 'Sweep', 'rotation', 'disc', 'tilt of the stacking axis towards +Z'),
  quantity('stagger', 'Stagger', 'Stagger', 'rotation', 'disc', 'measured minus nominal stagger angle'),
];

const byName = new Map(quantities.map((entry) => [entry.name, entry]));

export function quantityOf(name: QuantityName): Quantity {
  const found = byName.get(name);
  if (found === undefined) throw new Error(`There is no quantity ${name}.`);
  return found;
}

/** The value that the result holds; null where the pose cannot observe it. */
export function quantityValue(station: StationView, name: QuantityName): number | null {
  if (name === 'position') return station.position.value;
  if (name === 'relative') return station.relative?.value ?? null;
  const group = quantityOf(name).group;
  return group === 'blade' ? station.error[name as ErrorName] : station.disc[name as DiscErrorName];
}

function limitEntry(station: StationResult, name: QuantityName): LimitResult | null {
  return station.limits.find((entry) => entry.name === name) ?? null;
}

/** The tolerance of position, or the limit on the absolute value; null where the plan sets none. */
export function limitOf(station: StationView, name: QuantityName): number | null {
  if (name === 'position') return station.position.tolerance;
  if (name === 'relative') return station.relative?.tolerance ?? null;
  return limitEntry(station, name)?.limit ?? null;
}

/** The verdict on this quantity alone; null where the plan does not limit it. */
export function verdictOf(station: StationView, name: QuantityName): Verdict | null {
  if (name === 'position') return station.position.verdict;
  if (name === 'relative') return station.relative?.verdict ?? null;
  return limitEntry(station, name)?.verdict ?? null;
}

/** U: for positions the upper bound minus the value, else the half-width of the interval; null where not evaluated. */
export function expandedOf(station: StationView, name: QuantityName): number | null {
  if (name === 'position') return station.position.expanded;
  if (name === 'relative') return station.relative?.expanded ?? null;
  return station.uncertainty?.expanded[name] ?? null;
}

/** Probability that the quantity keeps its limit; null where it has none or its uncertainty is not evaluated. */
export function probabilityOf(station: StationView, name: QuantityName): number | null {
  if (name === 'position') return station.position.probability;
  if (name === 'relative') return station.relative?.probability ?? null;
  return limitEntry(station, name)?.probability ?? null;
}

/** What would settle each unproven quantity of a station, in the words of the result. */
export function settlements(
  station: StationResult,
): readonly { readonly name: QuantityName; readonly words: string }[] {
  const all = [{ name: 'position' as QuantityName, words: station.position.settle }].concat(
    station.limits.map(({ name, settle }) => ({ name, words: settle })),
  );
  return all.flatMap(({ name, words }) => (words === null ? [] : [{ name, words }]));
}
