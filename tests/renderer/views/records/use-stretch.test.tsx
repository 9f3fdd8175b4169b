// @vitest-environment happy-dom
/** The stretch of a stored run that is looked at: what is asked for, when, and what is drawn until it is here. */
import { act, cleanup, renderHook } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../../renderer/app-parts.ts';
import { bestOf, useStretch, type Fetched } from '../../../../renderer/views/records/run/use-stretch.ts';
import type { History } from '../../../../shared/ipc/run-documents.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => {
  cleanup();
  vi.useRealTimers();
});

const LONG = 600_000;
const historyOf = (fromMs: number, toMs: number, more: Partial<History> = {}, channel: 'o2' | 'co' = 'o2'): History => ({
  fromMs,
  toMs,
  series: [{ channel, timeMs: [fromMs, toMs], low: [5, 5], high: [5, 5], breaks: [] }],
  marks: [],
  readings: [],
  gaps: [],
  excluded: [],
  settled: [],
  ...more,
});
type Asked = { runId: string; fromMs: number; toMs: number };

function look(durationMs = LONG) {
  const asked: Asked[] = [];
  const says: { now: (asked: Asked) => History | undefined } = { now: ({ fromMs, toMs }) => historyOf(fromMs, toMs) };
  const call = (_: string, input: Asked) => {
    asked.push({ runId: input.runId, fromMs: input.fromMs, toMs: input.toMs });
    const value = says.now(input);
    return Promise.resolve(value === undefined ? { ok: false } : { ok: true, value });
  };
  const parts = { client: { call } } as unknown as AppParts;
  const { result, unmount } = renderHook(() => useStretch('run-1', durationMs), {
    wrapper: ({ children }) => <AppContext value={parts}>{children}</AppContext>,
  });
  const wait = (ms: number): Promise<void> =>
    act(async () => {
      await vi.advanceTimersByTimeAsync(ms);
    });
  const to = (fromMs: number, toMs: number): void => act(() => result.current.move(() => ({ kind: 'fixed', fromMs, toMs })));
  const fetched = (): Fetched => {
    if (typeof result.current.state !== 'object') throw new Error(`nothing is here: ${result.current.state}`);
    return result.current.state;
  };
  return { asked, says, result, wait, to, fetched, unmount };
}
const WHOLE = { runId: 'run-1', fromMs: 0, toMs: LONG };
const reading = (stage: 'lines' | 'curves' = 'curves') =>
  ({ progress: { stage, share: 0.5 } as unknown as NonNullable<History['progress']> }) satisfies Partial<History>;

describe('a stored run', () => {
  it('is asked for whole once it has stood still for 50 ms', async () => {
    const { asked, wait, fetched, result } = look();
    await wait(49);
    expect([asked, result.current.state]).toEqual([[], undefined]);
    await wait(1);
    expect(asked).toEqual([WHOLE]);
    expect(fetched()).toMatchObject({ base: { toMs: LONG }, channels: ['o2'], progress: undefined });
    await wait(5000);
    expect(asked).toHaveLength(1);
  });
  it('looked at closely, three widths are asked for, within the run, and the whole one stays below', async () => {
    const { asked, wait, to, fetched } = look();
    await wait(50);
    to(200_000, 260_000);
    to(300_000, 360_000);
    await wait(50);
    to(10_000, 70_000);
    await wait(50);
    to(560_000, 600_000);
    await wait(50);
    expect(asked.slice(1).map(({ fromMs, toMs }) => [fromMs, toMs])).toEqual([
      [240_000, 420_000],
      [0, 130_000],
      [520_000, 600_000],
    ]);
    expect([fetched().base.fromMs, fetched().base.toMs]).toEqual([0, LONG]);
    expect([fetched().history.fromMs, fetched().history.toMs]).toEqual([520_000, 600_000]);
  });
  it('a channel of the whole run keeps its place in a stretch that has none of it', async () => {
    const { says, wait, to, fetched } = look();
    await wait(50);
    says.now = ({ fromMs, toMs }) => historyOf(fromMs, toMs, {}, 'co');
    to(200_000, 260_000);
    await wait(50);
    expect(fetched().channels).toEqual(['o2']);
  });
  it('has nothing to show where nothing came of it, or nothing is in it; what is here stays when a later answer fails', async () => {
    const refused = look();
    refused.says.now = () => undefined;
    await refused.wait(50);
    expect(refused.result.current.state).toBe('none');
    const empty = look();
    empty.says.now = () => historyOf(0, LONG, { series: [] });
    await empty.wait(50);
    expect(empty.result.current.state).toBe('none');
    const later = look();
    await later.wait(50);
    later.says.now = () => undefined;
    later.to(200_000, 260_000);
    await later.wait(50);
    expect(later.fetched().history.toMs).toBe(LONG);
  });
  it('moves no further than its ends, nor wider than itself', async () => {
    const { wait, to, result } = look();
    const view = () => (result.current.view.kind === 'fixed' ? [result.current.view.fromMs, result.current.view.toMs] : []);
    await wait(50);
    to(-100_000, 60_000);
    expect(view()).toEqual([0, 160_000]);
    to(550_000, 700_000);
    expect(view()).toEqual([450_000, LONG]);
    to(-50_000, 900_000);
    expect(view()).toEqual([0, LONG]);
    act(() => result.current.move((window, nowMs) => ({ ...window, kind: 'fixed', fromMs: nowMs - 10, toMs: nowMs }) as never));
    expect(view()).toEqual([LONG - 10, LONG]);
  });
});

