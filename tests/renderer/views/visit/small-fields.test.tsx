// @vitest-environment happy-dom
/** Small parts of a visit's screens: bypasses from made to removed, one stage or two, the limits of CO and O2, and the papers at the appliance. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { BypassList } from '../../../../renderer/views/visit/safety/BypassList.tsx';
import { FlueLimitsButton } from '../../../../renderer/views/visit/start/FlueLimits.tsx';
import { PapersFields } from '../../../../renderer/views/visit/start/PapersFields.tsx';
import { StageChoice } from '../../../../renderer/views/visit/start/StageChoice.tsx';
import type { Visit } from '../../../../shared/tuning/visit/visit.ts';
import { alarmWords } from '../../../../shared/words/tune/alarms.ts';
import { sinceWords } from '../../../../shared/words/visit/since-last.ts';
import { safetyScreen } from '../../../../shared/words/visit/screens/safety.ts';
import { visitWords } from '../../../../shared/words/visit/visit-thread.ts';
import { button, field, inWindow, oilVisit, press, typeInto } from '../../helpers/in-window.tsx';

afterEach(cleanup);

const gone = (name: string) => expect(() => button(name)).toThrow(/^0 buttons/);

describe('a bypass', () => {
  const list = (
    visit: Partial<Visit> = {},
    { offered = true, role = 'operator' }: { offered?: boolean; role?: 'operator' | 'viewer' } = {},
  ) => inWindow(<BypassList offered={offered} />, { visit: oilVisit(visit), role });

  it('is saved with its time, by the button or by Enter, and the field is free for the next', () => {
    const { edits } = list();
    expect(button(safetyScreen.bypassOpen).disabled).toBe(true);
    typeInto(safetyScreen.bypassWhat, '  jumper at T-T ');
    press(safetyScreen.bypassOpen);
    expect(field(safetyScreen.bypassWhat).value).toBe('');
    typeInto(safetyScreen.bypassWhat, 'b'.repeat(130));
    fireEvent.keyDown(field(safetyScreen.bypassWhat), { key: 'a' });
    fireEvent.keyDown(field(safetyScreen.bypassWhat), { key: 'Enter' });
    expect(edits).toEqual([
      { path: ['bypasses', 0], after: { what: 'jumper at T-T', openedWallMs: 5 } },
      { path: ['bypasses', 0], after: { what: 'b'.repeat(120), openedWallMs: 5 } },
    ]);
  });
  it('without a name is not saved', () => {
    const { edits } = list();
    typeInto(safetyScreen.bypassWhat, '  ');
    fireEvent.keyDown(field(safetyScreen.bypassWhat), { key: 'Enter' });
    expect(edits).toEqual([]);
  });
  it('can be removed until it is, and then says when', () => {
    const { edits } = list({
      bypasses: [
        { what: 'eye', openedWallMs: 0, closedWallMs: 3_600_000 },
        { what: 'jumper', openedWallMs: 0 },
      ],
    });
    const rows = [...document.querySelectorAll('li')].map(({ textContent }) => textContent);
    expect(rows).toEqual([`eye${safetyScreen.bypassClosedAt('01:00')}`, `jumper${safetyScreen.bypassClose}`]);
    press(safetyScreen.bypassClose);
    expect(edits).toEqual([{ path: ['bypasses', 1, 'closedWallMs'], after: 5 }]);
  });
  it('that is in place shows where none is offered, and nothing shows where there is none', () => {
    list({}, { offered: false });
    expect(screen.queryByLabelText(safetyScreen.bypasses)).toBeNull();
    cleanup();
    list({ bypasses: [{ what: 'jumper', openedWallMs: 0 }] }, { offered: false });
    expect(screen.getByText('jumper')).toBeDefined();
  });
  it('is not touched from a window that may only look', () => {
    list({ bypasses: [{ what: 'jumper', openedWallMs: 0 }] }, { role: 'viewer' });
    expect(field(safetyScreen.bypassWhat).disabled).toBe(true);
    for (const name of [safetyScreen.bypassOpen, safetyScreen.bypassClose]) expect(button(name).disabled, name).toBe(true);
  });
});

describe('the stages of the burner', () => {
  const trialAt = (stage: string) => ({ setting: { stage, positions: [] } }) as unknown as Visit['trials'][number];
  const choice = (visit: Partial<Visit>) => inWindow(<StageChoice />, { visit: oilVisit(visit), visitStage: '2' });
  const [one, two] = [[{ name: '1' }], [{ name: '1' }, { name: '2' }]] as unknown as Visit['stages'][];

  it('become two, and one again, and the first is looked at', () => {
    const { edits, store } = choice({ stages: one! });
    typeInto(visitWords.stages, 'two');
    expect(edits).toEqual([{ path: ['stages'], after: two }]);
    expect(store.getState().visitStage).toBe('1');
    cleanup();
    const back = choice({ stages: two! });
    expect(field(visitWords.stages).value).toBe('two');
    typeInto(visitWords.stages, 'one');
    expect(back.edits).toEqual([{ path: ['stages'], after: one }]);
  });
  it('stay two while the second has trials, and say why; trials of the first are no obstacle', () => {
    const { edits } = choice({ stages: two!, trials: [trialAt('1'), trialAt('2')] });
    expect(screen.getByText(visitWords.stageHasTrials)).toBeDefined();
    typeInto(visitWords.stages, 'one');
    expect(edits).toEqual([]);
    cleanup();
    const free = choice({ stages: two!, trials: [trialAt('1')] });
    expect(screen.queryByText(visitWords.stageHasTrials)).toBeNull();
    typeInto(visitWords.stages, 'one');
    expect(free.edits).toHaveLength(1);
  });
});

describe('the limits of CO and O2', () => {
  const open = (visit: Partial<Visit> = {}) => {
    const made = inWindow(<FlueLimitsButton />, { visit: oilVisit(visit) });
    press(alarmWords.change);
    return made;
  };
  const save = (): void => void fireEvent.submit(document.querySelector('form')!);
  const refused = (): string => document.querySelector('.foot [role=alert], [role=alert]')?.textContent ?? '';
  const figures = () => [alarmWords.notice, alarmWords.alarm, alarmWords.floor].map((name) => field(name).value);

  it('are said, and come into the fields as they are', () => {
    open();
    expect(document.querySelector('.limits-line')?.textContent).toMatch(/notice at 100.*alarm at 400.*below 2/);
    expect(figures()).toEqual(['100', '400', '2']);
    cleanup();
    open({ flueCoLimits: { noticePpm: 50, alarmPpm: 200 }, o2FloorPercent: 3 });
    expect(document.querySelector('.limits-line')?.textContent).toMatch(/notice at 50.*alarm at 200.*below 3/);
    expect(figures()).toEqual(['50', '200', '3']);
  });
  it('become lower without a reason', () => {
    const { edits } = open();
    typeInto(alarmWords.notice, '50');
    typeInto(alarmWords.alarm, '200');
    save();
    expect(edits).toEqual([{ path: ['flueCoLimits'], after: { noticePpm: 50, alarmPpm: 200 } }]);
    expect(document.querySelector('dialog')).toBeNull();
  });
  it('become higher, and the floor lower, with a reason only', () => {
    const { edits } = open();
    typeInto(alarmWords.alarm, '500');
    save();
    expect(refused()).toMatch(/^Type a reason.*500/);
    typeInto(alarmWords.alarm, '400');
    typeInto(alarmWords.floor, '1.5');
    save();
    expect(refused()).toMatch(/^Type a reason.*1\.5/);
    expect(edits).toEqual([]);
    typeInto(alarmWords.reason, ' by the maker ');
    typeInto(alarmWords.alarm, '500');
    save();
    expect(edits).toEqual([
      { path: ['flueCoLimits'], after: { noticePpm: 100, alarmPpm: 500, reason: 'by the maker' } },
      { path: ['o2FloorPercent'], after: 1.5 },
    ]);
  });
  it.each([
    [alarmWords.notice, '', /above zero/],
    [alarmWords.alarm, 'x', /above zero/],
    [alarmWords.notice, '401', /above the alarm/],
    [alarmWords.floor, '', /./],
  ])('are refused with "%s" at "%s"', (label, text, why) => {
    const { edits } = open();
    typeInto(label, text);
    save();
    expect([...document.querySelectorAll('[role=alert]')].map((one) => one.textContent).join(' ')).toMatch(why);
    expect(edits).toEqual([]);
    expect(document.querySelector('dialog')).not.toBeNull();
  });
  it('are not changed from a window that may only look', () => {
    inWindow(<FlueLimitsButton />, { visit: oilVisit(), role: 'viewer' });
    expect(button(alarmWords.change).disabled).toBe(true);
  });
});

describe('the papers of the last visit', () => {
  const open = (visit: Partial<Visit> = {}) => inWindow(<PapersFields />, { visit: oilVisit({ papers: {}, ...visit }) });

  it('wait behind a button until there are some', () => {
    inWindow(<PapersFields />, { visit: oilVisit() });
    expect(screen.queryByLabelText(sinceWords.papersDay)).toBeNull();
    press(sinceWords.papersOpen);
    expect(field(sinceWords.papersDay).value).toBe('');
    gone(sinceWords.papersOpen);
    cleanup();
    inWindow(<PapersFields />, { visit: oilVisit(), role: 'viewer' });
    expect(button(sinceWords.papersOpen).disabled).toBe(true);
  });
  it('show what was typed before, in the units of the window', () => {
    // 1 US gal/h is 3.785 L/h; 1 in w.c. is 249.1 Pa; a difference of 100 K is one of 180 °F
    open({ papers: { day: '2025-02-01', fuelId: 'no2', nozzleFlowLh: 3.785, o2Percent: 5.5, netStackK: 100, overFirePa: -4.98 } });
    expect([sinceWords.papersDay, sinceWords.papersFuel, sinceWords.papersNozzle].map((name) => field(name).value)).toEqual([
      '2025-02-01',
      'no2',
      '1',
    ]);
    const shown = [...document.querySelectorAll<HTMLInputElement>('input')].map(({ value }) => value);
    expect(shown.slice(2)).toEqual(['5.5', '', '', '', '180', '-0.02', '']);
  });
  it('save the day when it is one', () => {
    const { edits } = open();
    typeInto(sinceWords.papersDay, 'last year');
    expect(edits).toEqual([]);
    expect(screen.getByRole('alert').textContent).toBe(sinceWords.wrongDay);
    typeInto(sinceWords.papersDay, ' 2025-02-01 ');
    expect(edits).toEqual([{ path: ['papers'], after: { day: '2025-02-01' } }]);
  });
  it('save fuel and nozzle, and nothing at all when the last of them is emptied', () => {
    const { edits } = open({ papers: { fuelId: 'b20' } });
    typeInto(sinceWords.papersNozzle, '1');
    typeInto(sinceWords.papersFuel, '');
    expect(edits[0]).toMatchObject({ path: ['papers'], after: { fuelId: 'b20' } });
    expect(edits[0]!.after).toHaveProperty('nozzleFlowLh', expect.closeTo(3.785, 3));
    expect(edits[1]).toEqual({ path: ['papers'] });
  });
  it.each([
    [{}, '0.02', undefined],
    [{}, '-0.02', -4.98],
    [{ draftHabit: 'plain' }, '0.02', -4.98],
    [{ pressurised: true }, '0.02', 4.98],
  ] as const)('ask what a draft without a sign means, unless it is known: %j, %s', (visit, typed, kept) => {
    const { edits } = open(visit);
    const draft = [...document.querySelectorAll('input')].at(-1)!;
    fireEvent.change(draft, { target: { value: typed } });
    if (kept === undefined) {
      expect(edits).toEqual([]);
      expect(screen.getByRole('alert').textContent).toBe(sinceWords.wrongDraft);
    } else expect(edits[0]!.after).toEqual({ breechPa: expect.closeTo(kept, 2) as number });
  });
});
