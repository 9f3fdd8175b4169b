// @vitest-environment happy-dom
/** The parts of the simulated burner, in the units that the window shows. */
import { cleanup, render, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { BurnerControls } from '../../../renderer/views/warm-up/BurnerControls.tsx';
import { amounts } from '../../../shared/burner/parts.ts';

afterEach(cleanup);

// by hand: 1 000 000 Pa at 6894.757 Pa a psi, 10 Pa at 249.089 Pa an in w.c.
it.each([
  ['us', 'pumpPressurePa', 1_000_000, '145 psi'],
  ['metric', 'pumpPressurePa', 1_000_000, '10.0 bar'],
  ['us', 'roomDepressionPa', 10, '0.040 in w.c.'],
  ['metric', 'roomDepressionPa', 10, '10.0 Pa'],
  ['us', 'roomCoPpm', 35, '35 ppm'],
  ['us', 'creepPpmPerMinute', 12, '12 ppm/min'],
  ['us', 'afterDripSeconds', 9, '9 s'],
] as const)('in %s units %s %d is %s', async (units, name, value, shown) => {
  const store = createAppStore();
  store.setState({ settings: { ...store.getState().settings, units } });
  const none = Object.fromEntries(Object.keys(amounts).map((one) => [one, 0]));
  const parts = {
    store,
    client: { call: () => Promise.resolve({ ok: true, value: { amounts: { ...none, [name]: value }, switches: {} } }) },
    actions: { ask: () => Promise.resolve(undefined) },
  } as unknown as AppParts;
  render(
    <AppContext value={parts}>
      <BurnerControls runId="run-1" />
    </AppContext>,
  );
  const plain = (text: string | null): string | undefined => text?.replace(/\s/g, ' ');
  await screen.findAllByText((_, element) => element?.tagName === 'OUTPUT' && plain(element.textContent) === shown);
  const spoken = screen.getAllByRole('slider').map((slider) => plain(slider.getAttribute('aria-valuetext')));
  expect(spoken[Object.keys(amounts).indexOf(name)]).toBe(shown);
});
