import { defineConfig } from 'vitest/config';

/** Journeys drive real processes and a real browser. They wait more than they work, so two files run side by side; each has its own host and data. */
export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/e2e/**/*.e2e.ts'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    maxWorkers: 2,
  },
});
