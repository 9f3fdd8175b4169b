// @vitest-environment happy-dom
/** What may be pressed on the result of a bench test, and what it does: by its verdict, whether it is open or signed, and who looks at it. */
import { cleanup, render } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { benchScreenOf } from '../../../renderer/views/bench/bench-screen.ts';
import { ResultView } from '../../../renderer/views/bench/result/ResultView.tsx';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { benchResult as words } from '../../../shared/words/bench/bench-result.ts';
import { benchSetUp } from '../../../shared/words/bench/bench-run.ts';
import { testWith } from '../../shared/bench/made-test.ts';
import { button, press, rowsOf } from '../helpers/in-window.tsx';

afterEach(cleanup);

const whole = (more: { co: number; left?: number }, change: Partial<BenchTest> = {}): BenchTest => {
  const test = testWith({ wallMs: Date.UTC(2026, 0, 10), ...more });
  // a plan of the two steps that were done
  return { ...test, plan: { ...test.plan, steps: test.plan.steps.filter(({ id }) => id === 's2' || id === 's3') }, ...change };
};
function show(test: BenchTest, { role = 'operator', others = [] as { id: string; body: BenchTest }[] } = {}) {
  const store = createAppStore();
  store.setState({ role, wire: { phase: 'open' } } as never);
  const asked: { name: string; input: unknown }[] = [];
  const parts = {
    store,
    keys: createKeys(),
    client: { on: () => () => undefined, call: () => Promise.resolve({ ok: false }) },
    actions: { ask: (name: string, input: unknown) => Promise.resolve(void asked.push({ name, input })) },
  } as unknown as AppParts;
  const bench = benchScreenOf(parts);
  const docs = [{ id: 't1', body: test }, ...others].map((one) => ({ revision: 1, changedMs: 0, ...one }));
  bench.store.setState(({ lists }) => ({ lists: { ...lists, 'bench-test': docs } }));
  render(
    <AppContext value={parts}>
      <ResultView testId="t1" />
    </AppContext>,
  );
  return { asked, view: () => bench.store.getState().view };
}
const names = (): string[] => [...document.querySelectorAll('button')].map((one) => one.textContent ?? '');
const has = (name: string): boolean => names().some((one) => one.startsWith(name));
const main = (): HTMLButtonElement => document.querySelector<HTMLButtonElement>('.button.main')!;

describe('an instrument that is fit', () => {
  it('leads to its certificate, and the test is closed', () => {
    const { asked, view } = show(whole({ co: 1000 }));
    expect(main().textContent).toMatch(new RegExp(`^${words.certificate}`));
    main().click();
    expect(asked).toEqual([{ name: 'bench.close', input: { testId: 't1' } }]);
    expect(view()).toEqual({ kind: 'certificate', testId: 't1' });
  });
  it.each([
    ['that is closed', { status: 'done' }, 'operator'],
    ['that only is looked at', {}, 'viewer'],
  ] as const)('of a test %s: the certificate is shown, nothing is closed', (_, change, role) => {
    const { asked, view } = show(whole({ co: 1000 }, change), { role });
    main().click();
    expect(asked).toEqual([]);
    expect(view()).toEqual({ kind: 'certificate', testId: 't1' });
  });
  it('may be adjusted all the same', () => {
    show(whole({ co: 1000 }));
    expect(button(words.adjust).disabled).toBe(false);
  });
});

describe('an instrument that is not fit', () => {
  it('leads to its adjustment first; its certificate is there as well', () => {
    const { view } = show(whole({ co: 800 }));
    expect(main().textContent).toMatch(new RegExp(`^${words.adjust}`));
    press(words.certificate);
    expect(view()).toEqual({ kind: 'certificate', testId: 't1' });
  });
  it('that was signed leads to its certificate, and nothing of it is changed', () => {
    show(whole({ co: 800 }, { status: 'done', signature: { name: 'B. Tester', wallMs: Date.UTC(2026, 0, 11) } }));
    expect(main().textContent).toMatch(new RegExp(`^${words.certificate}`));
    expect(has(words.adjust)).toBe(false);
    expect([button(words.repeat).disabled, button(words.changeLimits).disabled]).toEqual([true, true]);
  });
});

describe('a test that is not at its end', () => {
  const open = whole({ co: 1000 });
  const unfinished = { ...open, plan: testWith({ wallMs: 0, co: 1000 }).plan };
  it('leads back to its plan, and to nothing else', () => {
    show(unfinished);
    expect(main().textContent).toMatch(new RegExp(`^${words.backToPlan}`));
    expect([words.certificate, words.adjust, benchSetUp.nextInstrument].map(has)).toEqual([false, false, false]);
  });
  it('is over when it was closed', () => {
    show({ ...unfinished, status: 'done' });
    expect(main().textContent).toMatch(new RegExp(`^${words.certificate}`));
  });
});

it('shows the round as left first; the round as found is a press away', () => {
  show(whole({ co: 800, left: 1000 }));
  const readings = () =>
    rowsOf(words.table)
      .map((row) => row.join(' '))
      .join('\n');
  expect(readings()).not.toContain('800');
  expect(document.querySelector('h2')?.textContent).toMatch(/^Fit/);
  press(words.foundLeft['as-found']);
  expect(readings()).toContain('800');
  expect(document.querySelector('h2')?.textContent).toMatch(/^Not fit/);
});
it('a test of one round has nothing to choose between', () => {
  show(whole({ co: 800 }));
  expect(has(words.foundLeft['as-left'])).toBe(false);
});
it('tests that ran side by side are a press away; others are not', () => {
  const other = (session: string, name: string) => ({
    ...whole({ co: 1000 }),
    session,
    instrumentId: name,
    instrument: { ...whole({ co: 1000 }).instrument, name },
  });
  const { view } = show(whole({ co: 1000 }), {
    others: [
      { id: 't2', body: other('practice', 'Instrument 4') },
      { id: 't3', body: other('another day', 'Instrument 5') },
    ],
  });
  expect(has('Instrument 5')).toBe(false);
  press(/Instrument 4/);
  expect(view()).toEqual({ kind: 'result', testId: 't2' });
});
it('a window that looks on changes nothing', () => {
  show(whole({ co: 1000 }), { role: 'viewer' });
  expect([words.repeat, words.adjust, words.changeLimits, benchSetUp.nextInstrument].map((name) => button(name).disabled)).toEqual([
    true,
    true,
    true,
    true,
  ]);
});
