import { describe, expect, it } from 'vitest';
import { channelRows } from '../../../renderer/state/channels.ts';
import { headlineOf, readinessOf, takenNow } from '../../../renderer/state/readiness.ts';
import type { RunRecord } from '../../../renderer/state/run-record.ts';
import { isReadyToTake, mainDeedOf } from '../../../renderer/views/tune/mark-bar/main-deed.ts';
import { counters, readingOf, recordWith, stateOf, turnOf } from '../helpers/records.ts';

const settled = [stateOf('o2', 'settled'), stateOf('co', 'settled', { value: 13 }), stateOf('airTemperature', 'settled', { value: 21 })];
const stack = stateOf('stackTemperature', 'settling', {
  value: 211,
  band: 2,
  headingFor: { value: 217, low: 215, high: 219 },
  secondsLeft: { value: 260, low: 200, high: 330 },
});
const say = (record: RunRecord): string => {
  const { strong, rest } = headlineOf(
    record,
    channelRows(record, () => undefined),
    'metric',
  );
  return `${strong} ${rest}`.trim();
};

describe('the one sentence', () => {
  it('offers a gas reading and says how long the full one takes', () => {
    expect(say(recordWith({ states: [...settled, stack], openReading: readingOf('open') }))).toBe(
      'Gas reading is ready. Full reading in about 4 min.',
    );
  });
  it('names the gas that holds a reading back, even when the stack takes longer', () => {
    const o2 = stateOf('o2', 'settling', {
      value: 5.8,
      headingFor: { value: 5.1, low: 5, high: 5.2 },
      secondsLeft: { value: 22, low: 15, high: 30 },
    });
    expect(say(recordWith({ states: [...settled.slice(1), o2, stack] }))).toBe('Waiting for O2: 0.7\u2009% to go. Ready in about 20 s.');
  });
  it('does not make up a time without a forecast', () => {
    expect(say(recordWith({ states: [...settled.slice(1), stateOf('o2', 'moving')] }))).toBe(
      'Waiting for O2: still moving, no forecast yet.',
    );
  });
  it('says that figures are blank while the port is lost', () => {
    expect(say(recordWith({ states: settled }, { phase: 'lost' }))).toContain('blank');
  });
  it('names an absent channel with its reason', () => {
    const co = stateOf('co', 'absent', { value: undefined, reason: 'over-range' });
    expect(say(recordWith({ states: [stateOf('o2', 'settled'), co] }))).toContain('CO over range');
  });
  it('says what is not used during fresh air', () => {
    expect(say(recordWith({ states: settled, excluded: [{ fromMs: 50_000, reason: 'fresh-air' }] }))).toContain('fresh air');
  });
  it('is not misled by an exclusion that is over', () => {
    expect(
      say(
        recordWith({
          states: [...settled, stack],
          openReading: readingOf('open'),
          excluded: [{ fromMs: 10_000, toMs: 20_000, reason: 'fresh-air' }],
        }),
      ),
    ).toContain('Gas reading is ready');
  });
});

describe('after taking', () => {
  const taken = {
    ...recordWith({ states: [...settled, stack], openReading: readingOf('open'), readings: [readingOf('mine')] }),
    taken: [{ id: 'mine', ready: 'gas' as const, timeMs: 60_000 }],
  };
  it('asks for smoke next', () => {
    expect(say(taken)).toContain('Pump a smoke spot');
    expect(mainDeedOf(taken).does).toBe('smoke');
  });
  it('offers the full reading when that becomes ready', () => {
    const full = { ...taken, face: { ...taken.face, openReading: readingOf('open', { scope: 'full' }) } };
    expect(mainDeedOf(full)).toMatchObject({ does: 'take', text: 'Take reading' });
  });
  it('starts anew with the next setting', () => {
    expect(takenNow({ ...taken, marks: [turnOf('later', 61_000, 4)] })).toBeUndefined();
  });
  it('does not take a reading by hand for the settled one', () => {
    const hand = { ...taken, taken: [{ id: 'mine', ready: 'none' as const, timeMs: 60_000 }] };
    expect(mainDeedOf(hand)).toMatchObject({ does: 'take', text: 'Take gas reading' });
  });
});

