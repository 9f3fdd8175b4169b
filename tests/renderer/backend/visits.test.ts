// @vitest-environment happy-dom
/** The host's visits in one window: which visit is in front, what a press asks of the host, and what is compared with what. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { startVisits } from '../../../renderer/backend/visits.ts';
import { createAppStore, type AppState } from '../../../renderer/state/store.ts';
import type { Client } from '../../../shared/ipc/client.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok } from '../../../shared/result.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { makeTrial } from '../../shared/tuning/make-trial.ts';
import { oilVisit } from '../helpers/in-window.tsx';
import { recordWith } from '../helpers/records.ts';

const stops: (() => void)[] = [];
afterEach(() => stops.splice(0).forEach((stop) => stop()));

const stored = (visit: Visit, revision = 1) => ({ visit, revision });
const summary = (id: string, startedWallMs: number, more: object = {}) => ({
  id,
  number: 1,
  kind: 'service',
  status: 'open',
  startedWallMs,
  zoneMinutes: 0,
  watermarked: false,
  trials: 1,
  o2Percent: 5,
  ...more,
});
const nothing = { front: {}, trials: [], asked: [], hints: [], watches: { watches: [] } };

/** @param answers by command; a function is given the input, a missing one is refused */
function begin(answers: Record<string, unknown> = {}, state: Partial<AppState> = {}) {
  const heard = new Map<string, (payload: unknown) => void>();
  const calls: [name: string, input: unknown][] = [];
  const refused = new Map<string, Problem['code']>();
  const known: Record<string, unknown> = { 'visit.now': nothing, 'visit.list': { visits: [], total: 0 }, 'visit.goTo': {}, ...answers };
  const client = {
    call: (name: string, input: unknown) => {
      calls.push([name, input]);
      const code = refused.get(name);
      if (code !== undefined) return Promise.resolve(err(problem(code)));
      const answer = typeof known[name] === 'function' ? (known[name] as (one: unknown) => unknown)(input) : known[name];
      return Promise.resolve(answer === undefined ? err(problem('not-found')) : ok(answer));
    },
    on: (name: string, listener: (payload: unknown) => void) => {
      heard.set(name, listener);
      return () => void heard.delete(name);
    },
  } as unknown as Client;
  const store = createAppStore();
  store.setState({ wire: { phase: 'open' }, role: 'operator', host: {} as AppState['host'], ...state });
  const { visits, stop } = startVisits(client, store);
  stops.push(stop);
  return {
    visits,
    store,
    calls,
    heard,
    stop,
    refuse: (name: string, code: Problem['code']) => void refused.set(name, code),
    hear: (name: string, payload: unknown) => heard.get(name)?.(payload),
    of: (name: string) => calls.filter(([one]) => one === name).map(([, input]) => input),
  };
}
const rest = (): Promise<void> => new Promise((done) => setTimeout(done, 0));
const running = { runs: { 'run-1': recordWith({ timeMs: 60_000 }, { startWallMs: 1000 }) }, runId: 'run-1' };
const ended = { runs: { 'run-1': recordWith({}, { phase: 'ended' }) }, runId: 'run-1' };

describe('a window that comes in', () => {
  it('shows the visit in front, its stage and its step, with what its runs and watches say', async () => {
    const visit = oilVisit({ stages: [{ name: '1' }, { name: '2' }], at: { step: 'safety', stage: '2' } });
    const now = {
      front: { stored: stored(visit) },
      trials: [{ runId: 'r', trials: [] }],
      asked: [{ runId: 'r', question: { id: 'q' } }],
      hints: [{ runId: 'r', hints: [] }],
      watches: { watches: [{ test: 'flame-failure', elapsedS: 3, running: true, laps: [] }] },
    };
    const { store, calls } = begin({ 'visit.now': now });
    await rest();
    expect(store.getState()).toMatchObject({
      visitStage: '2',
      visitStep: 'safety',
      trials: { r: [] },
      asked: { r: { id: 'q' } },
      hints: { r: [] },
    });
    expect(store.getState().visit?.id).toBe('v');
    expect(store.getState().watches['flame-failure']?.elapsedS).toBe(3);
    // it is where the person was: nothing is said back
    expect(calls.map(([name]) => name)).not.toContain('visit.goTo');
  });
  it('asks once, when the host has let it in and not before', async () => {
    const { store, of } = begin({}, { host: undefined });
    await rest();
    expect(of('visit.now')).toEqual([]);
    store.setState({ host: {} as AppState['host'] });
    store.setState({ workspace: 'records' });
    await rest();
    expect(of('visit.now')).toHaveLength(1);
  });
  it('a visit that does not say where it was goes on at the furthest step that was started', async () => {
    const read = oilVisit({ safety: [{ test: 'flame-failure', result: 'pass', wallMs: 1 }] });
    const { store } = begin({ 'visit.now': { ...nothing, front: { stored: stored(read) } } });
    await rest();
    expect(store.getState().visitStep).toBe('safety');
    const fresh = begin({ 'visit.now': { ...nothing, front: { stored: stored(oilVisit()) } } });
    await rest();
    expect(fresh.store.getState().visitStep).toBe('start');
  });
  it('lists the visits that are open, and not those that are signed', async () => {
    const { store, hear } = begin({ 'visit.list': { visits: [summary('a', 1), summary('b', 2, { status: 'signed' })], total: 2 } });
    await rest();
    expect(store.getState().openVisits.map(({ id }) => id)).toEqual(['a']);
    store.setState({ openVisits: [] });
    hear('records.changed', { what: 'visits' });
    await rest();
    expect(store.getState().openVisits).toHaveLength(1);
  });
  it('hears no more once it was stopped', () => {
    const { heard, stop } = begin();
    expect(heard.size).toBeGreaterThan(5);
    stop();
    expect(heard.size).toBe(0);
  });
});

