import type { Outcome } from '../api.ts';
import { problemsOf } from '../jobs/problems-of.ts';
import { RefusedInput } from '../problems.ts';

/** What the work gives, as a value; refusals and faults of the system become problems, faults of the program stay errors. */
export async function outcomeOf<T>(work: () => Promise<T> | T): Promise<Outcome<T>> {
  try {
    return { ok: true, value: await work() };
  } catch (error) {
    const system = (error as NodeJS.ErrnoException | null)?.syscall !== undefined;
    if (error instanceof RefusedInput || system) return { ok: false, problems: problemsOf(error) };
    throw error;
  }
}
