import { basename } from 'node:path';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
import { placeOf } from './helpers/order-of-files.ts';
import { PATIENCE_MS } from './helpers/patience.ts';

/** These take longest. They come first, so that no worker is left with one of them while the other has nothing to do. */
const long = [
  'routine-visit',
  'tune-visit',
  'visit-after-kill',
  'warm-up',
  'warm-up-lessons',
  'signed-visit',
  'records',
  'lines',
  'line-recipes',
  'shell',
  'report',
  'paper',
  'bench-ports',
  'two-stage',
  'visit-windows',
  'geometry',
  'geometry-photos',
];

/** The long ones first, each group in the order of the seed. */
class LongFirst extends BaseSequencer {
  override sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const { seed } = this.ctx.config.sequence;
    const isShort = ({ moduleId }: TestSpecification): number => (long.includes(basename(moduleId, '.e2e.ts')) ? 0 : 1);
    return Promise.resolve([...files].sort((a, b) => isShort(a) - isShort(b) || placeOf(a.moduleId, seed) - placeOf(b.moduleId, seed)));
  }
}

/** Journeys drive real processes and a real browser. They wait as long as they work, so three files run side by side on two cores; each has its own host and data. */
export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/e2e/**/*.e2e.ts'],
    // a journey takes longer than any single wait in it: what failed says so before the time is over
    testTimeout: 300_000,
    hookTimeout: 300_000,
    // what a page shows is looked at until it is so: a busy machine draws late
    expect: { poll: { timeout: PATIENCE_MS } },
    maxWorkers: 3,
    // what journeys share is imported once a worker: the browser's driver alone takes a second
    isolate: false,
    sequence: { sequencer: LongFirst },
  },
});
