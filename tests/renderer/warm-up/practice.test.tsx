// @vitest-environment happy-dom
/** Practice questions in their window: answered once, explained, counted, and new ones at the end. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { PracticeDialog } from '../../../renderer/views/warm-up/call-it/PracticeDialog.tsx';
import { practiceQuestion } from '../../../shared/tuning/training/practice.ts';
import { PRACTICE_QUESTIONS } from '../../../shared/warm-up/practice.ts';
import { seededRandom } from '../../../shared/tuning/training/random.ts';
import { practiceWords } from '../../../shared/words/practice.ts';

afterEach(cleanup);

it.each(['smoke', 'times'] as const)('%s: ten questions, each explained; the main button waits for the answer', (kind) => {
  const parts = { store: createAppStore(), keys: createKeys() } as unknown as AppParts;
  render(
    <AppContext value={parts}>
      <PracticeDialog kind={kind} seed={5} close={() => undefined} />
    </AppContext>,
  );
  const next = (): HTMLButtonElement => screen.getByRole<HTMLButtonElement>('button', { name: practiceWords.next, hidden: true });
  for (let at = 1; at <= PRACTICE_QUESTIONS; at++) {
    expect(next().disabled).toBe(true);
    const { right } = practiceQuestion({ kind, seed: 5, at }, seededRandom);
    fireEvent.click(screen.getByRole('button', { name: practiceWords.answers[right], hidden: true }));
    expect(screen.getByRole('status', { hidden: true }).textContent).toMatch(/^\s*Right\. .+\.$/);
    fireEvent.submit(next().closest('form')!);
  }
  expect(screen.getByRole('status', { hidden: true }).textContent).toBe('Done: 10 of 10 right.');
  fireEvent.submit(screen.getByRole('button', { name: practiceWords.again, hidden: true }).closest('form')!);
  expect(document.body.textContent).toContain(practiceWords.place(1, PRACTICE_QUESTIONS));
});
