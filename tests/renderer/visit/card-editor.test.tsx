// @vitest-environment happy-dom
/** A limit that cannot be read is said, and the card stays as it was: it must not be gone from the card without a word. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import type { VisitChange } from '../../../renderer/backend/visit-edits.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore } from '../../../renderer/state/store.ts';
import { CardEditor } from '../../../renderer/views/visit/card/CardEditor.tsx';
import { exampleCards } from '../../../shared/tuning/card/example-cards.ts';
import type { TargetCard } from '../../../shared/tuning/card/target-card.ts';
import { newVisit } from '../../../shared/tuning/visit/visit.ts';
import { common } from '../../../shared/words/common.ts';
import { quantityWords } from '../../../shared/words/visit/target-card.ts';
import { leftScreen as words } from '../../../shared/words/visit/screens/as-left.ts';

afterEach(cleanup);

const [example] = exampleCards;
const card: TargetCard = {
  ...example!,
  lines: [{ quantity: 'o2Percent', low: 3, high: 6, source: 'invented for this test' }],
};

it('keeps a card whose limits can be read, and no other', () => {
  const store = createAppStore();
  const edits: VisitChange[] = [];
  let closed = 0;
  const visit = newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'metric', adjusters: [] });
  store.setState({ wire: { phase: 'open' }, role: 'operator', visit, visitStage: '1' });
  const parts = {
    store,
    keys: createKeys(),
    visits: { edit: (changes: VisitChange[]) => void edits.push(...changes) },
  } as unknown as AppParts;
  render(
    <AppContext value={parts}>
      <CardEditor card={card} close={() => closed++} />
    </AppContext>,
  );
  const low = screen.getByLabelText(`${quantityWords.o2Percent}, ${words.low}`);
  const keep = (): boolean => fireEvent.click(screen.getByRole('button', { name: new RegExp(`^${words.keepCard}`) }));
  fireEvent.change(low, { target: { value: '3;5' } });
  keep();
  expect(edits).toEqual([]);
  expect(closed).toBe(0);
  expect(document.querySelector('form [role="alert"].grow, .grow.field-error')?.textContent).toBe(common.fieldErrors.notANumber);
  fireEvent.change(low, { target: { value: '3,5' } });
  keep();
  expect(edits).toMatchObject([{ path: ['targetCard'], after: { lines: [{ quantity: 'o2Percent', low: 3.5, high: 6 }] } }]);
  expect(closed).toBe(1);
});
