// @vitest-environment happy-dom
/** A press or a choice that the visit does not take is said, and nothing counts as done; a field says it beside what was typed. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import type { ReactNode } from 'react';
import { afterEach, expect, it, vi } from 'vitest';
import { AppContext, useParts } from '../../../../renderer/app-parts.ts';
import type { AppState } from '../../../../renderer/state/store.ts';
import { KeptField } from '../../../../renderer/fields/KeptField.tsx';
import { typedPlain } from '../../../../renderer/fields/typed.ts';
import { ShiftAsked } from '../../../../renderer/views/visit/curve/LiveSide.tsx';
import { OilLine } from '../../../../renderer/views/visit/start/OilLine.tsx';
import { StageNozzles } from '../../../../renderer/views/visit/start/StageNozzles.tsx';
import { SetUpRowView } from '../../../../renderer/views/visit/steps/set-up/SetUpRow.tsx';
import { useVisit } from '../../../../renderer/views/visit/use-visit.ts';
import { problem } from '../../../../shared/problem.ts';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { common } from '../../../../shared/words/common.ts';
import { shiftCauses } from '../../../../shared/words/tune/trade.ts';
import { recordWith } from '../../helpers/records.ts';
import { field, inWindow, oilVisit, press, typeInto } from '../../helpers/in-window.tsx';

afterEach(cleanup);

const answerShift = vi.fn();
function Full({ children }: { children: ReactNode }) {
  const parts = useParts();
  const edit = (): ReturnType<typeof problem> => problem('value-out-of-range', 'the list is full');
  return <AppContext value={{ ...parts, visits: { ...parts.visits, edit, answerShift } }}>{children}</AppContext>;
}
const full = (part: ReactNode, more: Partial<Visit> = {}, state: Partial<AppState> = {}) =>
  inWindow(<Full>{part}</Full>, { visit: oilVisit(more), ...state }).store;
const Nozzles = () => <StageNozzles here={useVisit()} />;
const Line = () => <OilLine here={useVisit()} />;
const Gap = () => <SetUpRowView item="electrodeGapMm" here={useVisit()} />;
const pick = (label: string, value: string): void => void fireEvent.change(screen.getByLabelText(label), { target: { value } });

it('what changed without a mark: the question stays until the list has it', () => {
  const question = { id: 'q', atMs: 1000, fromPercent: 5, toPercent: 6 };
  const store = full(<ShiftAsked record={recordWith({ timeMs: 2000 })} />, {}, { asked: { 'run-1': question }, runId: 'run-1' });
  press(shiftCauses[0]!.text);
  expect(answerShift).not.toHaveBeenCalled();
  expect(store.getState().answer?.problem.detail).toBe('the list is full');
});

const stamp = { value: 0.85, unit: 'gph' as const, atPa: 689_476 };
const stamped: Partial<Visit> = {
  setUp: { lengthUnit: 'inch', rows: { nozzleFlowLh: { asFound: 0.85 * 3.785411784 } }, stages: [{ stage: '1', stamp }] },
};
const two: Partial<Visit> = { stages: [{ name: '1' }, { name: '2' }] };
it.each([
  ['the unit of a stamp', <Nozzles key="1" />, stamped, () => pick('Flow unit', 'kg/h')],
  ['the pressure of a stamp', <Nozzles key="2" />, stamped, () => pick('Stamped at', '1000000')],
  ['the pattern', <Nozzles key="3" />, {}, () => pick('Pattern', 'solid')],
  ['the pattern of the second stage', <Nozzles key="4" />, two, () => pick('Pattern, Stage 2, high fire', 'solid')],
  ['burns together', <Nozzles key="5" />, two, () => fireEvent.click(screen.getByLabelText('burns together with stage 1'))],
  ['pipes', <Line key="6" />, {}, () => pick('Pipes', 'one')],
  ['filter', <Line key="7" />, {}, () => pick('Filter in the line', 'yes')],
])('%s', (_what, part, more, choose) => {
  const store = full(part, more);
  choose();
  expect(store.getState().answer?.problem.detail).toBe('the list is full');
});

it.each([
  ['Stamped flow', <Nozzles key="1" />, '0.85'],
  ['Lift, oil to pump', <Line key="2" />, '8'],
  ['Electrode gap, as found', <Gap key="3" />, '5/32'],
])('%s: what was typed stays, and why', (label, part, text) => {
  full(part);
  typeInto(new RegExp(`^${label}`, 'i'), text);
  fireEvent.blur(field(new RegExp(`^${label}`, 'i')));
  expect(field(new RegExp(`^${label}`, 'i')).value).toBe(text);
  expect(screen.getByText('the list is full')).toBeDefined();
});
it('a tolerance below zero says what can be typed', () => {
  full(<Gap />);
  typeInto(/tolerance|±/i, '-1');
  expect(screen.getByText('Too low. Type 0 or more.')).toBeDefined();
});

it('a beginning of what cannot be is not left behind, and that it is not saved is said again later', () => {
  const kept: (number | undefined)[] = [];
  const keep = (value: number | undefined): string | undefined => {
    if (value !== undefined && value > 50) return 'no pump has this';
    kept.push(value);
    return undefined;
  };
  const pump = <KeptField name="pump" label="Pump, bar" shown="7" parse={typedPlain} keep={keep} />;
  inWindow(pump, {});
  for (const text of ['1', '14', '140']) typeInto('Pump, bar', text);
  expect(kept).toEqual([1, 14, 7]);
  expect(field('Pump, bar').value).toBe('140');
  expect(screen.getByText('no pump has this')).toBeDefined();
  typeInto('Pump, bar', '14');
  expect(kept.at(-1)).toBe(14);
  cleanup();
  inWindow(pump, { fieldTexts: { pump: '140' } });
  expect(screen.getByText(common.fieldErrors.notKept)).toBeDefined();
});