describe('a trial that began without a turn: a part was exchanged, or the screws were tightened', () => {
  const smoke = { id: 'spot', timeMs: 61_000, body: { kind: 'smoke' as const, spots: [{ number: 1 }] } };
  const full = readingOf('mine', { scope: 'full' });
  const before: RunRecord = {
    ...recordWith({ states: settled, readings: [full], marks: [smoke] }),
    taken: [{ id: 'mine', ready: 'full', timeMs: 60_000 }],
  };
  const at = (timeMs: number, record: RunRecord = before): RunRecord => ({ ...record, face: { ...record.face, timeMs } });
  const began = { fromMs: 70_000 };
  it('what was taken and typed before it does not count for it', () => {
    expect(mainDeedOf(at(75_000))).toMatchObject({ text: 'Take again' });
    expect(mainDeedOf(at(75_000), undefined, { trial: began })).toMatchObject({ text: 'Take reading', under: 'by hand' });
  });
  it('can be read when everything has been at the same rest for a minute again, though that rest was offered before', () => {
    expect(readinessOf(at(125_000), began)).toBe('none');
    expect(readinessOf(at(131_000), began)).toBe('full');
    expect(mainDeedOf(at(131_000), undefined, { trial: began })).toMatchObject({ text: 'Take reading', under: undefined });
  });
  it('but not while one channel is not at rest, nor when the trial has its reading', () => {
    const moving = at(131_000, { ...before, face: { ...before.face, states: { ...before.face.states, co: stateOf('co', 'settling') } } });
    expect(readinessOf(moving, began)).toBe('none');
    expect(readinessOf(at(131_000), { ...began, reading: full })).toBe('none');
  });
  it('asks for smoke when the host kept its reading without a press', () => {
    const kept = { ...began, reading: readingOf('by-itself', { scope: 'full', fromMs: 75_000, toMs: 95_000, takenMs: 85_000 }) };
    expect(mainDeedOf(at(131_000), undefined, { trial: kept })).toMatchObject({ does: 'smoke' });
  });
  it('an older trial than the last turn says nothing', () => {
    const turned = at(131_000, { ...before, marks: [smoke, turnOf('later', 90_000, 4)] });
    expect(mainDeedOf(turned, undefined, { trial: { fromMs: 0, reading: full } })).toMatchObject({
      text: 'Take reading',
      under: 'by hand',
    });
  });
});

describe('law 17: where an alarm holds the main button is the way out of it', () => {
  const ready = recordWith({ states: settled, openReading: readingOf('open') });
  const lost = recordWith({ states: settled, openReading: readingOf('open') }, { phase: 'lost' });
  it.each([
    [undefined, ready, 'Take gas reading'],
    ['flue', ready, 'Mark more air'],
    ['room', ready, 'Read the room again'],
    ['room', lost, 'Read the room again'],
  ] as const)('%s alarm: %#', (alarm, record, text) => {
    expect(mainDeedOf(record, alarm).text).toBe(text);
  });
  it('and nothing good to take is shown beside it', () => {
    expect(isReadyToTake(ready)).toBe(true);
    expect(isReadyToTake(ready, 'flue')).toBe(false);
    expect(mainDeedOf(lost, 'flue').does).toBe('source');
  });
});

it('offers nothing while the port is lost', () => {
  const lost = recordWith({ states: settled, openReading: readingOf('open') }, { phase: 'lost' });
  expect(readinessOf(lost)).toBe('none');
  expect(mainDeedOf(lost)).toMatchObject({ does: 'source' });
});

describe('channel rows', () => {
  it('show a dash, never the last value, when silent, absent or lost', () => {
    const states = [stateOf('o2', 'silent'), stateOf('co', 'absent')];
    expect(channelRows(recordWith({ states }, { channels: ['o2', 'co'] }), () => 9).map(({ value }) => value)).toEqual([
      undefined,
      undefined,
    ]);
    expect(
      channelRows(recordWith({ states: settled }, { phase: 'lost' }), () => 9).every(
        ({ value, state }) => value === undefined && state === 'silent',
      ),
    ).toBe(true);
  });
  it('leave out a channel that the instrument lacks', () => {
    const rows = channelRows(recordWith({ states: [stateOf('o2', 'settled')] }, { channels: ['o2', 'stackTemperature'] }), () => undefined);
    expect(rows.map(({ channel }) => channel)).toEqual(['o2', 'stackTemperature']);
  });
  it('count a typed air temperature as settled and join it', () => {
    const rows = channelRows(
      recordWith({ states: [stateOf('stackTemperature', 'settled')] }, { channels: ['stackTemperature'], typedAirC: 20 }),
      () => undefined,
    );
    expect(rows.map(({ typed, state, joinsAbove }) => [typed, state, joinsAbove])).toEqual([
      [false, 'settled', false],
      [true, 'settled', true],
    ]);
  });
  it('join settled neighbours only', () => {
    const rows = channelRows(recordWith({ states: [...settled, stack] }), () => undefined);
    expect(rows.map(({ joinsAbove, joinsBelow }) => [joinsAbove, joinsBelow])).toEqual([
      [false, true],
      [true, false],
      [false, false],
      [false, false],
    ]);
  });
});

describe('a typed source', () => {
  const typedRecord = (lastGoodMs: number, part: Partial<RunRecord> = {}): RunRecord => ({
    ...recordWith({ counters: { ...counters, lastGoodMs } }, { source: { kind: 'typed' } }),
    ...part,
  });
  const taken = {
    readings: [readingOf('mine', { fromMs: 5000, toMs: 5000, takenMs: 6000 })],
    taken: [{ id: 'mine', ready: 'full' as const, timeMs: 6000 }],
  };
  it('offers what was typed, once, and again when more is typed', () => {
    expect(mainDeedOf(typedRecord(5000)).does).toBe('take');
    expect(mainDeedOf(typedRecord(5000, taken)).does).toBe('smoke');
    expect(mainDeedOf(typedRecord(9000, taken)).does).toBe('take');
  });
  it('does not offer figures from before the last turn', () => {
    expect(mainDeedOf(typedRecord(5000, { marks: [turnOf('a', 8000, 4)] })).does).toBe('values');
  });
});
