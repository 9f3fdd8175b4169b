import { defineConfig } from 'vitest/config';
import react from '@vitejs/plugin-react';

const root = new URL('..', import.meta.url).pathname;
/** These limits end what hangs; they measure nothing, and a computer with much else to do must not reach them. */
const common = { root, testTimeout: 120_000, hookTimeout: 120_000, expect: { poll: { timeout: 10_000 } } };

const pure = 'tests/{shared,laws}/**/*.test.ts';
/** tests of the shell put something in the place of Electron's own module */
const host = 'tests/main/{!(shell)/**/,}*.test.ts';

/**
 * Pure rooms share nothing that a test could change, and the host keeps nothing in its modules (`main/what-modules-keep.test.ts`), so their files share
 * a world: starting a new one for each costs more than the tests.
 */
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
          include: [pure],
        },
      },
      {
        extends: true,
        test: {
          ...common,
          name: 'host',
          isolate: false,
          restoreMocks: true,
          unstubEnvs: true,
          unstubGlobals: true,
          include: [host],
        },
      },
      {
        extends: true,
        test: {
          ...common,
          name: 'world',
          setupFiles: ['tests/helpers/imports-settled.ts'],
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: [pure, host],
        },
      },
    ],
  },
});
