/** What a window holds of the bench: what is chosen, what is typed, and what the host says. */
import { describe, expect, it } from 'vitest';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { createBenchScreen, sessionOf } from '../../../renderer/views/bench/bench-screen.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { practiceTest } from '../../shared/bench/run-plan.ts';

const test: BenchTest = practiceTest();
const docOf = (revision: number, person: string) => ({ id: 'test-1', revision, changedMs: 0, body: { ...test, person } });

function openScreen(stored: ReturnType<typeof docOf>[] = []) {
  const listeners = new Map<string, (payload: never) => void>();
  const asked: { name: string; input: unknown }[] = [];
  let listed = stored;
  const client = {
    on: (name: string, run: (payload: never) => void) => {
      listeners.set(name, run);
      return () => undefined;
    },
    call: (name: string, { kind }: { kind?: string } = {}) =>
      Promise.resolve({
        ok: true,
        value: name === 'bench.state' ? { sessions: [] } : { documents: kind === 'bench-test' ? listed : [], unreadable: 0 },
      }),
  };
  const ask = (name: string, input: unknown) => {
    asked.push({ name, input });
    return Promise.resolve(name === 'bench.start' ? { testIds: ['test-1'] } : {});
  };
  const screen = createBenchScreen({ client, store: createAppStore(), actions: { ask } } as never);
  const tell = (name: string, payload: unknown): void => listeners.get(name)?.(payload as never);
  return { screen, asked, tell, list: (docs: typeof listed) => (listed = docs) };
}

describe('a window that shows the bench', () => {
  it('shows what the host says, and asks for nothing by itself', async () => {
    const { screen, tell, asked } = openScreen();
    await screen.load();
    const session = { testIds: ['test-1'], stepIndex: 2, columns: [], unsaved: [] };
    tell('bench.changed', { sessions: [session], tests: [docOf(3, 'B. Tester')] });
    expect(sessionOf(screen.store.getState(), 'test-1')).toEqual(session);
    expect(screen.store.getState().lists['bench-test'].map(({ body }) => body.person)).toEqual(['B. Tester']);
    expect(asked).toEqual([]);
  });

  it('a list that was on its way does not bring an older state back', async () => {
    const { screen, tell } = openScreen([docOf(3, 'before')]);
    tell('bench.changed', { sessions: [], tests: [docOf(4, 'signed')] });
    await screen.load();
    expect(screen.store.getState().lists['bench-test'][0]?.body.person).toBe('signed');
  });

  it('starts once, however often the button is pressed', async () => {
    const { screen, asked } = openScreen();
    await Promise.all([screen.start({} as never), screen.start({} as never)]);
    expect(asked.map(({ name }) => name)).toEqual(['bench.start']);
    expect(screen.store.getState().view).toEqual({ kind: 'run', testId: 'test-1' });
  });
  it('goes on once too', async () => {
    const { screen, asked } = openScreen();
    await Promise.all([screen.resume(['test-1']), screen.resume(['test-1'])]);
    expect(asked.map(({ name }) => name)).toEqual(['bench.resume']);
    await screen.resume(['test-1']);
    expect(asked).toHaveLength(2);
  });
});

describe('a form in the middle of a set-up', () => {
  it('goes back to the set-up with what was saved chosen there', () => {
    const { screen } = openScreen();
    const days = { technician: 'B. Tester', today: '2026-11-24', dayOf: () => '2026-11-24' };
    screen.setUp(days);
    screen.setDraft((draft) => ({ ...draft, place: 'bench 2' }));
    screen.show({ kind: 'gas', id: undefined, wantedFor: { slot: 'high' } });
    screen.leaveForm('gas-7');
    expect(screen.store.getState().view.kind).toBe('set-up');
    expect(screen.store.getState().draft).toMatchObject({ person: 'B. Tester', place: 'bench 2', bottles: { high: 'gas-7' } });
    screen.show({ kind: 'instrument', id: undefined, wantedFor: { runId: 'run-1' } });
    screen.leaveForm();
    expect(screen.store.getState().draft?.which).toEqual({});
    screen.show({ kind: 'instrument', id: undefined });
    screen.leaveForm('i9');
    expect(screen.store.getState().view.kind).toBe('home');
    // a second visit finds it as it was left
    screen.setUp(days);
    expect(screen.store.getState().draft?.place).toBe('bench 2');
  });
});
