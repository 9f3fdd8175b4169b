/** What a bench test still needs before it can begin, one thing at a time in the order of the screen; and where a test may go on. */
import { describe, expect, it } from 'vitest';
import { examplePlans, slotsOf } from '../../../shared/bench/plan.ts';
import { practiceGases } from '../../../shared/bench/practice.ts';
import {
  moveFlaw,
  MOST_INSTRUMENTS,
  startFlaw,
  testsFor,
  type StartDraft,
  type StartRun,
  type StartSeat,
} from '../../../shared/bench/session/start.ts';
import { practiceTest } from './run-plan.ts';

const TODAY = '2026-11-24';
const made = practiceTest();
const runOf = (more: Partial<StartRun> = {}): StartRun => ({
  runId: 'r1',
  kind: 'serial',
  startWallMs: 1_000_000,
  timeMs: 2500.4,
  zoneMinutes: 60,
  isRead: true,
  ...more,
});
const seatOf = (more: Partial<StartSeat> = {}): StartSeat => ({ run: runOf(), instrumentId: 'i1', instrument: made.instrument, ...more });
const real = made.gases.map(({ slot, gas }) => ({ slot, gas: { ...gas, serial: `bottle ${slot}` } }));
const whole: StartDraft = { seats: [seatOf()], plan: made.plan, gases: real, room: { ...made.room, place: 'bench 2' }, limits: 'none' };
const flaw = (more: Partial<StartDraft>) => startFlaw({ ...whole, ...more }, TODAY);
const withGas = (change: object, reason?: string) =>
  real.map((use, at) => (at === 0 ? { ...use, gas: { ...use.gas, ...change }, ...(reason === undefined ? {} : { reason }) } : use));

describe('a bench test', () => {
  it('can begin when everything is there', () => {
    expect(flaw({})).toBeUndefined();
    expect(slotsOf(made.plan).length).toBeGreaterThan(0);
  });
  it.each<[string, Partial<StartDraft>, object]>([
    ['no instrument', { seats: [] }, { kind: 'instrument' }],
    [
      'more instruments than the bench takes',
      {
        seats: Array.from({ length: MOST_INSTRUMENTS + 1 }, (_, at) => seatOf({ instrumentId: `i${at}`, run: runOf({ runId: `r${at}` }) })),
      },
      { kind: 'instrument' },
    ],
    ['an instrument that nobody named', { seats: [seatOf({ instrument: undefined })] }, { kind: 'which' }],
    ['lines that are not read', { seats: [seatOf({ run: runOf({ isRead: false }) })] }, { kind: 'lines', runId: 'r1' }],
    ['one instrument twice', { seats: [seatOf(), seatOf({ run: runOf({ runId: 'r2' }) })] }, { kind: 'twice' }],
    ['one run twice', { seats: [seatOf(), seatOf({ instrumentId: 'i2' })] }, { kind: 'twice' }],
    ['an instrument without a cell', { seats: [seatOf({ instrument: { ...made.instrument, cells: [] } })] }, { kind: 'channels' }],
    ['a gas that is missing', { gases: real.slice(1) }, { kind: 'gas', slot: real[0]?.slot }],
    ['a practice gas for a real instrument', { gases: made.gases }, { kind: 'practice' }],
    ['no place', { room: { ...made.room, place: ' ' } }, { kind: 'place' }],
    ['no place at all', { room: made.room }, { kind: 'place' }],
    ['no word on the limits', { limits: undefined }, { kind: 'rule' }],
  ])('does not begin with %s', (_name, more, expected) => expect(flaw(more)).toEqual(expected));

  it('a gas past its date, nearly empty or uncertain needs a reason of three letters', () => {
    const name = real[0]!.gas.name;
    expect(flaw({ gases: withGas({ expires: '2026-11-23' }) })).toEqual({ kind: 'reason', gas: name, flaws: ['expired'] });
    expect(flaw({ gases: withGas({ expires: TODAY }) })).toBeUndefined();
    expect(flaw({ gases: withGas({ expires: undefined }) })).toEqual({ kind: 'reason', gas: name, flaws: ['no-expiry'] });
    expect(flaw({ gases: withGas({ pressureBar: 9.9 }) })).toMatchObject({ flaws: ['nearly-empty'] });
    expect(flaw({ gases: withGas({ pressureBar: 10 }) })).toBeUndefined();
    // at most 2 % relative for the measured component: OIML R 144-1 Annex A.2
    expect(flaw({ gases: withGas({ components: [{ channel: 'co', value: 100, expanded: 2.1 }] }) })).toMatchObject({
      flaws: ['uncertain'],
    });
    expect(flaw({ gases: withGas({ components: [{ channel: 'co', value: 100, expanded: 2 }] }) })).toBeUndefined();
    expect(flaw({ gases: withGas({ expires: '2026-11-23' }, ' ok ') })).toMatchObject({ kind: 'reason' });
    expect(flaw({ gases: withGas({ expires: '2026-11-23' }, 'new one ordered') })).toBeUndefined();
  });
  it('a simulated instrument takes only gases that the simulator has, and needs neither place nor lines', () => {
    const simulated = [seatOf({ run: runOf({ kind: 'simulated', isRead: false }) })];
    expect(flaw({ seats: simulated, gases: made.gases, room: made.room })).toBeUndefined();
    const odd = made.gases.map((use) => ({
      ...use,
      gas: { ...use.gas, components: [{ channel: 'co' as const, value: 777, expanded: 1 }] },
    }));
    expect(flaw({ seats: simulated, gases: odd })).toEqual({ kind: 'inlet', gas: made.gases[0]?.gas.name });
    expect(flaw({ seats: [...simulated, seatOf({ instrumentId: 'i2', run: runOf({ runId: 'r2' }) })], gases: made.gases })).toEqual({
      kind: 'practice',
    });
  });
});

