// @vitest-environment happy-dom
/** Pages on screen: those at hand stay until the next ones are there, and only the newest are printed. */
import { act, cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { ReportView } from '../../../renderer/views/report/ReportView.tsx';

afterEach(cleanup);

const inView = (): string | null | undefined => document.querySelector('iframe:not([aria-hidden])')?.getAttribute('src');
const behind = (): string | null | undefined => document.querySelector('iframe[aria-hidden]')?.getAttribute('src');
const hasLoaded = (src: string | null | undefined) =>
  act(async () => {
    fireEvent.load(document.querySelector(`iframe[src="${src}"]`)!);
    await new Promise((rest) => setTimeout(rest));
  });
const button = (name: string): HTMLButtonElement => screen.getByRole('button', { name });

describe('the preview of a report', () => {
  it('keeps its pages in view until the next ones are there, and prints only those that were asked for last', async () => {
    const answers: ((token: string) => Promise<void>)[] = [];
    const parts = {
      store: createAppStore(),
      client: {
        call: () => new Promise((resolve) => answers.push((token) => act(() => Promise.resolve(resolve({ ok: true, value: { token } }))))),
      },
    } as unknown as AppParts;
    render(
      <AppContext value={parts}>
        <ReportView visitId="v" startPaper="a4" />
      </AppContext>,
    );
    await act(() => Promise.resolve());
    expect(document.querySelector('iframe')).toBeNull();
    expect(button('Print').disabled).toBe(true);
    await answers[0]?.('one');
    expect(inView()).toContain('one');
    await hasLoaded(inView());
    expect(button('Print').disabled).toBe(false);

    fireEvent.click(button('Letter'));
    await act(() => Promise.resolve());
    expect(inView()).toContain('one');
    expect(button('Print').disabled).toBe(true);
    expect(screen.getByRole('status').textContent).toBe('Preparing the pages.');
    await answers[1]?.('two');
    expect([inView(), behind()]).toEqual([expect.stringContaining('one'), expect.stringContaining('two')]);
    expect(button('Print').disabled).toBe(true);
    await hasLoaded(behind());
    expect([inView(), behind()]).toEqual([expect.stringContaining('two'), undefined]);
    expect(button('Print').disabled).toBe(false);
    expect(screen.getByRole('status').textContent).toBe('');
  });
});
