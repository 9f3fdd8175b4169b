import { defineConfig } from 'vitest/config';
import react from '@vitejs/plugin-react';

const root = new URL('..', import.meta.url).pathname;
/** The time limit ends what hangs; it measures nothing, and a computer with much else to do must not reach it. */
const common = { root, testTimeout: 30_000 };

/** These put other modules or another environment in place of the real ones: what they change must not reach another file. */
const alone = [
  'tests/renderer/views/tune/{far-key,trials-column}.test.tsx',
  'tests/renderer/{broken-views,start-window}.test.tsx',
  'tests/renderer/visit/stops.test.tsx',
  'tests/main/packaging/start-scripts.test.ts',
  'tests/main/report/print.test.ts',
  'tests/main/shell/electron-entry.test.ts',
];

/** The other files share nothing that a test could change, so they share one world a worker: starting a new one for each costs more than most tests. */
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
          testTimeout: 60_000,
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
          isolate: false,
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: ['tests/{shared,laws}/**/*.test.ts', ...alone],
        },
      },
      { extends: true, test: { ...common, name: 'alone', include: alone } },
    ],
  },
});
