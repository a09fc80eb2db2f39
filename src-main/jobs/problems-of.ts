import type { Problem } from '../api.ts';
import { RefusedInput } from '../problems.ts';

/** Any error as problems: refusals as they are, with what may explain them; everything else as a fault of this software. */
export function problemsOf(error: unknown): readonly Problem[] {
  if (error instanceof RefusedInput)
    return [...error.problems, ...error.warnings.map((message) => ({ code: 'noticed-before', message }))];
  const system = error as NodeJS.ErrnoException | null;
  if (system?.syscall !== undefined)
    return [
      {
        code: 'system-fault',
        message: `The system could not ${system.syscall} a file (${system.message}); check the disk, the network and the permissions, and try again.`,
        remedy: 'check the disk, the network and the permissions, and try again',
      },
    ];
  const message = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  return [
    {
      code: 'internal-fault',
      message: `This is a fault of Hubtrue, not of your files (${message}); keep the files and report it.`,
      remedy: 'keep the files and report it',
    },
  ];
}
