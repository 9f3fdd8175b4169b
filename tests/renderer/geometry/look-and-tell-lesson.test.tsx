// @vitest-environment happy-dom
/** A lesson of Look and tell by hand: told, checked, counted, skipped, fired; and what may be pressed when. */
import { act, cleanup } from '@testing-library/react';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { LookAndTell } from '../../../renderer/views/geometry/lesson/LookAndTell.tsx';
import type { AppState } from '../../../renderer/state/store.ts';
import { beginLesson, burnerOf, type Lesson } from '../../../shared/geometry/lesson.ts';
import { errorKinds, leftOf, type ErrorKind } from '../../../shared/geometry/look-and-tell.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { seededRandom } from '../../../shared/tuning/training/random.ts';
import { kindNames, lookAndTell as words } from '../../../shared/words/geometry/look-and-tell.ts';
import { button, inWindow, press } from '../helpers/in-window.tsx';
import { infoOf, recordWith } from '../helpers/records.ts';

afterEach(cleanup);

const planted = (lesson: Pick<Lesson, 'seed' | 'at'>): readonly ErrorKind[] => burnerOf(lesson, trainingCards, seededRandom).planted;
const seedWith = (suits: (kinds: readonly ErrorKind[]) => boolean): number => {
  for (let seed = 1; seed < 500; seed++) if (suits(planted({ seed, at: 1 }))) return seed;
  throw new Error('no such burner');
};
function open(lesson: Lesson = beginLesson(1), state: Partial<AppState> = {}, answers: Record<string, unknown> = {}) {
  const end = vi.fn();
  const seen = inWindow(<LookAndTell end={end} />, { lesson, ...state }, answers);
  const now = (): Lesson => seen.store.getState().lesson!;
  const score = (): string => seen.page.querySelector('.look-score')?.textContent?.replace(/\s+/g, ' ').trim() ?? '';
  return { ...seen, end, now, score };
}
const tell = (kind: ErrorKind): void => press(new RegExp(`${kindNames[kind]}$`));
const kindButtons = (): string[] =>
  [...document.querySelectorAll('.look-answers button')].map((one) => one.getAttribute('aria-pressed') ?? '');

describe('a burner in front', () => {
  it('is told by its buttons, one by one, and a second press takes a word back', () => {
    const { now, page } = open();
    expect(page.textContent).toContain(words.says([]));
    tell('gap');
    tell('nozzle');
    expect(now().told).toEqual(['gap', 'nozzle']);
    expect(page.textContent).toContain(words.says([kindNames.gap, kindNames.nozzle]));
    tell('gap');
    expect(now().told).toEqual(['nozzle']);
    expect(kindButtons()).toEqual(errorKinds.map((kind) => String(kind === 'nozzle')));
  });
  it('is told by digits as printed, 0 for the tenth', () => {
    const { now, page } = open();
    expect([...page.querySelectorAll('.look-answers kbd')].map((one) => one.textContent)).toEqual([...'1234567890']);
    expect(now().told).toEqual([]);
  });
  it('is answered: what was found, missed and named though it was right, with the whole of it in the score', () => {
    const seed = seedWith((kinds) => kinds.length === 2);
    const [found, missed] = planted({ seed, at: 1 });
    const wrong = errorKinds.find((kind) => kind !== found && kind !== missed)!;
    const { now, page, score } = open(beginLesson(seed));
    tell(found!);
    tell(wrong);
    press(words.check);
    expect(now()).toMatchObject({ found: 1, missed: 1, falseAlarms: 1 });
    const signs = [...page.querySelectorAll('.look-list li')].map((one) => one.textContent ?? '');
    expect(signs).toHaveLength(3);
    const of = (kind: ErrorKind) => signs.find((text) => text.includes(kindNames[kind]))!;
    expect(of(found!)).toContain(words.found);
    expect(of(missed!)).toContain(words.missed);
    expect(of(wrong)).toContain(words.falseAlarm(1));
    expect(score()).toBe(`1 ${words.found} 1 ${words.missed} 1 ${words.falseAlarm(1)}`);
    expect(page.querySelector('.look-answers')).toBeNull();
  });
  it('without an error is right when nothing is told, and says so', () => {
    const { page, now } = open(beginLesson(seedWith((kinds) => kinds.length === 0)));
    press(words.check);
    expect(now()).toMatchObject({ found: 0, missed: 0, falseAlarms: 0 });
    expect(page.textContent).toContain(words.saidNothing);
    expect(page.textContent).toContain(words.nothing);
  });
  it('without an error and with something told: a burner is not made better by finding something', () => {
    const { page } = open(beginLesson(seedWith((kinds) => kinds.length === 0)));
    tell('gap');
    press(words.check);
    expect(page.textContent).not.toContain(words.saidNothing);
    expect(page.textContent).toContain(words.nothing);
  });
  it('is skipped only before it was answered', () => {
    const { now } = open();
    press(words.skip);
    expect(now()).toMatchObject({ at: 2, skipped: 1 });
    press(words.check);
    expect([...document.querySelectorAll('button')].some((one) => one.textContent?.startsWith(words.skip))).toBe(false);
    press(words.next);
    expect(now()).toMatchObject({ at: 3, skipped: 1 });
  });
  it('is seen set right, and as it was again; the next one is seen as it is', () => {
    const seed = seedWith((kinds) => kinds.includes('nozzle'));
    const burner = burnerOf({ seed, at: 1 }, trainingCards, seededRandom);
    const stamp = (page: HTMLElement): string => page.querySelector('.look-stamp dd')?.textContent ?? '';
    const { page } = open(beginLesson(seed));
    press(words.check);
    expect(stamp(page)).toBe(burner.stampedFlow);
    press(words.setRight);
    expect(stamp(page)).toBe(burner.wantedFlow);
    expect(burner.wantedFlow).not.toBe(burner.stampedFlow);
    expect(page.textContent).toContain(words.rightHelp);
    press(words.asItWas);
    expect(stamp(page)).toBe(burner.stampedFlow);
    press(words.setRight);
    press(words.next);
    press(words.check);
    expect(button(words.setRight).getAttribute('aria-pressed')).toBe('false');
  });
});

