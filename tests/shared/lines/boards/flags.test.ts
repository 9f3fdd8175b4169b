/** Boards that say beside their values whether they are any: valid, ok, ready, error. Values that are none become no readings. Invented data. */
import { describe, expect, it } from 'vitest';
import { blockedBy } from '../../../../shared/settling/blocked-by.ts';
import { boardRows, judgeBoard, readWith, recipeOf, type BoardRow } from './board-lines.ts';

const rows = boardRows(90);
const isBad = (r: BoardRow): boolean => r.at < 10 || (r.at > 60 && r.at < 66);
const json = (extra: (r: BoardRow) => object) => (r: BoardRow) =>
  JSON.stringify({ ...extra(r), o2: r.o2, co: r.co, stack: r.stack, air: r.air });
const keyed = (extra: (r: BoardRow) => string) => (r: BoardRow) => `O2=${r.o2}% CO=${r.co}ppm TS=${r.stack}C TA=${r.air}C ${extra(r)}`;
const channels = ['o2', 'co', 'stackTemperature'] as const;

describe('a flag for all values', () => {
  it.each([
    ['valid', json((r) => ({ valid: !isBad(r) }))],
    ['valid, as 0 and 1', json((r) => ({ valid: isBad(r) ? 0 : 1 }))],
    ['ok behind a status word', json((r) => ({ status: 'ok', ok: !isBad(r) }))],
    ['data_valid', json((r) => ({ data_valid: !isBad(r) }))],
    ['meta.valid', json((r) => ({ meta: { valid: !isBad(r) } }))],
    ['ready', json((r) => ({ ready: !isBad(r) }))],
    ['error', json((r) => ({ error: isBad(r) }))],
    ['error with its text', json((r) => ({ error: isBad(r) ? 'sensor timeout' : null }))],
    ['error code', json((r) => ({ error_code: isBad(r) ? 17 : 0 }))],
    ['status error', json((r) => ({ status: isBad(r) ? 'error' : 'ok' }))],
    ['status WARMING_UP', json((r) => ({ status: isBad(r) ? 'WARMING_UP' : 'MEASURING' }))],
    ['status "not ready"', json((r) => ({ status: isBad(r) ? 'not ready' : 'ready' }))],
    ['status "invalid"', json((r) => ({ status: isBad(r) ? 'invalid' : 'valid' }))],
    ['valid= behind keys', keyed((r) => `valid=${isBad(r) ? 0 : 1}`)],
    ['A and V, as NMEA 0183 has it', keyed((r) => `valid=${isBad(r) ? 'V' : 'A'}`)],
    ['ok= behind keys', keyed((r) => `ok=${isBad(r) ? 'false' : 'true'}`)],
    ['err= behind keys', keyed((r) => `err=${isBad(r) ? 3 : 0}`)],
  ])('%s', (_, text) => {
    const lines = rows.map(text);
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live]) {
      expect(recipe).toBeDefined();
      const samples = readWith(recipe!, lines);
      expect(samples).toHaveLength(rows.length);
      const isBlocked = samples.map(({ values, state }) =>
        channels.every((one) => values[one] === undefined || blockedBy(state, one) !== undefined),
      );
      expect(isBlocked).toEqual(rows.map(isBad));
    }
  });

  it.each([
    [
      'how far off, with decimals',
      (r: BoardRow) => `O2=${r.o2}% O2_err=${(0.04 + (r.at % 3) / 100).toFixed(2)} CO=${r.co}ppm TS=${r.stack}C`,
    ],
    ['how far off, always the same', (r: BoardRow) => `O2=${r.o2}% CO=${r.co}ppm CO_err=2 TS=${r.stack}C`],
  ])('%s, is none', (_, text) => {
    const lines = rows.map(text);
    const { file } = judgeBoard(lines);
    const recipe = recipeOf(file);
    expect(recipe).toBeDefined();
    for (const { values } of readWith(recipe!, lines)) expect(Object.keys(values)).toEqual(expect.arrayContaining([...channels]));
  });

  it.each([
    ['nought in four digits', keyed(() => 'err=0000')],
    ['E00', keyed(() => 'error=E00')],
    ['words', json(() => ({ error: 'no error' }))],
    ['words that nobody knows', json(() => ({ fault: 'lambda cold' }))],
  ])('%s that never change, says nothing', (_, text) => {
    const lines = rows.map(text);
    const { file } = judgeBoard(lines);
    const recipe = recipeOf(file);
    expect(recipe).toBeDefined();
    for (const { values, state } of readWith(recipe!, lines)) {
      expect(blockedBy(state, 'co')).toBeUndefined();
      expect(Object.keys(values)).toEqual(expect.arrayContaining([...channels]));
    }
  });
  it.each([
    ['HIGH', (r: BoardRow) => `CO_status=${r.at > 70 ? 'HIGH' : 'NORMAL'}`],
    ['ALARM', (r: BoardRow) => `CO_status=${r.at > 70 ? 'ALARM' : 'OK'}`],
    ['OVERLOAD', (r: BoardRow) => `error=${r.at > 70 ? 'CO overload' : 'none'}`],
    ['a number', (r: BoardRow) => `CO_err=${r.at > 70 ? 8 : 0}`],
  ])('%s beside CO comes first where it rises: CO stays', (_, extra) => {
    const lines = rows.map((r) => `O2=${r.o2}% CO=${r.at > 70 ? 450 : r.co}ppm TS=${r.stack}C ${extra(r)}`);
    const recipe = recipeOf(judgeBoard(lines.slice(0, 60)).file);
    expect(recipe).toBeDefined();
    const high = readWith(recipe!, lines).filter((_sample, at) => at > 75);
    expect(high.length).toBeGreaterThan(5);
    for (const { values, state } of high) expect([values.co, blockedBy(state, 'co')]).toEqual([450, undefined]);
  });

  it('over its range is said so, not as an error: an alarm hangs on it', () => {
    const lines = rows.map((r) => `O2=${r.o2}% CO=${r.at > 70 ? 0 : r.co}ppm TS=${r.stack}C CO_status=${r.at > 70 ? 'OVERRANGE' : 'OK'}`);
    const recipe = recipeOf(judgeBoard(lines.slice(0, 60)).file);
    expect(readWith(recipe!, lines).at(-1)).toMatchObject({ absent: { co: 'over-range' } });
  });

  it('a column of a table', () => {
    const lines = [
      't;valid;O2 %;CO ppm;Stack C;Air C',
      ...rows.map((r) => `${r.at};${isBad(r) ? 0 : 1};${r.o2};${r.co};${r.stack};${r.air}`),
    ];
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live])
      expect(recipe && readWith(recipe, lines).map(({ state }) => blockedBy(state, 'o2') !== undefined)).toEqual(rows.map(isBad));
  });

  it('a flag that is false for the first time after the recipe', () => {
    const lines = rows.map(json((r) => ({ valid: !(r.at > 60 && isBad(r)) })));
    const { live } = judgeBoard(lines);
    expect(live && readWith(live, lines)[62]?.state).toBe('fault');
    expect(live && readWith(live, lines)[70]?.state).not.toBe('fault');
  });
});

