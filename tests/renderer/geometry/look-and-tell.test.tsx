// @vitest-environment happy-dom
/** Firing the burner of a lesson: once, however often it is pressed, and nobody is led away from where he went meanwhile. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { beginLesson, burnerOf, checkTold } from '../../../shared/geometry/lesson.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import { seededRandom } from '../../../shared/tuning/training/random.ts';
import { lookAndTell as words } from '../../../shared/words/geometry/look-and-tell.ts';
import { LookAndTell } from '../../../renderer/views/geometry/lesson/LookAndTell.tsx';
import type { Workspace } from '../../../renderer/state/view-slice.ts';
import { infoOf } from '../helpers/records.ts';
import { inWindow, settled } from '../helpers/in-window.tsx';

afterEach(cleanup);

function toldLesson() {
  const lesson = beginLesson(3);
  const told = checkTold(lesson, burnerOf(lesson, trainingCards, seededRandom));
  let begin: (info: unknown) => void = () => undefined;
  const begun = new Promise((resolve) => (begin = resolve));
  const seen = inWindow(<LookAndTell end={() => undefined} />, { lesson: told, workspace: 'warm-up' }, { 'run.start': () => begun });
  const fire = screen.getByRole<HTMLButtonElement>('button', { name: new RegExp(`^${words.fire}`) });
  const starts = (): number => seen.asked.filter(({ name }) => name === 'run.start').length;
  const answer = (): Promise<void> => {
    begin(infoOf({ runId: 'run-2' }));
    return settled();
  };
  return { ...seen, fire, starts, answer };
}

it('begins one run when it is pressed again before the host has answered, and leads to Tune', async () => {
  const { fire, starts, answer, store } = toldLesson();
  fireEvent.click(fire);
  fireEvent.click(fire);
  await answer();
  expect(starts()).toBe(1);
  expect(store.getState()).toMatchObject({ runId: 'run-2', workspace: 'tune' });
});

it.each(['records', 'bench'] satisfies Workspace[])('leaves who has gone to %s meanwhile there', async (elsewhere) => {
  const { fire, answer, store } = toldLesson();
  fireEvent.click(fire);
  store.getState().workspaceChosen(elsewhere);
  await answer();
  expect(store.getState()).toMatchObject({ runId: 'run-2', workspace: elsewhere });
});