describe('where the person is', () => {
  it('is told to the host when the step or the stage changes, and to nobody by a viewer or in a finished visit', async () => {
    const visit = oilVisit({ stages: [{ name: '1' }, { name: '2' }] });
    const { store, of } = begin({ 'visit.now': { ...nothing, front: { stored: stored(visit) } } });
    await rest();
    store.getState().stepChosen('safety');
    expect(of('visit.goTo').at(-1)).toEqual({ id: 'v', step: 'safety', stage: '1' });
    store.getState().stageChosen('2');
    expect(of('visit.goTo').at(-1)).toEqual({ id: 'v', step: 'safety', stage: '2' });
    const told = of('visit.goTo').length;
    store.setState({ role: 'viewer' });
    store.getState().stepChosen('report');
    store.setState({ role: 'operator', visit: { ...visit, signature: { name: 'A', wallMs: 1, hash: 'h' } as Visit['signature'] } });
    store.getState().stepChosen('start');
    expect(of('visit.goTo')).toHaveLength(told);
  });
});

describe('what a press asks of the host', () => {
  it('a visit begins with the run on screen, and without one that has ended', async () => {
    const one = begin({ 'visit.begin': stored(oilVisit()) }, running);
    expect(await one.visits.begin('service')).toBe(true);
    expect(one.of('visit.begin')).toEqual([{ kind: 'service', runId: 'run-1' }]);
    expect(one.store.getState().visit?.id).toBe('v');
    const other = begin({ 'visit.begin': stored(oilVisit()) }, ended);
    await other.visits.begin('training');
    expect(other.of('visit.begin')).toEqual([{ kind: 'training' }]);
  });
  it('a refusal is shown, and the visit in front stays', async () => {
    const { visits, store } = begin();
    const failed = vi.spyOn(store.getState(), 'commandFailed');
    store.setState({ commandFailed: failed });
    expect(await visits.begin('service')).toBe(false);
    expect(await visits.open('x')).toBe(false);
    expect(failed).toHaveBeenCalledTimes(2);
    expect(store.getState().visit).toBeUndefined();
  });
  it('another visit is opened in its place; one that is left is gone from the window only when the host says so', async () => {
    const { visits, store, of } = begin({ 'visit.open': stored(oilVisit({ id: 'w' })), 'visit.leave': {} });
    expect(await visits.open('w')).toBe(true);
    expect(store.getState().visit?.id).toBe('w');
    await visits.leave();
    expect(of('visit.leave')).toHaveLength(1);
    expect(store.getState().visit).toBeUndefined();
    const refused = begin({ 'visit.open': stored(oilVisit()) });
    await refused.visits.open('v');
    await refused.visits.leave();
    expect(refused.store.getState().visit?.id).toBe('v');
  });
  it('is signed or closed after what was typed has gone to the host; what comes back is shown', async () => {
    for (const name of ['visit.sign', 'visit.close'] as const) {
      const signed = oilVisit({ signature: { name: 'A. Sample', wallMs: 1, hash: 'h' } as Visit['signature'] });
      const { visits, store, calls } = begin({
        'visit.open': stored(oilVisit()),
        'visit.edit': stored(oilVisit(), 2),
        [name]: stored(signed, 3),
      });
      await visits.open('v');
      visits.edit([{ path: ['instrumentName'], after: 'TR-1' }]);
      expect(await (name === 'visit.sign' ? visits.sign('A. Sample') : visits.close())).toBe(true);
      const names = calls.map(([one]) => one).filter((one) => one === 'visit.edit' || one === name);
      expect(names).toEqual(['visit.edit', name]);
      expect(calls.find(([one]) => one === name)?.[1]).toEqual({ id: 'v', ...(name === 'visit.sign' && { name: 'A. Sample' }) });
      expect(store.getState().visit?.signature?.name).toBe('A. Sample');
    }
  });
  it('is not signed or closed while what was typed is not kept, for now or for good', async () => {
    for (const refused of ['disk-full', 'value-out-of-range'] as const)
      for (const name of ['visit.sign', 'visit.close'] as const) {
        const { visits, store, calls, refuse } = begin({ 'visit.open': stored(oilVisit()), [name]: stored(oilVisit(), 3) });
        await visits.open('v');
        refuse('visit.edit', refused);
        visits.edit([{ path: ['roomCo', 0], after: { wallMs: 1, ppm: 120 } }]);
        expect(await (name === 'visit.sign' ? visits.sign('A. Sample') : visits.close())).toBe(false);
        expect(calls.map(([one]) => one)).not.toContain(name);
        expect(store.getState().visit?.roomCo.length).toBe(refused === 'disk-full' ? 1 : 0);
      }
  });
  it('without a visit nothing is signed or timed', async () => {
    const { visits, calls } = begin();
    await rest();
    const before = calls.length;
    expect(await visits.sign('A')).toBe(false);
    expect(await visits.watch('flame-failure', 'press')).toBe(false);
    visits.answerShift();
    expect(calls).toHaveLength(before);
  });
  it('a watch is pressed with the run that is measured, and shown as the host has it', async () => {
    const watches = [{ test: 'flame-failure', elapsedS: 0, running: true, laps: [] }];
    const { visits, store, of } = begin({ 'visit.open': stored(oilVisit()), 'visit.watch': { watches } }, running);
    await visits.open('v');
    expect(await visits.watch('flame-failure', 'press')).toBe(true);
    expect(of('visit.watch')).toEqual([{ id: 'v', test: 'flame-failure', act: 'press', runId: 'run-1' }]);
    expect(store.getState().watches['flame-failure']?.running).toBe(true);
  });
  it('the question about a shift is answered for its run, with the setting or with none', () => {
    const question = { id: 'q' } as never;
    const { visits, of } = begin({ 'visit.answerShift': {} }, { ...running, asked: { 'run-1': question } });
    const setting = { stage: '1', positions: [] };
    visits.answerShift(setting);
    visits.answerShift();
    expect(of('visit.answerShift')).toEqual([
      { runId: 'run-1', questionId: 'q', setting },
      { runId: 'run-1', questionId: 'q' },
    ]);
  });
});

