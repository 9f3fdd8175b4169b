// @vitest-environment happy-dom
/** What stops the work, on the screens themselves: oil on the paper, a burner that may not be left running. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { act } from 'react';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import type { VisitChange } from '../../../renderer/backend/visit-edits.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { AirCurveStep } from '../../../renderer/views/visit/steps/AirCurveStep.tsx';
import { WarmUpStep } from '../../../renderer/views/visit/steps/WarmUpStep.tsx';
import { ReportStep } from '../../../renderer/views/visit/steps/ReportStep.tsx';
import { cautionKeys } from '../../../shared/tuning/advice/cautions.ts';
import { newVisit, type Visit } from '../../../shared/tuning/visit/visit.ts';
import { makeTrial } from '../../shared/tuning/make-trial.ts';
import { recordWith, stateOf } from '../helpers/records.ts';

vi.mock('../../../renderer/views/report/ReportView.tsx', () => ({ ReportView: () => null }));
afterEach(cleanup);

const adjuster = { name: 'shutter', unit: '', min: 0, max: 10, step: 0.25, role: 'fine', kind: 'air' } as const;
const visitWith = (more: Partial<Visit>): Visit => ({
  ...newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [adjuster] }),
  fuelId: 'no2',
  runs: [{ id: 'run-1', startWallMs: 0, source: 'port' }],
  cautions: cautionKeys.map((key) => ({ key, wallMs: 1 })),
  ...more,
});
const trial = (id: string, atMs: number, o2: number, shutter: number) => ({
  ...makeTrial({ id, atMs, o2, co: 20, shutter, smoke: 0 }),
  runId: 'run-1',
});

function show(visit: Visit, page: React.ReactNode) {
  const store = createAppStore();
  const edits: VisitChange[] = [];
  store.setState({ wire: { phase: 'open' }, role: 'operator', visit, visitStage: '1', workspace: 'tune', runId: 'run-1' });
  const record = recordWith({ states: [stateOf('o2', 'settled'), stateOf('co', 'settled', { value: 20 })] }, { visitId: 'v' });
  store.setState({ runs: { 'run-1': record } });
  const parts = {
    store,
    keys: createKeys(),
    buffers: { of: () => ({ samples: () => [], latest: () => undefined }) },
    frames: { each: () => () => undefined },
    sounds: { play: () => undefined },
    actions: { ask: () => Promise.resolve(undefined) },
    visits: { edit: (changes: VisitChange[]) => void edits.push(...changes), nowWallMs: () => 5, flush: () => Promise.resolve() },
  } as unknown as AppParts;
  render(<AppContext value={parts}>{page}</AppContext>);
  return { store, edits, record };
}
const text = (): string => document.body.textContent ?? '';
const onCurve = (visit: Visit) => {
  const record = recordWith({ states: [] }, { visitId: 'v' });
  return show(visit, <AirCurveStep record={record} deeds={undefined} />);
};

describe('the air curve', () => {
  const trials = [trial('a', 1, 8, 6), trial('b', 2, 7, 5)];

  it('with oil on the paper there is no next setting, and the button asks for the cause', () => {
    const oily = { ...trial('b', 2, 7, 5), smoke: { spots: [{ number: 0, oilTrace: true }] } };
    const { edits } = onCurve(visitWith({ trials: [trials[0]!, oily] }));
    expect(text()).toContain('Oil on the paper. Take the probe out. Find the cause before another reading.');
    expect(text()).not.toMatch(/Less air|More air/);
    fireEvent.click(screen.getByRole('button', { name: /^Enter the cause found/ }));
    fireEvent.change(screen.getByLabelText('What it was, and what was done'), { target: { value: 'nozzle loose' } });
    fireEvent.click(screen.getByRole('button', { name: 'Save the cause' }));
    expect(edits).toEqual([{ path: ['oilCauses'], after: [{ wallMs: 5, text: 'nozzle loose' }] }]);
  });
});

describe('warm up and draft', () => {
  it('what is typed over the fire is the draft over the fire, and at the breech the one at the breech', () => {
    const { edits } = show(visitWith({}), <WarmUpStep />);
    const typed = (label: RegExp, value: string): unknown => {
      edits.length = 0;
      const field = screen.getByLabelText(label);
      fireEvent.change(field, { target: { value } });
      fireEvent.blur(field);
      return edits[0]?.after;
    };
    const overFire = typed(/^Draft over the fire, as set/, '-0.02') as Record<string, number>;
    expect(Object.keys(overFire).filter((key) => key.endsWith('Pa'))).toEqual(['overFirePa']);
    const breech = typed(/^Draft at the breech, as set/, '-0.04') as Record<string, number>;
    expect(Object.keys(breech).filter((key) => key.endsWith('Pa'))).toEqual(['breechPa']);
  });
});

describe('the air curve without a fuel', () => {
  const unknown = { ...visitWith({ trials: [trial('a', 1, 8, 6), trial('b', 2, 7, 5)] }), fuelId: undefined };
  it('says what is needed, and the main button leads there', () => {
    const { store } = onCurve(unknown);
    expect(text()).toContain('Choose the fuel.');
    fireEvent.click(screen.getByRole('button', { name: /^Choose the fuel/ }));
    expect(store.getState().visitStep).toBe('start');
  });
  it('an alarm is said all the same', () => {
    onCurve({ ...unknown, trials: [{ ...makeTrial({ id: 'a', o2: 3, co: 900, shutter: 3, smoke: 0 }), runId: 'run-1' }] });
    expect(text()).toContain('Open the air or stop the burner, and find out why.');
    expect(screen.getByRole('button', { name: /^Mark where the air is now/ })).toBeTruthy();
  });
});

describe('going on while something is missing here', () => {
  it('is possible, and not what the eye is led to', () => {
    const bare = visitWith({ job: 'service' });
    show(bare, <WarmUpStep />);
    fireEvent.click(screen.getByRole('button', { name: /^The gauge reads zero/ }));
    cleanup();
    const { store } = show({ ...bare, warmUp: { gaugeZeroedWallMs: 1 } }, <WarmUpStep />);
    expect(text()).toContain('Enter the draft before you turn the air.');
    const onward = screen.getByRole('button', { name: /on to Air curve/i });
    expect(onward.classList.contains('by-hand')).toBe(true);
    act(() =>
      store.setState({
        visit: {
          ...bare,
          warmUp: { gaugeZeroedWallMs: 1, regulator: 'set' },
          drafts: [{ wallMs: 1, when: 'set', overFirePa: -5, breechPa: -10 }],
        } as unknown as Visit,
      }),
    );
    expect(screen.getByRole('button', { name: /on to Air curve/i }).classList.contains('by-hand')).toBe(false);
  });
});

describe('the report step', () => {
  it('asks what was done with a burner that is not safe to leave running before it offers the signature', async () => {
    const { store, edits } = show(visitWith({ trials: [trial('a', 1, 5, 5)], roomCo: [{ wallMs: 1, ppm: 20 }] }), <ReportStep />);
    const unsafe = visitWith({ trials: [trial('a', 1, 5, 5)], defects: [{ text: 'cracked chamber', weight: 'not-safe' }] as never });
    act(() => store.setState({ visit: unsafe }));
    expect(text()).toContain('Not safe to leave running: defect left: cracked chamber');
    fireEvent.click(screen.getByRole('button', { name: /^Enter what was done/ }));
    fireEvent.click(screen.getByLabelText('The burner is left off'));
    fireEvent.click(screen.getByLabelText('It is red-tagged'));
    fireEvent.change(screen.getByLabelText('Who was told, by name'), { target: { value: 'B. Owner' } });
    fireEvent.click(screen.getByRole('button', { name: 'Save' }));
    const done = { wallMs: 5, leftOff: true, redTagged: true, ownerTold: 'B. Owner' };
    expect(edits).toEqual([{ path: ['notLeftRunning'], after: done }]);
    act(() => store.setState({ visit: { ...unsafe, notLeftRunning: done } }));
    expect(text()).toContain('Left off, red-tagged. Told: B. Owner.');
    expect(screen.queryByRole('button', { name: /^Enter what was done/ })).toBeNull();
    // nobody is named yet: the button leads to the field that the sentence asks for
    expect(text()).toContain('Type your name to sign.');
    const toName = screen.getByRole('button', { name: /^Type your name/ });
    await expect.poll(() => toName.getAttribute('aria-disabled')).toBe('false');
    fireEvent.click(toName);
    expect(screen.getByLabelText('Type your name to sign')).toBe(document.activeElement);
    fireEvent.change(screen.getByLabelText('Type your name to sign'), { target: { value: 'A. Sample' } });
    expect(screen.getByRole('button', { name: /^Sign/ })).toBeTruthy();
  });
  it('leads out of a bypass that is in place', () => {
    const { edits } = show(visitWith({ bypasses: [{ what: 'limit bridged', openedWallMs: 1 }] }), <ReportStep />);
    expect(text()).toContain('Remove the bypass first: limit bridged.');
    expect(screen.queryByRole('button', { name: /^Sign/ })).toBeNull();
    fireEvent.click(screen.getByRole('button', { name: /^Enter that it is removed/ }));
    fireEvent.click(screen.getByRole('button', { name: 'Removed' }));
    expect(edits).toEqual([{ path: ['bypasses', 0, 'closedWallMs'], after: 5 }]);
  });
});
