// @vitest-environment happy-dom
/** A figure that cannot be read keeps a safety test open: it would be missing in the record, and nobody would know. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, expect, it, vi } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import type { VisitChange } from '../../../renderer/backend/visit-edits.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { SafetyStep } from '../../../renderer/views/visit/steps/SafetyStep.tsx';
import { cautionKeys } from '../../../shared/tuning/advice/cautions.ts';
import { newVisit } from '../../../shared/tuning/visit/visit.ts';
import { safetyWords } from '../../../shared/words/visit/safety-tests.ts';
import { safetyScreen as words } from '../../../shared/words/visit/screens/safety.ts';

afterEach(cleanup);

it('a flame signal is judged once its figures can be read', () => {
  const store = createAppStore();
  const edits: VisitChange[] = [];
  const visit = {
    ...newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] }),
    fuelId: 'no2' as const,
    cautions: cautionKeys.map((key) => ({ key, wallMs: 1 })),
  };
  store.setState({ wire: { phase: 'open' }, role: 'operator', visit, visitStage: '1', workspace: 'tune' });
  const parts = {
    store,
    keys: createKeys(),
    buffers: { of: () => ({ samples: () => [], latest: () => undefined }) },
    frames: { each: () => () => undefined },
    sounds: { play: () => undefined },
    actions: { ask: () => Promise.resolve(undefined) },
    visits: { edit: (changes: VisitChange[]) => void edits.push(...changes), nowWallMs: () => 5, watch: vi.fn() },
  } as unknown as AppParts;
  render(
    <AppContext value={parts}>
      <SafetyStep />
    </AppContext>,
  );
  fireEvent.click(screen.getByRole('button', { name: new RegExp(`^${safetyWords['flame-signal'].title}`) }));
  const pass = (): HTMLButtonElement => screen.getByRole('button', { name: new RegExp(`^${words.pass}`) });
  const figure = screen.getByLabelText(new RegExp(`^${words.flameOn}`));
  fireEvent.change(figure, { target: { value: '300 ohms' } });
  expect(pass().disabled).toBe(true);
  expect(document.body.textContent).toContain(words.unread);
  fireEvent.change(figure, { target: { value: '300' } });
  fireEvent.click(pass());
  expect(edits).toMatchObject([{ path: ['safety', 0], after: { test: 'flame-signal', result: 'pass', note: '300 Ω' } }]);
});