describe('a run that is still being read', () => {
  it('is asked for again every half second, until it is read, and not after the page was left', async () => {
    const { asked, says, wait, fetched, unmount } = look();
    says.now = ({ fromMs, toMs }) => historyOf(fromMs, toMs, reading());
    await wait(50);
    expect(fetched().progress).toMatchObject({ stage: 'curves' });
    await wait(499);
    expect(asked).toHaveLength(1);
    await wait(1);
    expect(asked).toHaveLength(2);
    unmount();
    await wait(5000);
    expect(asked).toHaveLength(2);
  });
  it('is shown without a curve while there is none', async () => {
    const { says, wait, fetched } = look();
    says.now = ({ fromMs, toMs }) => historyOf(fromMs, toMs, { series: [], ...reading() });
    await wait(50);
    expect(fetched().channels).toEqual([]);
  });
  it('looked at closely meanwhile, is fetched whole once it is read; one that was read at once is not', async () => {
    const { asked, says, wait, to, fetched } = look();
    says.now = ({ fromMs, toMs }) => historyOf(fromMs, toMs, reading(), 'co');
    await wait(50);
    to(200_000, 260_000);
    await wait(50);
    expect([asked.length, fetched().channels]).toEqual([2, ['co']]);
    says.now = ({ fromMs, toMs }) => historyOf(fromMs, toMs);
    await wait(500);
    expect(asked.slice(2)).toEqual([{ runId: 'run-1', fromMs: 140_000, toMs: 320_000 }, WHOLE]);
    expect(fetched()).toMatchObject({ base: { fromMs: 0, toMs: LONG }, channels: ['o2'], history: { fromMs: 140_000 } });
    await wait(5000);
    expect(asked).toHaveLength(4);
  });
  it('keeps what is here where the whole run does not come', async () => {
    const { says, wait, to, fetched } = look();
    says.now = ({ fromMs, toMs }) => historyOf(fromMs, toMs, reading(), 'co');
    await wait(50);
    to(200_000, 260_000);
    await wait(50);
    says.now = ({ fromMs, toMs }) => (fromMs === 0 ? undefined : historyOf(fromMs, toMs));
    await wait(500);
    expect(fetched()).toMatchObject({ history: { fromMs: 140_000 }, channels: ['co'] });
  });
});

it('the finer points are drawn where they cover what is in view, the coarse ones else', () => {
  const fetched = { base: historyOf(0, LONG), history: historyOf(100_000, 300_000) } as Fetched;
  const of = (fromMs: number, toMs: number) =>
    bestOf(fetched, { kind: 'fixed', fromMs, toMs }, LONG) === fetched.history ? 'fine' : 'coarse';
  expect([of(100_000, 300_000), of(99_999, 300_000), of(100_000, 300_001)]).toEqual(['fine', 'coarse', 'coarse']);
  const atEnds = { base: historyOf(0, LONG), history: historyOf(0, LONG) } as Fetched;
  expect(bestOf(atEnds, { kind: 'fixed', fromMs: -5000, toMs: LONG + 5000 }, LONG)).toBe(atEnds.history);
});
