// @vitest-environment happy-dom
/** Figures of visits that are compared: read once each, the newest as the host says them, and none of a list that is no longer asked for. */
import { act, cleanup, renderHook } from '@testing-library/react';
import type { ReactNode } from 'react';
import { afterEach, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../../renderer/app-parts.ts';
import { useFigures } from '../../../../renderer/views/records/visit/VisitPage.tsx';
import { oilVisit } from '../../helpers/in-window.tsx';

afterEach(cleanup);

function host() {
  const waiting = new Map<string, (answer: unknown) => void>();
  const asked: string[] = [];
  let heard: ((payload: unknown) => void) | undefined;
  const client = {
    call: (_name: string, { id }: { id: string }) => {
      asked.push(id);
      return new Promise((answer) => void waiting.set(id, answer));
    },
    on: (_name: string, listener: (payload: unknown) => void) => {
      heard = listener;
      return () => (heard = undefined);
    },
  };
  const parts = { client } as unknown as AppParts;
  return {
    asked,
    wrapper: ({ children }: { children: ReactNode }) => <AppContext value={parts}>{children}</AppContext>,
    answer: (id: string, found = true) =>
      act(async () => {
        waiting.get(id)?.(found ? { ok: true, value: { visit: oilVisit({ id }), revision: 1 } } : { ok: false });
        await new Promise<void>((done) => setTimeout(done, 0));
      }),
    change: (id: string, number: number) => act(() => heard?.({ visit: oilVisit({ id, number }) })),
    isHeard: () => heard !== undefined,
  };
}
const ids = ({ result }: { result: { current: readonly { visit: { id: string } }[] } }): string[] =>
  result.current.map(({ visit }) => visit.id);

it('each visit is asked for once, the one that is always there too', async () => {
  const { asked, wrapper, answer } = host();
  const hook = renderHook(() => useFigures(['a', 'b', 'a'], 'b'), { wrapper });
  expect(asked).toEqual(['a', 'b']);
  await answer('a');
  await answer('b');
  expect(ids(hook)).toEqual(['a', 'b']);
});
it('one that cannot be read is left out; none is asked for where none is named', async () => {
  const { wrapper, answer } = host();
  const hook = renderHook(() => useFigures(['a', 'b'], undefined), { wrapper });
  await answer('a', false);
  await answer('b');
  expect(ids(hook)).toEqual(['b']);
  const none = host();
  renderHook(() => useFigures([], undefined), { wrapper: none.wrapper });
  expect(none.asked).toEqual([]);
});
it('an answer that comes late does not take the place of the visits that are asked for now', async () => {
  const { wrapper, answer } = host();
  const hook = renderHook(({ list }) => useFigures(list, undefined), { wrapper, initialProps: { list: ['old'] } });
  hook.rerender({ list: ['new'] });
  await answer('new');
  await answer('old');
  expect(ids(hook)).toEqual(['new']);
});
it('a visit that is changed is shown changed, and the others as they were', async () => {
  const { wrapper, answer, change, isHeard } = host();
  const hook = renderHook(() => useFigures(['a', 'b'], undefined), { wrapper });
  await answer('a');
  await answer('b');
  change('b', 99);
  expect(hook.result.current.map(({ visit }) => visit.number)).toEqual([7, 99]);
  hook.unmount();
  expect(isHeard()).toBe(false);
});
