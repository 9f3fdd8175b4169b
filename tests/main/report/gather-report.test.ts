import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { gatherReport, type ReportSources } from '../../../main/report/gather-report.ts';
import { createReportRuns } from '../../../main/report/load-run.ts';
import type { Named } from '../../../shared/bench/find-instrument.ts';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import { practiceTest } from '../../shared/bench/run-plan.ts';
import { smallVisit, START } from '../../shared/report/small-visit.ts';

const folder = mkdtempSync(join(tmpdir(), 'flueside-gather-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const DAY = 86_400_000;
const practice = practiceTest();
const { instrument } = practice;
const test = (daysBefore: number, more: Partial<BenchTest> = {}): BenchTest => {
  const done: BenchTest = { ...practice, startedWallMs: START - daysBefore * DAY, status: 'done', ...more };
  if (more.watermark === undefined) delete done.watermark;
  delete done.endedWallMs;
  return done;
};

async function instrumentOf(
  named: Named,
  tests: readonly BenchTest[],
  kept: readonly { id: string; body: unknown }[] = [{ id: 'i-1', body: instrument }],
) {
  const sources: ReportSources = {
    appliance: () => Promise.resolve(undefined),
    document: (_, id) => Promise.resolve(kept.find((one) => one.id === id)?.body),
    documentsOf: (kind, parentId) => Promise.resolve(kind === 'bench-test' && parentId === 'i-1' ? tests : []),
    documents: () => Promise.resolve(kept),
  };
  const place = { runs: createReportRuns(folder), appVersion: '0', settings: Settings.parse({}) };
  return (await gatherReport(smallVisit(named), sources, place)).instrument;
}

describe('the instrument of a visit', () => {
  it('is found by its id, or by its name or serial number, as people type it', async () => {
    const typed = [` ${instrument.name.toUpperCase()} `, instrument.serial ?? ''];
    for (const named of [{ instrumentId: 'i-1' }, ...typed.map((instrumentName) => ({ instrumentName }))])
      expect((await instrumentOf(named, []))?.instrument.name).toBe(instrument.name);
    expect(await instrumentOf({ instrumentName: 'another' }, [])).toBeUndefined();
  });
  it('is not guessed when two have the name', async () => {
    expect(
      await instrumentOf(
        { instrumentName: instrument.name },
        [],
        [
          { id: 'i-1', body: instrument },
          { id: 'i-2', body: instrument },
        ],
      ),
    ).toBeUndefined();
  });
  it('brings its newest finished bench test from before the visit, never a simulated one', async () => {
    const tests = [test(40), test(10), test(-1), test(5, { status: 'open' }), test(4, { watermark: 'simulated' })];
    expect((await instrumentOf({ instrumentId: 'i-1' }, tests))?.benchTest).toEqual({ wallMs: START - 10 * DAY, verdict: 'not judged' });
    expect((await instrumentOf({ instrumentId: 'i-1' }, tests.slice(2)))?.benchTest).toBeUndefined();
  });
});
