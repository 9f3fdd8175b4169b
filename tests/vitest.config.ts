import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
import react from '@vitejs/plugin-react';
import { placeOf } from './helpers/order-of-files.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
/** These limits end what hangs; they measure nothing, and a computer with much else to do must not reach them. */
const common = { root, testTimeout: 120_000, hookTimeout: 120_000, expect: { poll: { timeout: 10_000 } } };

const pure = 'tests/{shared,laws}/**/*.test.ts';
/** tests of the shell put something in the place of Electron's own module */
const host = 'tests/main/{!(shell)/**/,}*.test.ts';

/** What a mock stands in for must not have been imported by a file before it, and what is told of all parts of a window counts those of the file alone. */
const needsOwnWorld = /vi\.mock\(|loadTheRest/;
const inOwnWorld = readdirSync(`${root}tests/renderer`, { recursive: true, encoding: 'utf8' })
  .map((path) => `tests/renderer/${path.replaceAll('\\', '/')}`)
  .filter((path) => /\.test\.tsx?$/.test(path) && needsOwnWorld.test(readFileSync(`${root}${path}`, 'utf8')));
const window = 'tests/renderer/**/*.test.{ts,tsx}';

/**
 * The files of one project after the other, and in it those with a page after those without, each group in the order of the seed. A worker is used
 * again only when the next file belongs to the same project and has the same surroundings: mixed, nearly every file would start a new one.
 */
class WorldAfterWorld extends BaseSequencer {
  override sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const { seed } = this.ctx.config.sequence;
    const placed = files.map((file) => {
      const hasPage = readFileSync(file.moduleId, 'utf8').startsWith('// @vitest-environment');
      return { file, world: `${file.project.name} ${hasPage ? 1 : 0}`, place: placeOf(file.moduleId, seed) };
    });
    return Promise.resolve(placed.sort((a, b) => a.world.localeCompare(b.world) || a.place - b.place).map(({ file }) => file));
  }
}

/**
 * Pure rooms share nothing that a test could change, and host and window keep nothing in their modules (`main/what-modules-keep.test.ts`), so their files
 * share a world: starting a new one for each costs more than the tests.
 */
export default defineConfig({
  plugins: [react()],
  test: {
    root,
    maxWorkers: 2,
    sequence: { sequencer: WorldAfterWorld },
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
          name: 'window',
          isolate: false,
          restoreMocks: true,
          unstubEnvs: true,
          unstubGlobals: true,
          setupFiles: ['tests/helpers/imports-settled.ts'],
          include: [window],
          exclude: inOwnWorld,
        },
      },
      {
        extends: true,
        test: {
          ...common,
          name: 'world',
          setupFiles: ['tests/helpers/imports-settled.ts'],
          include: ['tests/!(renderer)/**/*.test.{ts,tsx}', ...inOwnWorld],
          exclude: [pure, host],
        },
      },
    ],
  },
});