describe('the host’s clock as the window knows it', () => {
  it('is the time of the run; of none, or of one that has ended, the clock of the computer', () => {
    expect(begin({}, running).visits.nowWallMs()).toBe(61_000);
    expect(begin({}, ended).visits.nowWallMs()).toBeGreaterThan(1_000_000);
  });
  it('is never before the visit, a reading or oil that was seen', () => {
    const at = (visit: Visit): number => begin({}, { ...running, visit }).visits.nowWallMs();
    expect(at(oilVisit({ startedWallMs: 70_000 }))).toBe(70_000);
    const trial = { ...makeTrial({ id: 'a', o2: 5, co: 10 }), takenWallMs: 80_000.4 };
    expect(at(oilVisit({ trials: [trial] }))).toBe(80_000);
    expect(at(oilVisit({ trials: [{ ...trial, smoke: { spots: [], oil: { wallMs: 90_000 } } }] }))).toBe(90_000);
  });
});

describe('the visit before this one', () => {
  const here = oilVisit({ id: 'v', startedWallMs: 100, applianceId: 'a' });
  const before = (kind: Visit['kind'], visits: object[]) => {
    const get = vi.fn(({ id }: { id: string }) => stored(oilVisit({ id })));
    const made = begin(
      { 'visit.list': { visits, total: visits.length }, 'visit.get': get, 'appliance.get': { stored: { id: 'a' } } },
      { visit: { ...here, kind } },
    );
    return made.visits.findLast('a').then((last) => last?.id);
  };
  it('is the newest earlier one that left a reading', async () => {
    expect(await before('service', [summary('w', 10), summary('x', 30), summary('y', 20)])).toBe('x');
    expect(
      await before('service', [summary('v', 10), summary('x', 100), summary('y', 120), summary('z', 5, { o2Percent: undefined })]),
    ).toBeUndefined();
  });
  it('is practice for practice only', async () => {
    const practice = summary('w', 50, { watermarked: true });
    expect(await before('service', [practice, summary('x', 30)])).toBe('x');
    expect(await before('training', [practice, summary('x', 30)])).toBe('w');
  });
  it('is there with the appliance once that is chosen, and read again when records are exchanged', async () => {
    const { store, of, hear } = begin(
      {
        'visit.list': { visits: [summary('x', 30)], total: 1 },
        'visit.get': stored(oilVisit({ id: 'x' })),
        'appliance.get': { stored: { id: 'a' } },
      },
      { visit: oilVisit({ startedWallMs: 100 }) },
    );
    await rest();
    store.setState({ visit: here });
    await rest();
    await rest();
    expect(store.getState().lastVisit?.id).toBe('x');
    expect(store.getState().appliance?.id).toBe('a');
    const asked = of('appliance.get').length;
    hear('records.changed', { what: 'documents' });
    await rest();
    expect(of('appliance.get')).toHaveLength(asked);
    hear('records.changed', { what: 'all' });
    await rest();
    expect(of('appliance.get')).toHaveLength(asked + 1);
    store.setState({ visit: oilVisit({ startedWallMs: 100 }) });
    await rest();
    expect(store.getState().lastVisit).toBeUndefined();
    expect(store.getState().appliance).toBeUndefined();
  });
});
