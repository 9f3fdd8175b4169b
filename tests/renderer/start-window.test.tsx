// @vitest-environment happy-dom
/** The window as it starts, over a host made of memory: what fails outside of any render comes to the host's log. */
import { act } from 'react';
import { afterEach, expect, it, vi } from 'vitest';
import { startWindow } from '../../renderer/start-window.tsx';
import { createFakeBackend } from './helpers/fake-backend.ts';

vi.mock('../../renderer/App.tsx', () => ({ App: () => null }));
afterEach(() => vi.unstubAllGlobals());

it('a script and a promise that fail are told with their stack, and with their text where there is none', async () => {
  vi.stubGlobal('IS_REACT_ACT_ENVIRONMENT', true);
  const backend = createFakeBackend('empty', { live: false });
  const started = await act(() => startWindow(document.body.appendChild(document.createElement('div')), backend.transport));
  const told = () => backend.calls.filter(({ name }) => name === 'session.windowFailed').map(({ input }) => input);
  const bug = new Error('a bug');
  dispatchEvent(Object.assign(new Event('error'), { error: bug, message: 'a bug' }));
  dispatchEvent(Object.assign(new Event('error'), { error: 'thrown text', message: 'thrown text' }));
  dispatchEvent(Object.assign(new Event('unhandledrejection'), { reason: bug }));
  dispatchEvent(Object.assign(new Event('unhandledrejection'), { reason: 'no error' }));
  expect(told()).toEqual([
    { where: 'script', text: bug.stack },
    { where: 'script', text: 'thrown text' },
    { where: 'promise', text: bug.stack },
    { where: 'promise', text: 'no error' },
  ]);
  act(() => started.root.unmount());
  backend.stop();
});