describe('the rule', () => {
  it('is there in the first half of a lesson, and gone when the answer is read', () => {
    const { page } = open();
    expect(page.textContent).toContain(words.ruleHelp);
    expect(page.textContent).toContain(words.withRule(7));
    press(words.check);
    expect(page.textContent).not.toContain(words.ruleHelp);
    expect(page.textContent).toContain(words.answerHelp);
  });
  it('is not there in the second half: by eye alone', () => {
    const { page } = open({ ...beginLesson(1), at: 7 });
    expect(page.textContent).toContain(words.byEye);
    expect(page.textContent).toContain(words.eyeHelp);
    expect([...document.querySelectorAll('button')].some((one) => one.textContent?.startsWith(words.turnRule))).toBe(false);
  });
});

describe('the end of a lesson', () => {
  it('comes after its last burner, with its count, and leads to another lesson', () => {
    const { page, now } = open({ ...beginLesson(4), at: 12, skipped: 2 });
    press(words.check);
    press(words.last);
    expect(page.textContent).toContain(words.over(12));
    expect(page.textContent).toContain(words.overSkipped(2));
    expect(page.querySelector('.look-side')).toBeNull();
    press(words.again);
    expect(now()).toEqual(beginLesson(5));
  });
  it('is left at any time', () => {
    const { end } = open();
    press(words.end);
    expect(end).toHaveBeenCalledTimes(1);
  });
});

describe('the burner, fired as it is', () => {
  const started = { 'run.start': infoOf({ runId: 'lesson' }), 'run.end': {} };
  const fire = async (): Promise<void> => {
    press(words.check);
    press(words.fire);
    await act(() => Promise.resolve());
  };
  it('starts with its errors, and Tune is shown', async () => {
    const seed = seedWith((kinds) => kinds.length > 0);
    const { asked, store } = open(beginLesson(seed), { workspace: 'warm-up' }, started);
    await fire();
    const geometry = leftOf(burnerOf({ seed, at: 1 }, trainingCards, seededRandom));
    expect(asked).toEqual([
      { name: 'run.start', input: { source: { kind: 'simulated', scenario: 'four-starts', seed: seed * 100 + 1, geometry } } },
    ]);
    expect(store.getState()).toMatchObject({ runId: 'lesson', workspace: 'tune' });
  });
  it.each([
    ['the practice run on screen ends for it', 'simulated', 'running', ['run.end', 'run.start']],
    ['a practice run that has ended is left', 'simulated', 'ended', ['run.start']],
    ['a measurement is left alone', 'serial', 'running', ['run.start']],
  ] as const)('%s', async (_, kind, phase, names) => {
    const source =
      kind === 'simulated' ? ({ kind, scenario: 'tune-up', title: 'tune-up', seed: 1, shape: 'columns' } as const) : infoOf().source;
    const record = recordWith({}, { source, phase });
    const { asked } = open(beginLesson(1), { runs: { 'run-1': record }, runId: 'run-1' }, started);
    await fire();
    expect(asked.map(({ name }) => name)).toEqual(names);
  });
  it('stays where it is when it cannot be started', async () => {
    const { store } = open(beginLesson(1), { workspace: 'warm-up' }, {});
    await fire();
    expect(store.getState().workspace).toBe('warm-up');
  });
  it('is for a window that works', () => {
    open(beginLesson(1), { role: 'viewer' });
    press(words.check);
    expect(button(words.fire).disabled).toBe(true);
  });
});
