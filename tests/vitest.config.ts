import { defineConfig } from 'vitest/config';
import react from '@vitejs/plugin-react';

const root = new URL('..', import.meta.url).pathname;
/** These limits end what hangs; they measure nothing, and a computer with much else to do must not reach them. */
const common = { root, testTimeout: 120_000, hookTimeout: 120_000, expect: { poll: { timeout: 10_000 } } };

/** Pure rooms share nothing that a test could change, so their files share one world: starting a new one for each costs more than the tests. */
export default defineConfig({
  plugins: [react()],
  test: {
    root,
    maxWorkers: 2,
    projects: [
      {
        extends: true,
        test: {
          ...common,
          name: 'pure',
          pool: 'threads',
          isolate: false,
          include: ['tests/{shared,laws}/**/*.test.ts'],
        },
      },
      {
        extends: true,
        test: {
          ...common,
          name: 'world',
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: ['tests/{shared,laws}/**/*.test.ts'],
        },
      },
    ],
  },
});
