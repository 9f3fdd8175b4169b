// @vitest-environment happy-dom
/** The certificate on screen: signed after the host's word, in the window that signed and in every other one. */
import { act, cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { benchScreenOf } from '../../../renderer/views/bench/bench-screen.ts';
import { CertificateView } from '../../../renderer/views/bench/certificate/CertificateView.tsx';
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { testWith } from '../../shared/bench/made-test.ts';

afterEach(cleanup);

const { watermark: _, ...measured } = testWith({ wallMs: Date.UTC(2026, 10, 24, 9), co: 1000, t90S: 30, left: 1000 });
const test: BenchTest = { ...measured, status: 'done', person: 'B. Tester', endedWallMs: measured.startedWallMs + 600_000 };

async function openWindow(role: 'operator' | 'viewer', answer: unknown) {
  const store = createAppStore();
  store.setState({ role, wire: { phase: 'open' } } as never);
  const listeners = new Map<string, (payload: never) => void>();
  const asked: string[] = [];
  let page = 0;
  const parts = {
    store,
    keys: createKeys(),
    client: {
      on: (name: string, run: (payload: never) => void) => {
        listeners.set(name, run);
        return () => undefined;
      },
      call: () => Promise.resolve({ ok: true, value: { token: `page-${++page}` } }),
    },
    actions: {
      ask: (name: string) => {
        asked.push(name);
        return Promise.resolve(answer);
      },
    },
  } as unknown as AppParts;
  benchScreenOf(parts).store.setState(({ lists }) => ({
    lists: { ...lists, 'bench-test': [{ id: 't1', revision: 1, changedMs: 0, body: test }] },
  }));
  render(
    <AppContext value={parts}>
      <CertificateView testId="t1" />
    </AppContext>,
  );
  await act(() => Promise.resolve());
  return {
    asked,
    pages: () => page,
    hostSays: (body: BenchTest, more: object = {}) =>
      act(async () => {
        listeners.get('bench.changed')?.({ sessions: [], tests: [{ id: 't1', revision: 2, changedMs: 1, body, ...more }] } as never);
        await Promise.resolve();
      }),
  };
}
const signed: BenchTest = { ...test, signature: { name: 'B. Tester', wallMs: 1, hash: 'a'.repeat(64) } };
/** the paper in view; what is made behind it is let come */
async function frame(): Promise<string> {
  for (const one of document.querySelectorAll('iframe')) fireEvent.load(one);
  await act(() => new Promise((rest) => setTimeout(rest)));
  return document.querySelector('iframe:not([aria-hidden])')?.getAttribute('src') ?? '';
}

describe('the main button', () => {
  it('signs while the sentence says that it is not signed; without a name it leads to the field', async () => {
    const window = await openWindow('operator', {});
    const main = (): HTMLElement => document.querySelector<HTMLElement>('.button.main')!;
    expect(main().textContent).toMatch(/^Sign/);
    fireEvent.change(screen.getByLabelText('Name of the person who signs'), { target: { value: ' ' } });
    expect(screen.getByText('Not signed yet. Type the name of the person who signs.')).toBeDefined();
    await expect.poll(() => main().getAttribute('aria-disabled')).toBe('false');
    fireEvent.click(main());
    expect(document.activeElement).toBe(screen.getByLabelText('Name of the person who signs'));
    expect(window.asked).toEqual([]);
  });
});

describe('a signature', () => {
  it('that the host refuses is not shown', async () => {
    const window = await openWindow('operator', undefined);
    fireEvent.click(screen.getByRole('button', { name: /^Sign/ }));
    await act(() => Promise.resolve());
    expect(window.asked).toEqual(['bench.sign']);
    expect(screen.queryByText('Signed by B. Tester')).toBeNull();
    expect(screen.getByText(/^Not signed yet\./)).toBeDefined();
    expect(window.pages()).toBe(1);
  });

  it.each(['operator', 'viewer'] as const)('is shown with the host’s word, and the paper is made anew: %s', async (role) => {
    const window = await openWindow(role, {});
    expect(await frame()).toContain('page-1');
    await window.hostSays(signed);
    expect(screen.getByText('Signed by B. Tester')).toBeDefined();
    expect(await frame()).toContain('page-2');
    expect(screen.queryByText(/Not signed yet/)).toBeNull();
    expect(screen.queryByRole('button', { name: /^Sign/ })).toBeNull();
    expect(document.querySelector('.button.main')?.textContent).toMatch(/^Certificate, PDF/);
  });

  it('of a test that was changed afterwards is not held up as one', async () => {
    const window = await openWindow('viewer', {});
    await window.hostSays(signed, { altered: true });
    expect(screen.queryByText('Signed by B. Tester')).toBeNull();
    expect(screen.getByText(/Changed after it was signed/)).toBeDefined();
  });
});
