// @vitest-environment happy-dom
/**
 * Law 17 on the screens that were not in the first table: Records, Start, As-left, Bench (home, set-up, forms, result), the questions about
 * lines, the figures cards. State -> sentence -> button. "by hand" after a button: it goes on, and the sentence asks for something else first.
 */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { act, type ReactNode } from 'react';
import { afterEach, describe, expect, it } from 'vitest';
import { AppContext, type AppParts } from '../../renderer/app-parts.ts';
import { createKeys } from '../../renderer/keys/key-registry.ts';
import { createAppStore, type AppState } from '../../renderer/state/store.ts';
import { benchScreenOf, type BenchLists } from '../../renderer/views/bench/bench-screen.ts';
import { BenchHome } from '../../renderer/views/bench/BenchHome.tsx';
import { GasForm } from '../../renderer/views/bench/forms/GasForm.tsx';
import { InstrumentForm } from '../../renderer/views/bench/forms/InstrumentForm.tsx';
import { LimitsForm } from '../../renderer/views/bench/forms/LimitsForm.tsx';
import { PlanForm } from '../../renderer/views/bench/forms/PlanForm.tsx';
import { ResultView } from '../../renderer/views/bench/result/ResultView.tsx';
import { SetUp } from '../../renderer/views/bench/set-up/SetUp.tsx';
import { ColumnQuestion } from '../../renderer/views/lines/questions/ColumnQuestion.tsx';
import { DisplayCheck } from '../../renderer/views/lines/questions/DisplayCheck.tsx';
import Records from '../../renderer/views/records/index.tsx';
import { leftDeedOf, type LeftFacts } from '../../renderer/views/visit/steps/left-deed.ts';
import { AsLeftStep } from '../../renderer/views/visit/steps/AsLeftStep.tsx';
import { StartStep } from '../../renderer/views/visit/steps/StartStep.tsx';
import { emptyDraft } from '../../renderer/views/bench/set-up/set-up-draft.ts';
import type { BenchTest } from '../../shared/bench/bench-test.ts';
import type { RunInfo } from '../../shared/ipc/run-info.ts';
import { problem } from '../../shared/problem.ts';
import { cautionKeys } from '../../shared/tuning/advice/cautions.ts';
import { newVisit, type Visit } from '../../shared/tuning/visit/visit.ts';
import { infoOf } from '../renderer/helpers/records.ts';
import { practiceTest } from '../shared/bench/run-plan.ts';
import { makeTrial } from '../shared/tuning/make-trial.ts';

afterEach(cleanup);

type Answers = Record<string, unknown>;
type Around = { state?: Partial<AppState>; answers?: Answers; lists?: Partial<BenchLists>; isSetUp?: boolean };

const nothingThere: Answers = {
  'visit.list': { visits: [], total: 0 },
  'appliance.list': { appliances: [], total: 0, overdue: 0 },
  'document.list': { documents: [], total: 0, unreadable: 0 },
  'bench.state': { sessions: [] },
};

async function show(page: ReactNode, { state = {}, answers = {}, lists = {}, isSetUp = false }: Around = {}): Promise<void> {
  const store = createAppStore();
  store.setState({ wire: { phase: 'open' }, role: 'operator', ...state });
  const known: Answers = { ...nothingThere, ...answers };
  const call = (name: string) =>
    Promise.resolve(name in known ? { ok: true, value: known[name] } : { ok: false, error: problem('not-found') });
  const parts = {
    store,
    keys: createKeys(),
    buffers: { of: () => ({ samples: () => [], latest: () => undefined }) },
    frames: { each: () => () => undefined },
    sounds: { play: () => undefined },
    client: { on: () => () => undefined, call },
    actions: { ask: (name: string) => call(name).then((answer) => ('value' in answer ? answer.value : undefined)) },
    visits: { edit: () => undefined, nowWallMs: () => 5, flush: () => Promise.resolve() },
  } as unknown as AppParts;
  const bench = benchScreenOf(parts);
  bench.store.setState((now) => ({ lists: { ...now.lists, ...lists } }));
  if (isSetUp) bench.store.setState({ draft: emptyDraft('') });
  render(<AppContext value={parts}>{page}</AppContext>);
  await act(() => new Promise((done) => setTimeout(done, 0)));
}
const press = async (name: string | RegExp): Promise<void> => {
  fireEvent.click(screen.getAllByRole('button', { name })[0]!);
  await act(() => new Promise((done) => setTimeout(done, 0)));
};
const wordsOf = (button: Element): string =>
  [...button.childNodes]
    .flatMap((node) => (node.nodeName === 'KBD' ? [] : (node.textContent ?? '')))
    .join('')
    .trim();

