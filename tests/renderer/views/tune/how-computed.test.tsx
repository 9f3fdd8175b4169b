// @vitest-environment happy-dom
import { cleanup, render } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../../renderer/app-parts.ts';
import { createKeys } from '../../../../renderer/keys/key-registry.ts';
import { recordOf } from '../../../../renderer/state/run-record.ts';
import { createAppStore } from '../../../../renderer/state/store.ts';
import { HowComputed } from '../../../../renderer/views/tune/HowComputed.tsx';
import { Settings } from '../../../../shared/ipc/settings.ts';
import { infoOf, stateOf } from '../../helpers/records.ts';

afterEach(cleanup);
const narrow = Settings.parse({}).tolerances;
const wide = { ...narrow, o2Percent: narrow.o2Percent * 5 };

/** Excess air taken apart, of a run begun with `ofRun`, in a window whose settings say `ofToday`. */
function explained(ofRun: typeof narrow | undefined, ofToday: typeof narrow): string {
  const store = createAppStore();
  store.setState({ settings: { ...store.getState().settings, tolerances: ofToday } });
  const record = recordOf(infoOf(ofRun === undefined ? {} : { tolerances: ofRun }));
  const states = { o2: stateOf('o2', 'settled', { value: 5 }), stackTemperature: stateOf('stackTemperature', 'settled', { value: 210 }) };
  const parts = { store, keys: createKeys() } as unknown as AppParts;
  const { container, unmount } = render(
    <AppContext value={parts}>
      <HowComputed
        figure="excessAirPercent"
        record={{ ...record, face: { ...record.face, timeMs: 60_000, states } }}
        close={() => undefined}
      />
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

  it('is told with those of today for a run of an earlier version, which does not say', () => {
    expect(explained(undefined, wide)).toBe(explained(wide, wide));
  });
});
