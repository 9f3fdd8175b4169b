import { defineConfig } from 'vitest/config';

/** Journeys drive real processes and a real browser, one at a time: two would only measure each other. */
export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/e2e/**/*.e2e.ts'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    fileParallelism: false,
    maxWorkers: 1,
  },
});
