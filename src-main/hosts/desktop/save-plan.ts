import { basename } from 'node:path';
import type { Outcome } from '../../api.ts';
import { writeWholeFile } from '../../whole-file.ts';
import { outcomeOf } from '../outcome-of.ts';
import type { Outlet } from '../outlet.ts';
import { checked, requests } from '../requests.ts';

/** Asks where to, and writes the plan there whole or not at all. */
export async function savePlan(
  argument: unknown,
  outlet: Outlet,
): Promise<Outcome<{ readonly saved: string | null }>> {
  const asked = checked(requests.savePlan, argument);
  if (!asked.ok) return asked;
  const { name, text } = asked.value;
  return outcomeOf(async () => {
    const place = await outlet.place({ name, title: 'Save the plan' });
    if (place?.kind !== 'path') return { saved: null };
    writeWholeFile(place.path, text);
    return { saved: basename(place.path) };
  });
}
