import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['test/**/*.test.ts'],
    // Every core, where vitest would leave one free; more than four browsers at once only slow each other down.
    maxWorkers: Math.min(4, availableParallelism()),
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // A loaded machine takes longer than the usual second to show what a test waits for.
    expect: { poll: { timeout: 15_000 } },
  },
});
