/** A part of the window around a visit, with what a person's hand sends from it: edits of the visit, questions to the host, marks. */
import { fireEvent, render, screen, within } from '@testing-library/react';
import { act, type ReactNode } from 'react';
import { AppContext, type AppParts } from '../../../renderer/app-parts.ts';
import type { VisitChange } from '../../../renderer/backend/visit-edits.ts';
import { createKeys } from '../../../renderer/keys/key-registry.ts';
import { createAppStore, type AppState, type AppStore } from '../../../renderer/state/store.ts';
import { problem } from '../../../shared/problem.ts';
import { newVisit, type Visit } from '../../../shared/tuning/visit/visit.ts';

export const oilVisit = (more: Partial<Visit> = {}): Visit => ({
  ...newVisit({ id: 'v', number: 7, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] }),
  fuelId: 'no2',
  ...more,
});

type Asked = { name: string; input: unknown };
export type InWindow = { store: AppStore; edits: VisitChange[]; asked: Asked[]; marks: unknown[]; page: HTMLElement };

/** @param answers what the host says to a command, by its name; a function is given the command's input */
export function inWindow(part: ReactNode, state: Partial<AppState>, answers: Record<string, unknown> = {}): InWindow {
  const store = createAppStore();
  const units = state.visit?.unitPreset ?? 'us';
  const settings = { ...store.getState().settings, units };
  store.setState({ wire: { phase: 'open' }, role: 'operator', visitStage: '1', workspace: 'tune', settings, ...state });
  const seen = { edits: [] as VisitChange[], asked: [] as Asked[], marks: [] as unknown[] };
  const answerTo = (name: string, input: unknown): unknown => {
    seen.asked.push({ name, input });
    const answer = answers[name];
    return typeof answer === 'function' ? (answer as (input: unknown) => unknown)(input) : answer;
  };
  const parts = {
    store,
    keys: createKeys(),
    buffers: { of: () => ({ samples: () => [], latest: () => undefined }) },
    frames: { each: () => () => undefined },
    sounds: { play: () => undefined },
    client: {
      on: () => () => undefined,
      call: (name: string, input: unknown) => {
        const value = answerTo(name, input);
        return Promise.resolve(value === undefined ? { ok: false, error: problem('not-found') } : { ok: true, value });
      },
    },
    actions: {
      ask: (name: string, input: unknown) => Promise.resolve(answerTo(name, input)),
      mark: (body: unknown) => Promise.resolve(void seen.marks.push(body)),
    },
    visits: {
      edit: (changes: VisitChange[]) => void seen.edits.push(...changes),
      nowWallMs: () => 5,
      flush: () => Promise.resolve(),
      watch: (test: string, what: unknown) => void seen.asked.push({ name: 'visit.watch', input: { test, act: what } }),
    },
  } as unknown as AppParts;
  const { container } = render(<AppContext value={parts}>{part}</AppContext>);
  return { store, ...seen, page: container };
}

/** What the host answered has come. */
export const settled = (): Promise<void> => act(() => new Promise<void>((done) => setTimeout(done, 0)));
export const field = (label: string | RegExp): HTMLInputElement => screen.getByLabelText<HTMLInputElement>(label);
export const typeInto = (label: string | RegExp, value: string): void => void fireEvent.change(field(label), { target: { value } });
export const button = (name: string | RegExp): HTMLButtonElement => screen.getByRole<HTMLButtonElement>('button', { name });
export const press = (name: string | RegExp): void => void fireEvent.click(button(name));
/** Every row of a table as a reader has it: the texts of its cells. */
export const rowsOf = (table: string | RegExp): string[][] =>
  within(screen.getByRole('table', { name: table }))
    .getAllByRole('row')
    .map((row) => [...row.querySelectorAll('th, td')].map((cell) => (cell.textContent ?? '').replace(/\s+/g, ' ').trim()));
