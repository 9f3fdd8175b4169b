/** A part of the window around a visit, with what a person's hand sends from it: edits of the visit, questions to the host, marks. */
import { act, fireEvent, render, screen } from '@testing-library/react';
import type { ReactNode } from 'react';
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
export type InWindow = {
  store: AppStore;
  edits: VisitChange[];
  asked: Asked[];
  marks: unknown[];
  /** what the host says to a mark; undefined: refused */
  onMark: { current: (body: unknown, where: unknown) => unknown };
  page: HTMLElement;
};

/** @param answers what the host says to a command, by its name; a function is given the command's input */
export function inWindow(part: ReactNode, state: Partial<AppState>, answers: Record<string, unknown> = {}): InWindow {
  const store = createAppStore();
  const units = state.visit?.unitPreset ?? 'us';
  const settings = { ...store.getState().settings, units };
  store.setState({ wire: { phase: 'open' }, role: 'operator', visitStage: '1', workspace: 'tune', settings, ...state });
  const seen = {
    edits: [] as VisitChange[],
    asked: [] as Asked[],
    marks: [] as unknown[],
    onMark: { current: (): unknown => ({}) } as InWindow['onMark'],
  };
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
      changeSettings: (patch: unknown) => {
        answerTo('settings.change', { patch });
        return Promise.resolve();
      },
      mark: (body: unknown, where: unknown) => {
        seen.marks.push(body);
        return Promise.resolve(seen.onMark.current(body, where));
      },
    },
    visits: {
      edit: (changes: VisitChange[]) => void seen.edits.push(...changes),
      nowWallMs: () => 5,
      flush: () => Promise.resolve(),
      // null: refused
      watch: (test: string, what: unknown) => {
        seen.asked.push({ name: 'visit.watch', input: { test, act: what } });
        return Promise.resolve(answers['visit.watch'] !== null);
      },
    },
  } as unknown as AppParts;
  const { container } = render(<AppContext value={parts}>{part}</AppContext>);
  return { store, ...seen, page: container };
}

/** What the host answered has come. */
export const settled = (): Promise<void> => act(() => new Promise<void>((done) => setTimeout(done, 0)));
export const field = (label: string | RegExp): HTMLInputElement => screen.getByLabelText<HTMLInputElement>(label);
export const typeInto = (label: string | RegExp, value: string): void => void fireEvent.change(field(label), { target: { value } });
/** a button by its name without its key: asking for roles reads the whole page anew each time, and takes as long as the rest of a test */
const nameOf = (one: Element): string =>
  one.getAttribute('aria-label') ??
  [...one.childNodes]
    .flatMap((node) => (node instanceof Element && node.matches('kbd, [aria-hidden="true"]') ? [] : (node.textContent ?? '')))
    .join('')
    .trim();
export function button(name: string | RegExp): HTMLButtonElement {
  const found = [...document.querySelectorAll('button')].filter((one) =>
    typeof name === 'string' ? nameOf(one) === name : name.test(nameOf(one)),
  );
  if (found.length !== 1)
    throw new Error(
      `${found.length} buttons are called ${String(name)}: ${[...document.querySelectorAll('button')].map(nameOf).join(' | ')}`,
    );
  return found[0]!;
}
export const press = (name: string | RegExp): void => void fireEvent.click(button(name));
/** Every row of a table as a reader has it: the texts of its cells. */
export const rowsOf = (table: string | RegExp): string[][] => {
  const found = [...document.querySelectorAll('table')].filter((one) => RegExp(table).test(one.getAttribute('aria-label') ?? ''));
  if (found.length !== 1) throw new Error(`${found.length} tables are called ${String(table)}`);
  return [...found[0]!.rows].map((row) => [...row.cells].map((cell) => (cell.textContent ?? '').replace(/\s+/g, ' ').trim()));
};
