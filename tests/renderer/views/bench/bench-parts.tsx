/** A form of the bench in the window, with what it saves and removes. */
import { act, fireEvent } from '@testing-library/react';
import type { ReactNode } from 'react';
import { useParts } from '../../../../renderer/app-parts.ts';
import { benchScreenOf, type BenchLists, type BenchScreen, type BenchView } from '../../../../renderer/views/bench/bench-screen.ts';
import type { AppState } from '../../../../renderer/state/store.ts';
import { common } from '../../../../shared/words/common.ts';
import { button, inWindow, settled } from '../../helpers/in-window.tsx';

type Shown = { lists?: Partial<BenchLists>; view?: BenchView; state?: Partial<AppState>; saves?: boolean };
export function onBench(form: ReactNode, { lists = {}, view = { kind: 'home' }, state = {}, saves = true }: Shown = {}) {
  const made: { screen?: BenchScreen } = {};
  function Prepared() {
    const parts = useParts();
    if (made.screen === undefined) {
      made.screen = benchScreenOf(parts);
      made.screen.store.setState((now) => ({ view, lists: { ...now.lists, ...lists } }));
    }
    return form;
  }
  const { asked } = inWindow(<Prepared />, state, {
    'document.save': ({ id }: { id?: string }) => (saves ? { id: id ?? 'new', revision: 1, changedMs: 0 } : undefined),
    'document.remove': {},
  });
  const sent = (name: string): unknown => asked.findLast((one) => one.name === name)?.input;
  return {
    asked,
    sent,
    view: () => made.screen?.store.getState().view,
    save: async (): Promise<unknown> => {
      fireEvent.click(saveButton());
      await settled();
      return (sent('document.save') as { body?: unknown } | undefined)?.body;
    },
  };
}
export const saveButton = (): HTMLButtonElement => button(common.save);
export const saidBelow = (): string => document.querySelector('.says')?.textContent ?? '';
export const pressed = async (one: HTMLElement): Promise<void> => {
  act(() => one.click());
  await settled();
};
