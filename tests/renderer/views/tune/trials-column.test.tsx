// @vitest-environment happy-dom
/** While the flame drifts, the column says what usually does that; its key brings the trials, and what begins anew is said anew. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { act } from 'react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../../renderer/app-parts.ts';
import { createKeys } from '../../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../../renderer/state/store.ts';
import { TrialsColumn } from '../../../../renderer/views/tune/TrialsColumn.tsx';
import type { NumberedTrial } from '../../../../shared/tuning/trial/numbered-trial.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { unrestWords } from '../../../../shared/words/tune/states.ts';
import { makeTrial, type TrialParts } from '../../../shared/tuning/make-trial.ts';
import { recordWith } from '../../helpers/records.ts';
import { rowsOf } from '../../helpers/in-window.tsx';

vi.mock('../../../../renderer/views/tune/UnrestBlock.tsx', () => ({ UnrestBlock: () => null }));
beforeEach(() => void vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

it('says the causes at the beginning of every drift, also after the trials were asked for during the last one', () => {
  const keys = createKeys();
  const parts = { store: createAppStore(), keys } as unknown as AppParts;
  const column = (...sinceMs: number[]) => (
    <AppContext value={parts}>
      <TrialsColumn
        trials={[]}
        adjusters={[]}
        rows={[]}
        units="us"
        waiting={false}
        unrest={sinceMs.map((since) => ({ channel: 'o2', state: 'drifting', sinceMs: since }))}
      />
    </AppContext>
  );
  const title = (): string => screen.getByRole('heading', { level: 2 }).textContent ?? '';
  const { rerender } = render(column(1000));
  expect(title()).toBe(unrestWords.usuallyTitle);
  act(() => void keys.press({ key: keys.keyOf('unrest'), ctrl: false, alt: false, repeat: false, focus: 'other', dialogOpen: false }));
  expect(title()).toBe(live.trials);
  rerender(column());
  expect(title()).toBe(live.trials);
  rerender(column(9000));
  expect(title()).toBe(unrestWords.usuallyTitle);
});

describe('the trials of a run', () => {
  const trial = (number: number, parts: Omit<TrialParts, 'id'>, more: Partial<NumberedTrial> = {}): NumberedTrial => ({
    ...makeTrial({ id: `trial-${number}`, ...parts }),
    number,
    running: false,
    changed: [],
    ...more,
  });
  type Given = Partial<Parameters<typeof TrialsColumn>[0]> & { role?: 'viewer' | 'operator'; replayed?: boolean };
  const show = ({ role = 'operator', replayed = false, ...given }: Given) => {
    const store = createAppStore();
    const record = recordWith({}, replayed ? { replay: { playing: true, speed: 1, endMs: 1 } } : {});
    store.setState({ wire: { phase: 'open' }, role, runId: record.info.runId, runs: { [record.info.runId]: record } });
    const { container } = render(
      <AppContext value={{ store, keys: createKeys() } as unknown as AppParts}>
        <TrialsColumn trials={[]} adjusters={['shutter']} rows={[]} units="metric" waiting={false} unrest={[]} {...given} />
      </AppContext>,
    );
    return { store, container };
  };
  const rows = [
    { channel: 'o2', value: 6.2 },
    { channel: 'co', value: 44 },
  ] as unknown as Parameters<typeof TrialsColumn>[0]['rows'];
  const three = [
    trial(1, { shutter: 5.5, band: 3, o2: 7, co: 20, smoke: [0, 1] }),
    trial(2, { shutter: 5, o2: 6, co: 30 }, { smoke: { spots: [], notTaken: true } }),
    trial(3, { shutter: 4.5 }, { running: true }),
  ];

  it('each tells its setting, its means and its smoke; the running one what is shown now', () => {
    show({ trials: three, adjusters: ['shutter', 'band'], rows });
    expect(rowsOf(live.trials).slice(1)).toEqual([
      ['1', '5.5', '3', '7.0', '20', '½'],
      ['2', '5', '–', '6.0', '30', live.smokeDialog.notTaken.toLowerCase()],
      ['3', '4.5', '–', '6.2', '44', expect.stringMatching(/^\w$/)],
    ]);
    expect(
      screen
        .getAllByRole('row')
        .map((row) => [row.className, row.getAttribute('aria-current')])
        .slice(1),
    ).toEqual([
      ['', null],
      ['', null],
      ['now', 'true'],
    ]);
  });
  it('one that is not running has no figures that are shown now', () => {
    show({ trials: [trial(1, { shutter: 5 }), three[2]!], rows });
    expect(rowsOf(live.trials)[1]).toEqual(['1', '5', '–', '–', '–']);
  });
  it('more than one adjuster makes the column wide', () => {
    expect([['shutter'], ['shutter', 'band']].map((adjusters) => show({ adjusters }).container.querySelector('.two') !== null)).toEqual([
      false,
      true,
    ]);
  });
  it.each([
    ['an operator beside a run', {}, true],
    ['a viewer', { role: 'viewer' }, false],
    ['a replay', { replayed: true }, false],
  ] as const)('smoke is asked for in the running one: %s', (_, given, isAsked) => {
    const { store, container } = show({ trials: three, ...given });
    const asks = [...container.querySelectorAll<HTMLButtonElement>('.smoke-key')];
    expect(asks).toHaveLength(isAsked ? 1 : 0);
    asks.forEach((ask) => fireEvent.click(ask));
    expect(store.getState().entry).toBe(isAsked ? 'smoke' : undefined);
  });
  it('up and down walk through them, and stay at the ends', () => {
    const { container } = show({ trials: three });
    const all = [...container.querySelectorAll<HTMLElement>('tbody tr')];
    expect(all.map(({ tabIndex }) => tabIndex)).toEqual([-1, -1, 0]);
    all[2]!.focus();
    const press = (key: string): number => {
      fireEvent.keyDown(document.activeElement!, { key });
      return all.indexOf(document.activeElement as HTMLElement);
    };
    expect(['ArrowDown', 'ArrowUp', 'ArrowUp', 'ArrowUp', 'ArrowDown', 'a'].map(press)).toEqual([2, 1, 0, 0, 1, 1]);
  });
  it('says how to begin while there is one, and that the running one waits where no lines come', () => {
    const below = (given: Given): string => show(given).container.querySelector('.below')!.textContent ?? '';
    expect(below({ trials: three.slice(2), waiting: true })).toBe(live.trialsEmpty);
    expect(below({ trials: three, waiting: true })).toBe(live.trialWaits(live.trial(3)));
    expect(below({ trials: three.slice(0, 2) })).toBe('');
  });
  it('its button turns it away, and it lies open when it was asked for', () => {
    const { store, container } = show({ trials: three });
    const turn = [...container.querySelectorAll<HTMLButtonElement>('.trials-head button')];
    expect(turn.map((one) => one.getAttribute('aria-label'))).toEqual([live.trials]);
    expect(container.querySelector('.trials.open')).toBeNull();
    act(() => void fireEvent.click(turn[0]!));
    expect(store.getState().trialsOpen).toBe(true);
    expect(container.querySelector('.trials.open')).not.toBeNull();
  });
  it('lie under the causes of a drift, never beside them', () => {
    const unrest = [{ channel: 'o2' as const, state: 'drifting' as const, sinceMs: 1000 }];
    const hidden = (given: Given): boolean[] =>
      [...show(given).container.querySelectorAll<HTMLElement>('.scroll')].map((one) => one.hasAttribute('hidden'));
    expect(hidden({ trials: three })).toEqual([true, false]);
    expect(hidden({ trials: three, unrest })).toEqual([false, true]);
    const names = [...show({ unrest }).container.querySelectorAll('.trials-head button')].map((one) => one.getAttribute('aria-label'));
    expect(names).toEqual([live.trials, live.trials]);
  });
});