describe('a test that goes on with another run', () => {
  it('stays with what it was begun at: a real one with a real one, a simulated one with a simulated one', () => {
    const real: typeof made = { ...made };
    delete real.watermark;
    expect(moveFlaw(real, runOf(), [])).toBeUndefined();
    expect(moveFlaw(real, runOf({ kind: 'typed' }), [])).toBeUndefined();
    expect(moveFlaw(real, runOf({ kind: 'simulated' }), [])).toEqual({ kind: 'practice-move' });
    expect(moveFlaw(real, runOf({ kind: 'replay' }), [])).toEqual({ kind: 'practice-move' });
    expect(moveFlaw(made, runOf({ kind: 'simulated', isRead: false }), [])).toBeUndefined();
    expect(moveFlaw({ ...made, watermark: 'replayed' }, runOf({ kind: 'replay' }), [])).toBeUndefined();
  });
  it('not with lines that are not read, nor with a run that a test beside it has', () => {
    const real: typeof made = { ...made };
    delete real.watermark;
    expect(moveFlaw(real, runOf({ isRead: false }), [])).toEqual({ kind: 'lines', runId: 'r1' });
    expect(moveFlaw(real, runOf(), ['r1'])).toEqual({ kind: 'twice' });
    expect(moveFlaw(real, runOf(), ['r2'])).toBeUndefined();
  });
});

describe('the tests that begin', () => {
  it('are one for each instrument, from the moment of the press, with what was simulated or replayed marked', () => {
    const seats = (['serial', 'simulated', 'replay', 'typed'] as const).map((kind, at) =>
      seatOf({ instrumentId: `i${at}`, run: runOf({ kind, runId: `r${at}` }) }),
    );
    const begun = testsFor({ ...whole, seats, person: 'A. Sample', bench: 'bench 2', limits: made.limits }, 's');
    expect(begun.map(({ instrumentId, runId, watermark }) => [instrumentId, runId, watermark])).toEqual([
      ['i0', 'r0', undefined],
      ['i1', 'r1', 'simulated'],
      ['i2', 'r2', 'replayed'],
      ['i3', 'r3', undefined],
    ]);
    expect(begun[0]).toMatchObject({
      session: 's',
      startedWallMs: 1_002_500,
      zoneMinutes: 60,
      status: 'open',
      person: 'A. Sample',
      bench: 'bench 2',
    });
    expect(begun[0]?.limits).toEqual(made.limits);
    expect(begun[0]?.rounds).toEqual([{ kind: 'as-found', startedMs: 0, steps: [] }]);
  });
  it('hold nothing that nobody said', () => {
    const [test] = testsFor({ ...whole, person: '', bench: '' }, 's');
    expect(test).toBeDefined();
    expect(['person', 'bench', 'limits', 'watermark'].filter((key) => key in test!)).toEqual([]);
    expect(testsFor({ ...whole, plan: undefined }, 's')).toEqual([]);
    expect(testsFor({ ...whole, seats: [seatOf({ instrument: undefined })] }, 's')).toEqual([]);
  });
  it('a plan is one of the examples, and a practice gas is a practice gas by name and number', () => {
    expect(examplePlans).toContainEqual(made.plan);
    const renamed = made.gases.map((use) => ({ ...use, gas: { ...use.gas, name: `${use.gas.name} of ours` } }));
    expect(flaw({ gases: renamed })).toBeUndefined();
    expect(Object.keys(practiceGases)).toContain(made.gases[0]?.slot);
  });
});
