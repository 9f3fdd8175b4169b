import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { createClockWatch } from '../../../main/runs/live/clock-watch.ts';
import { createRunFolder } from '../../../main/runs/file/run-folder.ts';
import { measureRunFile, openRunFile } from '../../../main/runs/file/run-file.ts';
import { plainText } from '../../../main/commands/output/plain-text.ts';
import { patternFlaw } from '../../../shared/lines/reading/read-places.ts';
import { createLineReader } from '../../../shared/lines/reading/read-line.ts';
import { LineRecipe } from '../../../shared/measurement/recipe.ts';
import { checkRecipe } from '../../../shared/measurement/check-recipe.ts';
import { encodeEntry, encodeHeader } from '../../../shared/measurement/run-format.ts';
import { createMarkBook } from '../../../shared/pipeline/mark-book.ts';
import { createFakeClock, settle } from '../../helpers/host/fake-clock.ts';
import { runHeader } from '../../helpers/ports/run-lines.ts';
import { makeReport } from '../../../shared/report/make-report.ts';
import { reportHtml } from '../../../shared/report/pages/report-html.tsx';
import { createTestRunService, operator, value } from '../../helpers/ports/run-service.ts';
import { inputOf, smallVisit } from '../../shared/report/small-visit.ts';
import { openApp, openWindow } from './app-fixture.ts';

const nested = (depth: number): unknown => {
  let value: unknown = 1;
  for (let level = 0; level < depth; level++) value = [value];
  return value;
};

describe('a message', () => {
  it('nested 5 000 deep is refused, and the host goes on', async () => {
    const { app } = openApp();
    const { client, wire } = openWindow(app);
    // as the other wire brings it; 2 000 is what every clone carries
    for (const depth of [100, 1000, 2000])
      wire.window.send({ type: 'call', id: depth, name: 'document.save', input: { kind: 'gas', body: nested(depth) } });
    await settle();
    const answers = wire.sent.filter((sent) => (sent as { type: string }).type === 'reply') as { id: number; result: { ok: boolean } }[];
    expect(answers.map(({ id, result }) => [id, result.ok])).toEqual([
      [100, false],
      [1000, false],
      [2000, false],
    ]);
    expect((await client.call('session.hello', {})).ok).toBe(true);
  });
});

describe('a line recipe', () => {
  const recipe = (field: object) => ({
    format: 'flueside-recipe',
    version: 1,
    name: 'r',
    shape: { kind: 'columns', delimiter: ',' },
    fields: [{ channel: 'draft', at: 0, unit: 'hPa', ...field }],
  });
  it('has a scale and an offset that leave numbers numbers', () => {
    for (const wrong of [{ scale: 1e308 }, { scale: -1e300 }, { scale: 0 }, { scale: 1e-300 }, { offset: 1e308 }])
      expect([wrong, checkRecipe(recipe(wrong)).ok]).toEqual([wrong, false]);
    for (const right of [{ scale: 0.1 }, { scale: -1 }, { offset: -273.15 }]) expect(checkRecipe(recipe(right)).ok).toBe(true);
  });
  it('gives no value above what a number holds', () => {
    for (const bytes of ['9e307', '>9e307']) {
      const read = createLineReader(LineRecipe.parse(recipe({}))).read({ timeMs: 0, bytes });
      expect([bytes, read]).toEqual([bytes, { kind: 'sample', sample: { timeMs: 0, values: {}, absent: { draft: 'over-range' } } }]);
    }
  });
  it('has a pattern that is read in no time', () => {
    const big = `(?P<o2>(?:[0-9a-f]{1,30}[ ,;]{0,30}){1,20})${'(?:a?){30}'.repeat(80)}`;
    expect(patternFlaw(big)).toMatch(/too big/);
    expect(patternFlaw('^\\s*(?P<o2>[-+0-9.]+)%\\s+(?P<co>[0-9]+)ppm\\s+(?P<t>[-+0-9.]+)C$')).toBeUndefined();
  });
});

