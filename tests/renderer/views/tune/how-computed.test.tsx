// @vitest-environment happy-dom
import { cleanup, render } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../../renderer/app-parts.ts';
import { createKeys } from '../../../../renderer/keys/key-registry.ts';
import { recordOf } from '../../../../renderer/state/run-record.ts';
import { createAppStore } from '../../../../renderer/state/store.ts';
import { HowComputed } from '../../../../renderer/views/tune/rows/HowComputed.tsx';
import { Settings } from '../../../../shared/ipc/settings.ts';
import { infoOf, stateOf } from '../../helpers/records.ts';

afterEach(cleanup);
const narrow = Settings.parse({}).tolerances;
const wide = { ...narrow, o2Percent: narrow.o2Percent * 5 };

/** Excess air taken apart, of a run begun with `ofRun`, in a window whose settings say `ofToday`. */
function explained(
  ofRun: typeof narrow | undefined,
  ofToday: typeof narrow,
  { figure = 'excessAirPercent', units = 'metric' }: { figure?: 'excessAirPercent' | 'netStackC'; units?: 'us' | 'metric' } = {},
): string {
  const store = createAppStore();
  store.setState({ settings: { ...store.getState().settings, tolerances: ofToday, units } });
  const record = recordOf(infoOf(ofRun === undefined ? {} : { tolerances: ofRun }));
  const states = {
    o2: stateOf('o2', 'settled', { value: 5 }),
    stackTemperature: stateOf('stackTemperature', 'settled', { value: 210 }),
    airTemperature: stateOf('airTemperature', 'settled', { value: 20 }),
  };
  const parts = { store, keys: createKeys() } as unknown as AppParts;
  const { container, unmount } = render(
    <AppContext value={parts}>
      <HowComputed figure={figure} record={{ ...record, face: { ...record.face, timeMs: 60_000, states } }} close={() => undefined} />
    </AppContext>,
  );
  const text = container.textContent ?? '';
  unmount();
  return text;
}

describe('how a figure is computed', () => {
  it('is told with the tolerances that the run was begun with, whatever the settings say today', () => {
    expect(explained(narrow, narrow)).toMatch(/u \d/);
    expect(explained(wide, wide)).not.toBe(explained(narrow, narrow));
    expect(explained(wide, narrow)).toBe(explained(wide, wide));
    expect(explained(narrow, wide)).toBe(explained(narrow, narrow));
  });

  it('is told in the unit that is on the screen, and in that of its formula', () => {
    // net stack is a difference: 190 K are 342 °F (exact: 1 K is 1.8 °F)
    expect(explained(narrow, narrow, { figure: 'netStackC', units: 'us' })).toMatch(
      /342 ±\d °F .*computed in °C, % and ppm: 190\.0 ± \d\.\d °C/,
    );
    expect(explained(narrow, narrow, { figure: 'netStackC', units: 'metric' })).toMatch(/190\.0 ± \d\.\d °C/);
  });

  it('is told with those of today for a run of an earlier version, which does not say', () => {
    expect(explained(undefined, wide)).toBe(explained(wide, wide));
  });
});
