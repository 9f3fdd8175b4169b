// @vitest-environment happy-dom
/** The smoke spot before the probe goes in: the spot or why there is none, the cautions that were read with it, and oil that is never lost. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { ProbeEntry } from '../../../../../renderer/views/tune/entries/ProbeEntry.tsx';
import { AppContext, useParts } from '../../../../../renderer/app-parts.ts';
import { cautionsOf } from '../../../../../shared/tuning/advice/cautions.ts';
import type { Visit } from '../../../../../shared/tuning/visit/visit.ts';
import { problem } from '../../../../../shared/problem.ts';
import type { RunInfo } from '../../../../../shared/ipc/run-info.ts';
import { cautionWords } from '../../../../../shared/words/visit/cautions.ts';
import { live } from '../../../../../shared/words/tune/live.ts';
import { probeWords as words } from '../../../../../shared/words/tune/probe.ts';
import { button, field, inWindow, oilVisit, press, settled, typeInto } from '../../../helpers/in-window.tsx';
import { recordWith } from '../../../helpers/records.ts';

afterEach(cleanup);

const spot = live.smokeDialog.spot;
const read = cautionsOf['as-found'].map((key) => ({ key, wallMs: 1 }));
type Shown = { visit?: Partial<Visit>; info?: Partial<RunInfo>; answers?: Record<string, unknown>; refuses?: boolean };
function show({ visit = { cautions: read }, info = {}, answers = {}, refuses = false }: Shown = {}) {
  const record = recordWith({}, info);
  let closed = 0;
  function Entry() {
    const parts = useParts();
    const visits = refuses ? { ...parts.visits, edit: () => problem('disk-full') } : parts.visits;
    return (
      <AppContext value={{ ...parts, visits }}>
        <ProbeEntry record={record} close={() => (closed += 1)} />
      </AppContext>
    );
  }
  const state = { visit: oilVisit(visit), visitStep: 'as-found', runs: { 'run-1': record }, runId: 'run-1' } as const;
  return { ...inWindow(<Entry />, state, answers), closed: () => closed };
}
const save = async (): Promise<void> => {
  fireEvent.submit(document.querySelector('form')!);
  await settled();
};
const errors = (): string[] => [...document.querySelectorAll('.field-error')].map((one) => one.textContent ?? '');

it('saves the spots with the visit, and marks them as the smoke of this setting', async () => {
  const { edits, marks, closed } = show();
  typeInto(spot(1), '1');
  typeInto(spot(3), '1½');
  await save();
  const spots = [{ number: 1 }, { number: 1.5 }];
  expect(edits).toEqual([{ path: ['probeSmoke'], after: [{ wallMs: 5, spots }] }]);
  expect(marks).toEqual([{ kind: 'smoke', spots }]);
  expect(closed()).toBe(1);
});
it('adds another one to those before', async () => {
  const { edits } = show({ visit: { cautions: read, probeSmoke: [{ wallMs: 1, spots: [{ number: 3 }] }] } });
  typeInto(spot(2), '0');
  await save();
  expect(edits).toEqual([{ path: ['probeSmoke', 1], after: { wallMs: 5, spots: [{ number: 0 }] } }]);
});
it('says oil of every spot', async () => {
  const { marks } = show();
  typeInto(spot(1), '0');
  typeInto(spot(2), '1');
  fireEvent.click(field(live.smokeDialog.oil));
  await save();
  expect(marks).toEqual([
    {
      kind: 'smoke',
      spots: [
        { number: 0, oilTrace: true },
        { number: 1, oilTrace: true },
      ],
    },
  ]);
});
it('saves why there is no spot, and marks none', async () => {
  const { edits, marks, closed } = show();
  typeInto(words.without, `  pump ${'x'.repeat(400)}`);
  await save();
  expect(edits).toEqual([{ path: ['probeSmoke'], after: [{ wallMs: 5, spots: [], withoutReason: `pump ${'x'.repeat(295)}` }] }]);
  expect(marks).toEqual([]);
  expect(closed()).toBe(1);
});
it('oil on the paper needs its spot: a reason for no spot would lose it', async () => {
  const { edits, closed } = show();
  typeInto(words.without, 'no pump here');
  fireEvent.click(field(live.smokeDialog.oil));
  await save();
  expect(edits).toEqual([]);
  expect(closed()).toBe(0);
  expect(errors()).toContain(live.smokeDialog.unclear);
});
it.each<[string, string, string, unknown[]]>([
  ['nothing', '', '', [live.smokeDialog.unclear]],
  ['too short a reason', '', 'no', [live.smokeDialog.unclear, words.withoutAbout]],
  ['a spot that cannot be', '12', '', [expect.stringContaining('12 is not on it')]],
  ['a spot that cannot be, whatever the reason', '12', 'no pump', [expect.stringContaining('12 is not on it')]],
])('%s is said once it is tried, and not saved', async (_what, number, reason, said) => {
  const { edits, closed } = show();
  typeInto(spot(1), number);
  typeInto(words.without, reason);
  expect(errors()).toEqual([]);
  await save();
  expect(errors()).toEqual(said);
  expect(edits).toEqual([]);
  expect(closed()).toBe(0);
});
it('a reason of three letters is one', async () => {
  const { edits } = show();
  typeInto(words.without, 'wet');
  await save();
  expect(edits).toHaveLength(1);
});
it('shows the cautions that were not read yet, and one press saves both', async () => {
  const [first, ...rest] = cautionsOf['as-found'];
  const { edits } = show({ visit: { cautions: read.slice(0, 1) } });
  expect([...document.querySelectorAll('.cautions-list li')].map(({ textContent }) => textContent)).toEqual(
    rest.map((key) => cautionWords[key]),
  );
  expect(screen.queryByText(cautionWords[first])).toBeNull();
  expect(button(words.keepRead)).toBeDefined();
  typeInto(spot(1), '0');
  await save();
  expect(edits).toEqual([
    ...rest.map((key, at) => ({ path: ['cautions', 1 + at], after: { key, wallMs: 5 } })),
    { path: ['probeSmoke'], after: [{ wallMs: 5, spots: [{ number: 0 }] }] },
  ]);
});
it('shows none once they were read', () => {
  show();
  expect(document.querySelector('.cautions-list')).toBeNull();
  expect(button(words.keep)).toBeDefined();
});
it('what is refused stays typed, and nothing is marked', async () => {
  const { marks, closed } = show({ refuses: true });
  typeInto(spot(1), '1');
  await save();
  expect(marks).toEqual([]);
  expect(closed()).toBe(0);
  expect(field(spot(1)).value).toBe('1');
});
it('takes what the paper of a practice burner shows', async () => {
  const source = { kind: 'simulated', scenario: 's' } as unknown as RunInfo['source'];
  const smoke = [
    { number: 1.5, oilTrace: false },
    { number: 0, oilTrace: true },
  ];
  const { marks } = show({ info: { source }, answers: { 'simulator.look': { smoke } } });
  press(live.smokeDialog.simulated);
  await settled();
  expect([field(spot(2)).value, field(spot(3)).value]).toEqual(['0', '']);
  await save();
  expect(marks).toEqual([
    {
      kind: 'smoke',
      spots: [
        { number: 1.5, oilTrace: true },
        { number: 0, oilTrace: true },
      ],
    },
  ]);
});
