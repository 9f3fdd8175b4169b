// @vitest-environment happy-dom
/** A render that throws in any workspace: the alarm is still seen and heard, and the host gets the stack. */
import { cleanup, configure, fireEvent, render, screen } from '@testing-library/react';
import { act } from 'react';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { App } from '../../renderer/App.tsx';
import { AppContext, type AppParts } from '../../renderer/app-parts.ts';
import { createKeys } from '../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../renderer/state/store.ts';
import { workspaces } from '../../renderer/state/view-slice.ts';
import { common } from '../../shared/words/common.ts';
import type { Alarm } from '../../shared/tuning/advice/alarms.ts';

// a busy computer draws late
configure({ asyncUtilTimeout: 10_000 });

let isBroken = true;
vi.mock('../../renderer/views/workspace.ts', () => {
  const Thrower = () => {
    if (isBroken) throw new Error('a render of this workspace throws');
    return <p>open again</p>;
  };
  const load = () => Promise.resolve({ default: Thrower });
  return { workspaceModules: { tune: load, bench: load, 'warm-up': load, records: load } };
});
vi.mock('../../renderer/look/use-theme.ts', () => ({ useTheme: () => () => undefined }));

afterEach(() => {
  cleanup();
  isBroken = true;
});

const alarm: Alarm = { key: 'flue-co', runId: 'run', level: 'alarm', sinceMs: 0, ppm: 650, isAirFree: true, overRange: false };

async function show(workspace: (typeof workspaces)[number]) {
  vi.spyOn(console, 'error').mockImplementation(() => undefined);
  const store = createAppStore();
  const calls: { name: string; input: { where: string; text: string } }[] = [];
  const heard: string[] = [];
  store.setState({ wire: { phase: 'open' }, workspace, alarms: [alarm] });
  store.setState({ runs: { run: { info: { phase: 'ended', visitId: 'v', source: { kind: 'typed' } }, face: { states: {} } } } } as never);
  const parts = {
    store,
    keys: createKeys(),
    buffers: { of: () => undefined },
    sounds: { play: (name: string) => heard.push(name) },
    speech: { say: () => undefined },
    client: {
      on: () => () => undefined,
      call: (name: string, input: never) => {
        calls.push({ name, input });
        return Promise.resolve({ ok: true, value: {} });
      },
    },
    actions: { ask: () => Promise.resolve(undefined) },
  } as unknown as AppParts;
  await act(async () => {
    render(
      <AppContext value={parts}>
        <App />
      </AppContext>,
    );
    await Promise.resolve();
  });
  return { calls, heard };
}

describe.each(workspaces)('a render that throws in %s', (workspace) => {
  it('leaves the alarm seen and heard and the source bar there, says so in words, and brings the stack to the log', async () => {
    const { calls, heard } = await show(workspace);
    expect(await screen.findByText(common.broken.title)).toBeTruthy();
    expect(screen.getAllByRole('alert').some(({ textContent }) => /650.*CO air-free/.test(textContent ?? ''))).toBe(true);
    expect(heard).toContain('alarm');
    expect(screen.getAllByRole('button', { current: 'page' }).map(({ textContent }) => textContent)).toEqual([
      common.workspaces[workspace],
    ]);
    const [told] = calls.filter(({ name }) => name === 'session.windowFailed');
    expect(told?.input.where).toBe(workspace);
    // the stack of the failure itself, not only of the parts of the page that it stood in
    expect(told?.input.text).toMatch(/^Error: a render of this workspace throws\n\s*at \S/);

    isBroken = false;
    fireEvent.click(screen.getByRole('button', { name: common.broken.again }));
    expect(await screen.findByText('open again')).toBeTruthy();
  });
});