/** the sentence of the bar, of the dialog or of the page, and every main button; a dash: it can be seen and not pressed */
function seen(): string[] {
  const says = document.querySelector('dialog h2, dialog h1, .says, .column-foot p, .display-ask h1, .card-editor footer b');
  const mains = [...document.querySelectorAll<HTMLButtonElement>('.button.main')].map(
    (button) => `${button.disabled ? '– ' : ''}${wordsOf(button)}${button.classList.contains('by-hand') ? ' (by hand)' : ''}`,
  );
  return [says?.textContent ?? '', ...mains];
}

const applianceOf = (visits: number) => ({
  id: 'a1',
  appliance: { format: 1, name: 'Boiler in the cellar', kind: 'boiler-water', place: '7 Sample Lane' },
  revision: 1,
  visits,
});
const visitOf = (more: Partial<Visit> = {}): Visit => ({
  ...newVisit({ id: 'v', number: 7, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'metric', adjusters: [] }),
  ...more,
});
const signature = { name: 'A. Sample', wallMs: 1, hash: 'h' } as Visit['signature'];
const recordsOf = (visit: Visit): Answers => ({
  'visit.list': {
    visits: [
      {
        id: 'v',
        number: 7,
        kind: visit.kind,
        status: visit.signature ? 'signed' : 'open',
        startedWallMs: 0,
        zoneMinutes: 0,
        watermarked: false,
        trials: 0,
      },
    ],
    total: 1,
  },
  'visit.get': { visit, revision: 1 },
  'appliance.list': { appliances: [applianceOf(0)], total: 1, overdue: 0 },
  'appliance.get': { stored: applianceOf(0), visits: [], edits: [], earlierEdits: 0 },
});

type Row = [state: string, page: ReactNode, around: Around, presses: readonly (string | RegExp)[], says: RegExp, ...mains: string[]];
const readCautions: Partial<Visit> = { cautions: cautionKeys.map((key) => ({ key, wallMs: 1 })) };
const inTune = (more: Partial<Visit>): Around => ({ state: { visit: visitOf(more), visitStage: '1', workspace: 'tune' } });
const read = makeTrial({ id: 'a', o2: 5, co: 10, shutter: 4 });
const cardless: Partial<Visit> = { ...readCautions, withoutCard: true };
const testDoc = (more: Partial<BenchTest> = {}) => [{ id: 't', revision: 1, changedMs: 0, body: { ...practiceTest(), ...more } }];
const column: NonNullable<RunInfo['question']>['columns'][number] = {
  at: 3,
  name: 'T2',
  unitText: 'degC',
  examples: ['21.2'],
  taken: 'airTemperature',
  unit: 'C',
  sureness: 'look',
  evidence: [],
};
const asked = (taken: 'airTemperature' | undefined) => ({ ...infoOf(), question: { columns: [{ ...column, taken }], hidden: 0 } });
const beside = (values: object) => ({ ...infoOf(), display: { values, columns: [{ ...column, taken: 'o2' as const }], line: '20.9' } });
const none = (): void => undefined;

