/** From a typed error of the mathematics to a problem with file and place. */
import type { ReductionError } from '../../shared-math/errors.ts';
import type { Problem } from '../api.ts';
import { pathText } from '../plan/json-positions.ts';
import type { ReadPlan } from '../plan/read-plan.ts';
import type { ReadPoints } from '../points/read-points.ts';
import { describe, type Fault } from '../problems.ts';

/** Failures that the plan alone causes; all others show in the points. */
const OF_THE_PLAN = new Set<ReductionError['failure']>([
  'open-freedom',
  'redundant-datum',
  'missing-side',
  'invalid-definition',
]);

export function reductionProblem(
  error: ReductionError,
  plan: Pick<ReadPlan, 'name' | 'plan' | 'lineOf'>,
  points: Pick<ReadPoints, 'name' | 'firstLineOf'>,
): Problem {
  const { station, feature, datum } = error.place;
  const says = lowerCased(error.message);
  // The message often names its place already; only what it leaves out is added.
  const place = [
    station === null && !/\bhub\b/i.test(says) ? 'hub' : undefined,
    typeof station === 'number' && !new RegExp(`\\bstation ${station}\\b`, 'i').test(says)
      ? `station ${station}`
      : undefined,
    datum !== undefined && !says.includes(`atum ${datum}`) ? `datum ${datum}` : undefined,
    feature !== undefined && !says.includes(feature) ? `feature ${feature}` : undefined,
  ].filter((part) => part !== undefined);
  const remedy = lowerCased(error.remedy);
  const where = OF_THE_PLAN.has(error.failure) ? inPlan(error, plan) : inPoints(error, points);
  return describe({
    code: error.failure,
    ...where,
    says: place.length > 0 ? `${place.join(', ')}: ${says}` : says,
    ...(remedy === '' ? {} : { remedy }),
  });
}

/** The datum in the plan, or the list of those that the message names together. */
function inPlan(
  { place, message }: ReductionError,
  { name, plan, lineOf }: Pick<ReadPlan, 'name' | 'plan' | 'lineOf'>,
): Pick<Fault, 'file' | 'line' | 'path'> {
  const owners = typeof place.station === 'number' ? (['blade'] as const) : (['disc', 'blade'] as const);
  for (const owner of owners) {
    const labels = plan[owner].datums.map(({ label }) => label);
    const index = labels.indexOf(place.datum ?? '');
    if (index < 0 && !message.includes(` ${labels.join(', ')} `)) continue;
    const path = index < 0 ? [owner, 'datums'] : [owner, 'datums', index];
    return { file: name, line: lineOf(path), path: pathText(path) };
  }
  return { file: name };
}

/** The first row of the feature. */
function inPoints(
  { place }: ReductionError,
  { name, firstLineOf }: Pick<ReadPoints, 'name' | 'firstLineOf'>,
): Pick<Fault, 'file' | 'line'> {
  if (place.station === undefined || place.feature === undefined) return { file: name };
  return { file: name, line: firstLineOf(place.station, place.feature) };
}

/** A sentence as part of another: no full stop, and no capital letter unless a name follows. */
function lowerCased(sentence: string): string {
  return sentence
    .replace(/\.$/, '')
    .replace(/^(?!Datum |Station |The datum system)[A-Z](?=[a-z]* )/, (letter) => letter.toLowerCase());
}
