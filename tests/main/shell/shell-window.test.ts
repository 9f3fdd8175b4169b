/** The window of the desktop app: shown, placed, closed. */
import { EventEmitter } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { closingQuestion, createClosingGuard } from '../../../main/shell/closing-question.ts';
import { showWhenReady } from '../../../main/shell/show-window.ts';
import { placeOnScreens, readWindowMemory, withRecentFile, writeWindowMemory } from '../../../main/shell/window-memory.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';

describe('closing while a run is measured', () => {
  function guarded() {
    const questions: { answer: (button: number) => void; fail: (why: Error) => void }[] = [];
    let closed = 0;
    const state = { capturing: true };
    const guard = createClosingGuard({
      isCapturing: () => state.capturing,
      ask: () => new Promise((resolve, fail) => questions.push({ answer: (response) => resolve({ response }), fail })),
      close: () => (closed += 1),
    });
    const press = (): boolean => {
      let stopped = false;
      guard({ preventDefault: () => (stopped = true) });
      return !stopped;
    };
    return { questions, press, state, closed: () => closed };
  }
  const settled = () => new Promise((resolve) => setImmediate(resolve));

  it('asks once however often the cross is pressed, and keeps measuring unless the other button is chosen', async () => {
    const { questions, press, closed } = guarded();
    expect([press(), press(), press()]).toEqual([false, false, false]);
    expect(questions).toHaveLength(1);
    questions[0]?.answer(closingQuestion.cancelId);
    await settled();
    expect(closed()).toBe(0);
    expect(press()).toBe(false);
    expect(questions).toHaveLength(2);
    questions[1]?.answer(closingQuestion.buttons.indexOf('End the run and close'));
    await settled();
    expect(closed()).toBe(1);
    expect(press()).toBe(true);
  });
  it('keeps measuring on Enter and on Escape', () => {
    expect([closingQuestion.defaultId, closingQuestion.cancelId]).toEqual([0, 0]);
    expect(closingQuestion.buttons[0]).toBe('Keep measuring');
  });
  it('asks again after a question that could not be shown', async () => {
    const { questions, press, closed } = guarded();
    press();
    questions[0]?.fail(new Error('no display'));
    await settled();
    expect(closed()).toBe(0);
    expect(press()).toBe(false);
    expect(questions).toHaveLength(2);
  });
  it('asks nothing without a run', () => {
    const { questions, press, state } = guarded();
    state.capturing = false;
    expect(press()).toBe(true);
    expect(questions).toHaveLength(0);
  });
});

describe('the window is shown', () => {
  function hidden() {
    const clock = createFakeClock();
    const window = new EventEmitter() as EventEmitter & { webContents: EventEmitter; isDestroyed(): boolean; show(): void };
    let shown = 0;
    let isDestroyed = false;
    Object.assign(window, { webContents: new EventEmitter(), isDestroyed: () => isDestroyed, show: () => (shown += 1) });
    showWhenReady(window, clock);
    return { clock, window, shown: () => shown, destroy: () => (isDestroyed = true) };
  }
  it.each(['ready-to-show', 'did-finish-load', 'did-fail-load'])('on %s, and once only', async (event) => {
    const { clock, window, shown } = hidden();
    (event === 'ready-to-show' ? window : window.webContents).emit(event);
    expect(shown()).toBe(1);
    window.emit('ready-to-show');
    await clock.advance(5000);
    expect(shown()).toBe(1);
  });
  it('after 3 s at the latest', async () => {
    const { clock, shown } = hidden();
    await clock.advance(2999);
    expect(shown()).toBe(0);
    await clock.advance(1);
    expect(shown()).toBe(1);
  });
  it('not after it was closed', async () => {
    const { clock, shown, destroy } = hidden();
    destroy();
    await clock.advance(5000);
    expect(shown()).toBe(0);
  });
});

describe('size and place of the window', () => {
  const screen = { x: 0, y: 0, width: 1440, height: 870 };
  const second = { x: 1440, y: 0, width: 1920, height: 1050 };
  it('are the usual ones the first time, never larger than the screen', () => {
    expect(placeOnScreens(undefined, [screen])).toEqual({ width: 1280, height: 800, minWidth: 1024, minHeight: 700 });
    // 1366 x 768 at 125 %, less a task bar
    const small = { x: 0, y: 0, width: 1093, height: 574 };
    expect(placeOnScreens(undefined, [small])).toEqual({ width: 1093, height: 574, minWidth: 1024, minHeight: 574 });
  });
  it('are those of the last time, also on the second screen', () => {
    const last = { x: 1500, y: 100, width: 1300, height: 900 };
    expect(placeOnScreens(last, [screen, second])).toMatchObject(last);
  });
  it('come back to the screen that is left when the other one has gone', () => {
    const place = placeOnScreens({ x: 1500, y: 100, width: 1300, height: 900 }, [screen]);
    expect(place).toEqual({ width: 1300, height: 870, minWidth: 1024, minHeight: 700 });
  });
  it('never leave the title bar above the screen', () => {
    expect(placeOnScreens({ x: 100, y: -40, width: 1100, height: 750 }, [screen])).toMatchObject({ x: 100, y: 0 });
  });

  it('are read back as written, and a broken file counts for nothing', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'flueside-memory-'));
    const path = join(folder, 'shell', 'window.json');
    const first = await readWindowMemory(path);
    expect(first).toEqual({ isMaximized: false, isFullScreen: false, zoomLevel: 0, recentFiles: [] });
    const memory = { ...first, place: { x: 1, y: 2, width: 1100, height: 720 }, zoomLevel: 1.5, recentFiles: ['/a.flueside-run'] };
    await writeWindowMemory(path, memory);
    expect(await readWindowMemory(path)).toEqual(memory);
    for (const text of ['{"zoomLevel":"x"}', '{', '[]']) {
      writeFileSync(path, text);
      expect(await readWindowMemory(path)).toEqual(first);
    }
    rmSync(folder, { recursive: true });
  });
  it('go with the files opened lately: newest first, each once, eight of them', () => {
    const nine = Array.from({ length: 9 }, (_, index) => `/${index}.flueside-run`);
    const files = nine.reduce<string[]>((before, path) => withRecentFile(before, path), []);
    expect(files).toEqual(nine.slice(1).reverse());
    expect(withRecentFile(files, '/4.flueside-run')).toEqual(['/4.flueside-run', ...files.filter((path) => path !== '/4.flueside-run')]);
  });
});
