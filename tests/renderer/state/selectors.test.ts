import { describe, expect, it } from 'vitest';
import {
  adjustersOf,
  runningTrialOf,
  selectHints,
  selectIsRunning,
  selectMayAct,
  selectRun,
  trialsOfRun,
} from '../../../renderer/state/selectors.ts';
import { createAppStore, type AppState } from '../../../renderer/state/store.ts';
import { Settings } from '../../../shared/ipc/settings.ts';
import { recordWith } from '../helpers/records.ts';

const stateWith = (more: Partial<AppState>): AppState => ({ ...createAppStore().getState(), ...more });
const running = (phase: 'running' | 'paused' | 'lost' | 'learning' | 'ended') =>
  stateWith({ runId: 'r', runs: { r: recordWith({}, { runId: 'r', phase }) } });

describe('the run on screen', () => {
  it('goes on in every phase until it has ended; without one nothing does', () => {
    for (const phase of ['running', 'paused', 'lost', 'learning'] as const) expect(selectIsRunning(running(phase)), phase).toBe(true);
    expect(selectIsRunning(running('ended'))).toBe(false);
    expect(selectIsRunning(stateWith({}))).toBe(false);
    // chosen, and not heard of yet
    expect(selectIsRunning(stateWith({ runId: 'r' }))).toBe(false);
    expect(selectRun(running('ended'))?.info.runId).toBe('r');
  });

  it('has its own trials and patterns, and none of another run', () => {
    const [old, now] = [
      { running: true, id: 'old' },
      { running: true, id: 'now' },
    ];
    const state = {
      ...running('running'),
      trials: { r: [old, { running: false, id: 'done' }, now, { running: false, id: 'last' }] },
      hints: { r: ['a'] },
    } as never;
    expect(runningTrialOf(state)).toBe(now);
    expect([trialsOfRun('other')(state), trialsOfRun('r')(state).length, selectHints(state)]).toEqual([[], 4, ['a']]);
    expect([runningTrialOf(stateWith({})), selectHints(stateWith({}))]).toEqual([undefined, []]);
  });
});

describe('who may change something', () => {
  it.each([
    ['operator', 'open', true],
    ['instructor', 'open', true],
    ['viewer', 'open', false],
    ['operator', 'lost', false],
    ['viewer', 'lost', false],
  ] as const)('%s, connection %s: %s', (role, phase, mayAct) => {
    expect(selectMayAct(stateWith({ role, wire: { phase } as never }))).toBe(mayAct);
  });
});

describe('the steppers', () => {
  const stepped = (info: Parameters<typeof recordWith>[1], more: Partial<AppState> = {}) =>
    adjustersOf(stateWith({ settings: Settings.parse({}), runId: 'r', runs: { r: recordWith({}, { runId: 'r', ...info }) }, ...more }));
  it('are those of the settings, three at most, each where the run has it', () => {
    const setting = { stage: '1', positions: [{ name: 'SHUTTER', value: 4.5 }] };
    expect(stepped({ setting })).toEqual([
      { name: 'Shutter', min: 0, max: 10, step: 0.25, value: 4.5 },
      { name: 'Band', min: 0, max: 10, step: 0.5, value: undefined },
    ]);
    const many = Settings.parse({ adjusters: ['a', 'b', 'c', 'd'].map((name) => ({ name, coarse: false, step: 1 })) });
    expect(stepped({}, { settings: many }).map(({ name }) => name)).toEqual(['a', 'b', 'c']);
  });

  it('are those of the simulated burner where there is one: marked, or where it stands', () => {
    const adjuster = (name: string, value: number) => ({ name, min: 0, max: 8, step: 0.5, value });
    const simulator = { adjusters: [adjuster('Flap', 3), adjuster('Head', 2)] } as never;
    const setting = { stage: '1', positions: [{ name: 'flap', value: 5 }] };
    expect(stepped({ simulator, setting })).toEqual([
      { name: 'Flap', min: 0, max: 8, step: 0.5, value: 5 },
      { name: 'Head', min: 0, max: 8, step: 0.5, value: 2 },
    ]);
  });
});