describe('a flag for one value', () => {
  it.each([
    [
      'beside it',
      (r: BoardRow) =>
        JSON.stringify({
          o2: { value: r.o2, valid: true },
          co: { value: r.co, valid: !isBad(r) },
          stack: { value: r.stack, valid: true },
          air: { value: r.air, valid: true },
        }),
    ],
    ['in its name', json((r) => ({ co_valid: !isBad(r), o2_valid: true }))],
    [
      'a word',
      (r: BoardRow) =>
        JSON.stringify({
          o2: { value: r.o2, status: 'ok' },
          co: { value: r.co, status: isBad(r) ? 'warmup' : 'ok' },
          stack: { value: r.stack, status: 'ok' },
          air: { value: r.air, status: 'ok' },
        }),
    ],
    ['behind keys', keyed((r) => `CO_ok=${isBad(r) ? 0 : 1}`)],
  ])('%s', (_, text) => {
    const lines = rows.map(text);
    const { file, live } = judgeBoard(lines);
    for (const recipe of [recipeOf(file), live]) {
      expect(recipe).toBeDefined();
      const samples = readWith(recipe!, lines);
      expect(samples.map(({ values }) => values.co)).toEqual(rows.map((r) => (isBad(r) ? undefined : r.co)));
      expect(samples.map(({ values }) => values.o2)).toEqual(rows.map(({ o2 }) => o2));
      for (const { absent } of samples.slice(0, 10)) expect(absent?.co).toBeDefined();
    }
  });
});

describe('what is no flag of the values', () => {
  it.each([
    ['of the radio', json((r) => ({ wifi_ok: r.at > 20 }))],
    ['of the battery', json((r) => ({ battery_ok: r.at > 20 }))],
    ['a counter of errors', json((r) => ({ error: Math.floor(r.at / 3) }))],
  ])('%s', (_, text) => {
    const lines = rows.map(text);
    const { live } = judgeBoard(lines);
    const samples = live === undefined ? [] : readWith(live, lines);
    expect(samples.map(({ values }) => values.co)).toEqual(rows.map(({ co }) => co));
    expect(samples.some(({ state }) => blockedBy(state, 'co') !== undefined)).toBe(false);
  });
});
