// @vitest-environment happy-dom
import { act, cleanup, render, screen } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { useAnswer, useAnswerOrProblem } from '../../../renderer/queries/use-answer.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { problem } from '../../../shared/problem.ts';

afterEach(cleanup);

/** A host that answers when the test says so, in the order that the test says. */
function slowHost() {
  const asked: { input: unknown; answer: (made: unknown) => Promise<void> }[] = [];
  const listeners = new Set<() => void>();
  const store = createAppStore();
  const parts = {
    store,
    client: {
      call: (_name: string, input: unknown) =>
        new Promise((done) => asked.push({ input, answer: (made) => act(() => (done(made), Promise.resolve())) })),
      on: (_name: string, listener: () => void) => (listeners.add(listener), () => listeners.delete(listener)),
    },
  } as unknown as AppParts;
  return { asked, parts, store, listeners, recordsChange: () => act(() => (listeners.forEach((one) => one()), Promise.resolve())) };
}
type Way = { when?: 'once'; version?: number };
const found = (total: number) => ({ ok: true, value: { visits: [], total } });

function Shown({ search, way = {} }: { search: string | undefined; way?: Way }) {
  const answer = useAnswer('visit.list', search === undefined ? undefined : { search }, way);
  return <output>{answer === undefined ? 'nothing' : answer.total}</output>;
}
const page = (parts: AppParts, search: string | undefined, way?: Way) => (
  <AppContext value={parts}>
    <Shown search={search} {...(way && { way })} />
  </AppContext>
);
const text = (): string | null => screen.getByRole('status').textContent;

describe('an answer of the host in a view', () => {
  it('stays until the next has come, and an answer to what was asked before comes too late', async () => {
    const { asked, parts } = slowHost();
    const { rerender } = render(page(parts, 'a'));
    expect(text()).toBe('nothing');
    await asked[0]?.answer(found(1));
    expect(text()).toBe('1');
    rerender(page(parts, 'ab'));
    rerender(page(parts, 'abc'));
    expect(text()).toBe('1');
    await asked[2]?.answer(found(3));
    await asked[1]?.answer(found(2));
    expect(text()).toBe('3');
    expect(asked.map(({ input }) => input)).toEqual([{ search: 'a' }, { search: 'ab' }, { search: 'abc' }]);
  });
  it('is asked for again when records changed, unless once is enough; and again with another version', async () => {
    const { asked, parts, recordsChange } = slowHost();
    const { rerender } = render(page(parts, 'a'));
    await recordsChange();
    expect(asked).toHaveLength(2);
    rerender(page(parts, 'a', { when: 'once', version: 1 }));
    const before = asked.length;
    await recordsChange();
    expect(asked).toHaveLength(before);
    rerender(page(parts, 'a', { when: 'once', version: 2 }));
    expect(asked).toHaveLength(before + 1);
  });
  it('is none where nothing is asked, and nobody listens any more when the page has gone', () => {
    const { asked, parts, listeners } = slowHost();
    const { unmount } = render(page(parts, undefined));
    expect([asked.length, text(), listeners.size]).toEqual([0, 'nothing', 1]);
    unmount();
    expect(listeners.size).toBe(0);
  });
  it('is a notice where it was refused, but for what was deleted a moment ago; the last answer stays', async () => {
    const { asked, parts, store, recordsChange } = slowHost();
    render(page(parts, 'a'));
    await asked[0]?.answer(found(1));
    await recordsChange();
    await asked[1]?.answer({ ok: false, error: problem('not-found') });
    expect(store.getState().answer).toBeUndefined();
    await recordsChange();
    await asked[2]?.answer({ ok: false, error: problem('disk-full') });
    expect(store.getState().answer?.problem.code).toBe('disk-full');
    expect(text()).toBe('1');
  });
});

describe('an answer that a page is about', () => {
  function OrProblem({ search, keepLast }: { search: string; keepLast: boolean }) {
    const answer = useAnswerOrProblem('visit.list', { search }, { keepLast });
    return <output>{answer === undefined ? 'nothing' : 'problem' in answer ? answer.problem.code : answer.value.total}</output>;
  }
  const about = (parts: AppParts, search: string, keepLast = false) => (
    <AppContext value={parts}>
      <OrProblem search={search} keepLast={keepLast} />
    </AppContext>
  );
  it('is the refusal itself, and no notice over everything', async () => {
    const { asked, parts, store } = slowHost();
    render(about(parts, 'a'));
    await asked[0]?.answer({ ok: false, error: problem('disk-full') });
    expect([text(), store.getState().answer]).toEqual(['disk-full', undefined]);
  });
  it('does not stand for another page meanwhile; in a list that is searched it stays', async () => {
    const { asked, parts } = slowHost();
    const { rerender } = render(about(parts, 'a'));
    await asked[0]?.answer(found(1));
    rerender(about(parts, 'ab'));
    expect(text()).toBe('nothing');
    rerender(about(parts, 'abc', true));
    expect(text()).toBe('1');
  });
});
