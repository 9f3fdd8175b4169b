// @vitest-environment happy-dom
/** The frame of every screen of the bench: what stands in its row, and what Enter does in its fields. */
import { act, cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { BenchFrame } from '../../../renderer/views/bench/BenchFrame.tsx';
import { common } from '../../../shared/words/common.ts';

afterEach(cleanup);

type Given = Partial<Parameters<typeof BenchFrame>[0]>;
function show(given: Given = {}) {
  const keys = createKeys();
  const parts = { store: createAppStore(), keys } as unknown as AppParts;
  const { container } = render(
    <AppContext value={parts}>
      <BenchFrame title="The test" says="" {...given}>
        {given.children ?? 'work'}
      </BenchFrame>
    </AppContext>,
  );
  const press = (action: Parameters<typeof keys.keyOf>[0]): void =>
    act(() => void keys.press({ key: keys.keyOf(action), ctrl: false, alt: false, repeat: false, focus: 'other', dialogOpen: false }));
  return { page: container, press };
}

describe('the row of a bench screen', () => {
  it('shows its title, or says it only where a switch stands in its place', () => {
    show();
    expect(screen.getByRole('heading', { level: 1 }).className).toBe('');
    cleanup();
    show({ turn: <span>switch</span> });
    expect(screen.getByRole('heading', { level: 1 }).className).toBe('hidden-text');
    expect(screen.getByText('switch')).toBeDefined();
  });
  it('has a place for what it is about, and a right column, only where there is something for it', () => {
    const { page } = show();
    expect(page.querySelectorAll('.bench-about, .bench-right')).toHaveLength(0);
    cleanup();
    const more = show({ about: 'of today', right: 'beside' });
    expect([...more.page.querySelectorAll('.bench-about, .bench-right')].map(({ textContent }) => textContent)).toEqual([
      'of today',
      'beside',
    ]);
  });
  it('goes back by button and key, where there is a way back', () => {
    let count = 0;
    const { press } = show({ back: () => (count += 1) });
    fireEvent.click(screen.getByRole('button', { name: RegExp(common.back) }));
    press('back');
    expect(count).toBe(2);
    cleanup();
    show();
    expect(screen.queryByRole('button')).toBeNull();
  });
});

describe('the main button of a bench screen', () => {
  const deeds = (main: Partial<NonNullable<Given['main']>>) => {
    const done: string[] = [];
    const frame = show({
      main: { text: 'Start', run: () => void done.push('main'), ...main },
      children: (
        <>
          <input aria-label="Name" />
          <input aria-label="Yes" type="checkbox" />
          <select aria-label="Gas" />
          <textarea aria-label="Note" />
          <dialog open>
            <input aria-label="Above" />
          </dialog>
        </>
      ),
    });
    return { ...frame, done };
  };
  const enter = (label: string, more: Parameters<typeof fireEvent.keyDown>[1] = {}): boolean =>
    fireEvent.keyDown(screen.getByLabelText(label), { key: 'Enter', ...more });

  it('is what Enter does in a field and in a list, which then has no use for it', () => {
    const { done } = deeds({});
    expect([enter('Name'), enter('Gas')]).toEqual([false, false]);
    expect(done).toEqual(['main', 'main']);
  });
  it.each(['Yes', 'Note', 'Above'])('is not what Enter does in what has a use of its own for it: %s', (label) => {
    const { done } = deeds({});
    expect(enter(label)).toBe(true);
    expect(done).toEqual([]);
  });
  it.each([{ ctrlKey: true }, { altKey: true }, { metaKey: true }, { repeat: true }, { isComposing: true }, { key: 'a' }])(
    'is not done by %j',
    (more) => {
      const { done } = deeds({});
      enter('Name', more);
      expect(done).toEqual([]);
    },
  );
  it('does nothing in any way while it is blocked', () => {
    const { done, press } = deeds({ blocked: true, key: 'mark' });
    const main = screen.getByRole<HTMLButtonElement>('button', { name: /Start/ });
    fireEvent.click(main);
    enter('Name');
    press('main');
    press('mark');
    expect([main.disabled, done]).toEqual([true, []]);
  });
  it('is done by its key, and by that of a mark where it is one', () => {
    const one = deeds({});
    one.press('main');
    one.press('mark');
    expect(one.done).toEqual(['main']);
    cleanup();
    const two = deeds({ key: 'mark' });
    two.press('mark');
    expect(two.done).toEqual(['main']);
  });
});
