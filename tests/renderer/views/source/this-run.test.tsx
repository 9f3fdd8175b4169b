// @vitest-environment happy-dom
/** The source that is connected, as the bar and the panel show it: how fresh it is, what can be changed of it, and the burner that nobody may guess from its name. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { AppContext, useParts } from '../../../../renderer/app-parts.ts';
import type { AppState } from '../../../../renderer/state/store.ts';
import { CurrentRun } from '../../../../renderer/views/source/CurrentRun.tsx';
import { SimulatedForm } from '../../../../renderer/views/source/forms/SimulatedForm.tsx';
import { SourceBar } from '../../../../renderer/views/source/SourceBar.tsx';
import type { RunInfo } from '../../../../shared/ipc/run-info.ts';
import { source as words } from '../../../../shared/words/source.ts';
import { button, field, inWindow, press, settled, typeInto } from '../../helpers/in-window.tsx';
import { counters, infoOf, recordWith } from '../../helpers/records.ts';

afterEach(cleanup);

const simulated: RunInfo['source'] = { kind: 'simulated', scenario: 'tune-up', title: 'Tune-up', seed: 1, shape: 'columns' };

describe('the bar', () => {
  const bar = (info: Partial<RunInfo>, state: Partial<AppState> = {}) =>
    inWindow(<SourceBar />, { runs: { 'run-1': recordWith({ timeMs: 62_000 }, info) }, runId: 'run-1', ...state });
  const figures = (): string[] => [...document.querySelectorAll('.figure b')].map(({ textContent }) => textContent ?? '');

  it('says what is connected, its rate, the age of its newest good line, and how much was not understood', () => {
    bar({});
    expect(screen.getByText('USB serial 2')).toBeDefined();
    expect(screen.getByText(words.recipe('comma columns'))).toBeDefined();
    // the newest good line came at 59 s, it is 62 s now
    expect(figures()).toEqual(['1.0', '3.0 s', '2']);
  });
  it('has no rate while the port is lost', () => {
    bar({ phase: 'lost', lostSinceMs: 60_000 });
    expect(screen.getByText(words.unplugged('USB serial 2'))).toBeDefined();
    expect(figures()).toEqual(['3 s', '2']);
  });
  it('has a dash before the first good line', () => {
    const { lastGoodMs: _, ...before } = counters;
    inWindow(<SourceBar />, { runs: { 'run-1': recordWith({ counters: before }, { counters: before }) }, runId: 'run-1' });
    expect(figures()[1]).toBe('–');
  });
  it('has no figures without a source', () => {
    inWindow(<SourceBar />, {});
    expect(screen.getByText(words.none.name)).toBeDefined();
    expect(figures()).toEqual([]);
  });
  it('opens the source, and the lines', () => {
    const { store } = bar({});
    press(/USB serial 2/);
    expect(store.getState().panel).toBe('source');
    press(/not understood/);
    expect(store.getState().panel).toBe('lines');
  });
  it.each([
    ['names the scenario of a practice burner', false, words.scenario('Tune-up')],
    ['hides it while the pattern is to be told', true, words.hiddenBurner],
  ])('%s', (_what, callIt, said) => {
    bar({ source: simulated }, { callIt });
    expect(document.querySelector('.source-name .second')?.textContent).toBe(said);
  });
  it('hides nothing of a real instrument', () => {
    bar({}, { callIt: true });
    expect(screen.queryByText(words.hiddenBurner)).toBeNull();
  });
});

describe('the run under way', () => {
  function open(info: Partial<RunInfo>, mayAct = true) {
    const endRun = vi.fn();
    const run = infoOf(info);
    function Panel() {
      const parts = useParts();
      return (
        <AppContext value={{ ...parts, actions: { ...parts.actions, endRun } }}>
          <CurrentRun info={run} mayAct={mayAct} />
        </AppContext>
      );
    }
    return { ...inWindow(<Panel />, {}, { 'run.change': (input: object) => ({ ...run, ...input }) }), endRun };
  }
  it('changes its fuel', async () => {
    const { asked, store } = open({});
    typeInto(words.fuel, 'b20');
    await settled();
    expect(asked).toEqual([{ name: 'run.change', input: { runId: 'run-1', fuelId: 'b20' } }]);
    expect(store.getState().runs['run-1']?.info.fuelId).toBe('b20');
  });
  it('takes a typed air temperature only where the instrument sends none, in the unit of the window, and gives it back', () => {
    const { asked } = open({ channels: ['o2'] });
    typeInto(/^Air temperature/, '68');
    press('Air temperature');
    typeInto(/^Air temperature/, '');
    press(words.takeBackAir);
    // 68 °F is 20 °C
    expect(asked.map(({ input }) => input)).toEqual([
      { runId: 'run-1', typedAirC: 20 },
      { runId: 'run-1', typedAirC: null },
    ]);
    typeInto(/^Air temperature/, 'warm');
    expect(button('Air temperature').disabled).toBe(true);
    cleanup();
    open({ channels: ['o2', 'airTemperature'] });
    expect(screen.queryByLabelText(/^Air temperature/)).toBeNull();
  });
  it('shows the air temperature that was typed before', () => {
    open({ channels: ['o2'], typedAirC: 20 });
    expect(field(/^Air temperature/).value).toBe('68');
  });
  it('connects again only when it is lost', () => {
    const { asked } = open({ phase: 'lost' });
    press(words.reconnect);
    expect(asked).toEqual([{ name: 'run.reconnect', input: { runId: 'run-1' } }]);
    cleanup();
    open({});
    expect(screen.queryByText(words.reconnect)).toBeNull();
  });
  it('ends on a press, but not from a window that may only look', () => {
    const { endRun } = open({});
    press(words.endRun);
    expect(endRun).toHaveBeenCalledOnce();
    cleanup();
    open({ phase: 'lost', channels: [] }, false);
    for (const name of [words.endRun, words.reconnect, words.takeBackAir]) expect(button(name).disabled, name).toBe(true);
  });
  it('is played, paused and sped up when it is a replay; a speed of its own is offered among the usual ones', () => {
    const { asked } = open({ replay: { playing: true, speed: 3, positionMs: 0, durationMs: 60_000 } as never });
    press(words.replayBar.pause);
    const speed = screen.getByLabelText<HTMLSelectElement>(words.speed);
    expect([...speed.options].map(({ value }) => value)).toEqual(['1', '2', '3', '5', '10', '30', '60']);
    typeInto(words.speed, '10');
    cleanup();
    const paused = open({ replay: { playing: false, speed: 1, positionMs: 0, durationMs: 60_000 } as never });
    press(words.replayBar.play);
    expect([...asked, ...paused.asked].map(({ input }) => input)).toEqual([
      { runId: 'run-1', playing: false },
      { runId: 'run-1', speed: 10 },
      { runId: 'run-1', playing: true },
    ]);
  });
});

describe('a practice burner', () => {
  const scenarios = [
    { name: 'cold-start', title: 'Cold start', about: 'warming up' },
    { name: 'tune-up', title: 'Tune-up', about: 'too much air' },
  ];
  function open({ list = scenarios, mayAct = true } = {}) {
    const startRun = vi.fn();
    function Form() {
      const parts = useParts();
      return (
        <AppContext value={{ ...parts, actions: { ...parts.actions, startRun } }}>
          <SimulatedForm scenarios={list} shapes={['columns', 'keyed']} mayAct={mayAct} />
        </AppContext>
      );
    }
    inWindow(<Form />, {});
    return () => {
      press(words.startSimulated);
      return (startRun.mock.lastCall?.[0] as { source: unknown } | undefined)?.source;
    };
  }
  it('is the tune-up, one line a second in columns, unless another is chosen', () => {
    const started = open();
    expect(started()).toEqual({ kind: 'simulated', scenario: 'tune-up', seed: 1, shape: 'columns', ratePerSecond: 1 });
    fireEvent.click(screen.getByRole('radio', { name: /Cold start/ }));
    expect(screen.getByRole('radio', { name: /Cold start/ }).getAttribute('aria-checked')).toBe('true');
    typeInto(words.seed, '42');
    typeInto(words.rate, '0.5');
    typeInto(words.shape, 'keyed');
    expect(started()).toEqual({ kind: 'simulated', scenario: 'cold-start', seed: 42, shape: 'keyed', ratePerSecond: 0.5 });
  });
  it('is the first of the list where there is no tune-up', () => {
    expect(open({ list: scenarios.slice(0, 1) })()).toMatchObject({ scenario: 'cold-start' });
  });
  it('waits for a seed that is a number', () => {
    const started = open();
    typeInto(words.seed, 'x');
    expect(button(words.startSimulated).disabled).toBe(true);
    expect(field(words.seed).getAttribute('aria-invalid')).toBe('true');
    expect(started()).toBeUndefined();
  });
  it('is not started from a window that may only look', () => {
    expect(open({ mayAct: false })()).toBeUndefined();
  });
});