describe('a run file', () => {
  const header = runHeader({ runId: 'one' });
  const write = (folder: string, name: string, text: string): string => {
    mkdirSync(join(folder, 'runs'), { recursive: true });
    const path = join(folder, 'runs', `${name}.run`);
    writeFileSync(path, text, 'latin1');
    return path;
  };
  it('with an impossible start is damaged, and the list goes on without it', async () => {
    const { folder } = openApp();
    write(folder, 'one', encodeHeader(header));
    const path = write(folder, 'two', encodeHeader({ ...header, runId: 'two', startWallMs: 1e300 }));
    expect(await openRunFile(path)).toMatchObject({ ok: false, error: { code: 'file-damaged' } });
    expect((await createRunFolder(join(folder, 'runs')).list()).map(({ runId }) => runId)).toEqual(['one']);
  });
  it('with one damaged time keeps the times of all other lines', async () => {
    const { folder } = openApp();
    const times = [0, 100, 999_999_999_999, 300, 400, 5, 600];
    const lines = times.map((timeMs) => encodeEntry({ kind: 'line', timeMs, bytes: `${timeMs}` })).join('');
    const path = write(folder, 'one', encodeHeader(header) + lines);
    const file = await openRunFile(path);
    if (!file.ok) throw new Error(file.error.code);
    const read: number[] = [];
    for await (const entry of file.value.entries()) read.push(entry.timeMs);
    expect(read).toEqual([0, 100, 300, 300, 400, 400, 600]);
    expect(await measureRunFile(path)).toMatchObject({ durationMs: 600, damaged: true, lines: 7 });
    // the damaged one at the very end: nothing behind it tells, the step does
    const last = write(
      folder,
      'last',
      `${encodeHeader(header)}${encodeEntry({ kind: 'line', timeMs: 100, bytes: 'a' })}${encodeEntry({ kind: 'line', timeMs: 900_000_000_000, bytes: 'b' })}`,
    );
    expect(await measureRunFile(last)).toMatchObject({ durationMs: 100, damaged: true });
  });
  it('with 100 000 marks is read in a time that grows with their number, not with its square', () => {
    const took = (count: number): number => {
      const book = createMarkBook(undefined);
      const from = performance.now();
      for (let n = 0; n < count; n++) book.add({ id: `m${n}`, timeMs: n, body: { kind: 'note', text: '' } } as never);
      expect(book.all.length).toBeLessThanOrEqual(5000);
      expect(book.all.at(-1)?.id).toBe(`m${count - 1}`);
      return performance.now() - from;
    };
    took(5000);
    // ten times as many: sorting all of them for each one took a quarter of a millisecond a mark
    expect(took(100_000)).toBeLessThan(5000);
  });
});

describe('the wall clock', () => {
  it('that goes from 1970 to today is set, not awake again: the run does not become 56 years long', () => {
    const jumps: string[] = [];
    let wallMs = 1000;
    let nowMs = 0;
    let look = (): void => undefined;
    const clock = {
      ...createFakeClock(),
      nowMs: () => nowMs,
      wallMs: () => wallMs,
      every: (_ms: number, tick: () => void) => ((look = tick), () => undefined),
    };
    createClockWatch(clock, { everyMs: 10_000, onClock: () => undefined, onJump: (reason) => jumps.push(reason) });
    nowMs += 1000;
    wallMs = 1_780_000_000_000;
    look();
    nowMs += 1000;
    wallMs += 9 * 3_600_000;
    look();
    expect(jumps).toEqual(['clock-set', 'suspended']);
  });
});

it('what goes to a terminal gives it no orders', () => {
  expect(plainText('a\x1b[2J\x07b\u009b31m\u202ec\td\n')).toBe('a[2Jb31mc\td\n');
});

it('a run that throws is told and ends no other run', async () => {
  const events: string[] = [];
  let broken = '';
  const here = createTestRunService({
    publish(name, payload) {
      const { runId } = payload as { runId?: string };
      if (name === 'live.batch' && runId === broken) throw new Error('cannot be shown');
      events.push(`${name} ${runId ?? ''}`);
    },
  });
  const start = async (seed: number): Promise<string> =>
    value(
      await here.runService.handlers['run.start'](
        { source: { kind: 'simulated', scenario: 'tune-up', seed, shape: 'columns', ratePerSecond: 1 } },
        operator,
      ),
    ).runId;
  broken = await start(1);
  const other = await start(2);
  await here.clock.advance(10_000);
  expect(events).toContain(`live.batch ${other}`);
  expect(here.runService.problems().map(({ problem }) => problem.code)).toContain('internal');
  expect(here.runService.runs().map(({ phase }) => phase)).not.toContain('ended');
  await here.runService.close({ endRuns: true });
  here.remove();
});

it('a saved page brings its own policy: nothing is loaded and nothing runs', () => {
  const page = reportHtml(makeReport(inputOf(smallVisit())), { paper: 'a4', fonts: { text: '', figures: '' } as never });
  const policy = /<meta http-equiv="Content-Security-Policy" content="([^"]+)">/.exec(page)?.[1] ?? '';
  expect(page.indexOf('Content-Security-Policy')).toBeLessThan(page.indexOf('<style>'));
  expect(policy).toContain("default-src 'none'");
  expect(policy).not.toMatch(/script-src|connect-src|https?:/);
});