const rows: readonly Row[] = [
  // Records: nothing is in accent but in a dialog, and there it does what the title says; what deletes is never the main button
  ['Records, empty', <Records />, {}, [], /^$/],
  ['Records, a visit', <Records />, { answers: recordsOf(visitOf()) }, [], /^$/],
  ['Records, deleting a visit', <Records />, { answers: recordsOf(visitOf()) }, ['Delete'], /^Delete visit 7\?$/],
  [
    'Records, a correction',
    <Records />,
    { answers: recordsOf(visitOf({ signature })) },
    ['Add a correction'],
    /correct/i,
    'Add the correction',
  ],
  ['Records, an appliance', <Records />, { answers: recordsOf(visitOf()) }, ['Appliances'], /^$/],
  ['Records, the next visit', <Records />, { answers: recordsOf(visitOf()) }, ['Appliances', 'Set date'], /^Next visit due$/, 'Save'],
  ['Records, details', <Records />, { answers: recordsOf(visitOf()) }, ['Appliances', 'Edit'], /^Details of Boiler/, 'Save'],
  [
    'Records, the owner',
    <Records />,
    { answers: recordsOf(visitOf()) },
    ['Appliances', 'Remove owner details'],
    /^Remove owner details from/,
  ],
  ['Records, deleting', <Records />, { answers: recordsOf(visitOf()) }, ['Appliances', 'Delete appliance'], /^Delete “Boiler/],
  ['Records, a new figures card', <Records />, {}, ['Figures cards', 'New card'], /^Type a name and the document/, '– Save card'],
  // Start and As-left
  ['Start, cautions', <StartStep />, inTune({}), [], /^Read the 4 cautions/, 'Cautions read, on to Set-up sheet (by hand)'],
  ['Start, read', <StartStep />, inTune(readCautions), [], /^Choose or enter the appliance/, 'On to Set-up sheet (by hand)'],
  ['As-left, no trial', <AsLeftStep record={undefined} />, inTune(cardless), [], /^Choose the as-left trial/, 'On to Safety (by hand)'],
  [
    'As-left, a trial',
    <AsLeftStep record={undefined} />,
    inTune({ ...readCautions, trials: [read] }),
    [],
    /^Trial 1 can be as-left/,
    'Leave it at trial 1',
  ],
  // Bench
  ['Bench, no test', <BenchHome />, {}, [], /^No test is under way\. Start a new one\.$/, 'New test'],
  ['Bench, a test under way', <BenchHome />, { lists: { 'bench-test': testDoc() } }, [], /^Go on with Instrument 3/, 'Go on'],
  [
    'Bench, a test that was ended',
    <BenchHome />,
    { lists: { 'bench-test': testDoc({ status: 'done' }) } },
    [],
    /^No test is under way/,
    'New test',
  ],
  ['Bench, set-up', <SetUp />, { isSetUp: true }, [], /^Put an instrument on the bench/, '– Start the test'],
  ['Bench, an instrument', <InstrumentForm id={undefined} />, {}, [], /^Name on the bench\?$/, '– Save'],
  ['Bench, a bottle', <GasForm id={undefined} />, {}, [], /^Name on the bottle\?$/, '– Save'],
  ['Bench, a plan', <PlanForm id={undefined} />, {}, [], /^Name of the plan\?$/, '– Save'],
  ['Bench, limits', <LimitsForm id={undefined} />, {}, [], /^Name of the card\?$/, '– Save'],
  ['Bench, a result, steps left', <ResultView testId="t" />, { lists: { 'bench-test': testDoc() } }, [], /^$/, 'Back to the plan'],
  ['Bench, a result', <ResultView testId="t" />, { lists: { 'bench-test': testDoc({ status: 'done' }) } }, [], /^$/, 'Certificate'],
  // lines
  [
    'Lines, a column to look at',
    <ColumnQuestion info={asked('airTemperature')} mayAct declined={none} />,
    {},
    [],
    /^Look at 4, then press Enter/,
    'Use this 1 channel',
  ],
  ['Lines, no channel', <ColumnQuestion info={asked(undefined)} mayAct declined={none} />, {}, [], /^Look at 4/, '– Use these 0 channels'],
  [
    'Lines, the display',
    <DisplayCheck info={beside({ o2: 20.9 })} later={none} />,
    {},
    [],
    /^Does the display show O2 20\.9\?/,
    'Yes, the display agrees',
  ],
  [
    'Lines, no figures yet',
    <DisplayCheck info={beside({})} later={none} />,
    {},
    [],
    /^Waiting for the first figures/,
    '– Yes, the display agrees',
  ],
];

describe('law 17 on every other screen', () => {
  it.each(rows)('%s', async (...[, page, around, presses, says, ...mains]) => {
    await show(page, around);
    for (const name of presses) await press(name);
    const [said, ...buttons] = seen();
    expect(said).toMatch(says);
    expect(buttons).toEqual(mains);
  });
});

/** As-left: what was chosen and read -> sentence -> button; a dash: the button goes on, and the sentence is what is missing. */
const left: LeftFacts = {
  suggested: 4,
  chosen: { isStale: false },
  isCardSaid: true,
  hasRun: true,
  hasEcho: false,
  check: undefined,
  isTight: false,
  canTighten: true,
};
const leftTable: readonly [state: string, facts: Partial<LeftFacts>, says: string, button: string][] = [
  ['no trial', { chosen: undefined, suggested: undefined }, '–', '–'],
  ['a trial', { chosen: undefined }, 'Trial 4 can be as-left.', 'Leave it at trial 4'],
  ['a trial, no card', { chosen: undefined, isCardSaid: false }, 'Trial 4 can be as-left.', 'Leave it at trial 4'],
  ['chosen, no card', { isCardSaid: false }, 'Choose a target card', 'Choose a card'],
  ['chosen', {}, 'Tighten the screws, press “Screws are tight”', 'Screws are tight'],
  ['chosen, another setting is on', { canTighten: false }, '–', '–'],
  ['screws are tight', { isTight: true }, 'Read it once more, screws tight.', ''],
  ['read again', { isTight: true, check: 5 }, 'Compare it with as-left.', 'Compare with trial 5'],
  ['compared', { isTight: true, check: 5, hasEcho: true }, '–', '–'],
  ['something was changed since', { chosen: { isStale: true } }, '–', '–'],
  ['something was changed since, read again', { chosen: { isStale: true }, check: 5 }, '–', '–'],
  ['no instrument', { hasRun: false }, '–', '–'],
];
describe('law 17 at as-left', () => {
  it.each(leftTable)('%s', (_, facts, says, button) => {
    const deed = leftDeedOf({ ...left, ...facts });
    expect(deed?.says ?? '–').toContain(says);
    expect(deed?.text ?? '–').toBe(button);
  });
});
