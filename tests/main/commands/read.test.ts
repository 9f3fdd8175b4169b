import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { command } from '../../../main/commands/read.ts';
import { command as replay } from '../../../main/commands/replay.ts';
import { SettlingKnowledge } from '../../../shared/measurement/knowledge.ts';
import { encodeEntry, encodeHeader } from '../../../shared/measurement/run-format.ts';
import { burnerLines, columnsRecipe, lineEntries, runHeader } from '../../helpers/ports/run-lines.ts';
import { boardRows } from '../../shared/lines/boards/board-lines.ts';
import { systemClock } from '../../../main/system-clock.ts';
import type { Command } from '../../../main/commands/command.ts';

type Row = { type: string } & Record<string, unknown>;
let folder: string;
let warmUp: string;
const at = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text, 'latin1');
  return path;
};
const rowsOf = (out: readonly string[]): Row[] => out.flatMap((text) => text.split('\n')).map((line) => JSON.parse(line) as Row);
/** Results come in portions of many lines, so that they are not parsed here. */
const run = async (which: Command, args: string[]) => {
  const out: string[] = [];
  const errors: string[] = [];
  const stdin = () => (async function* nothing(): AsyncGenerator<Uint8Array> {})();
  const code = await which.run(args, {
    out: (text) => void out.push(text),
    error: (text) => void errors.push(text),
    stdin,
    clock: systemClock,
    cwd: folder,
    dataFolder: folder,
  });
  return { code, out, errors };
};
const two = (value: number): string => String(value).padStart(2, '0');
const tableOf = (count: number): string[] =>
  Array.from({ length: count }, (_, i) => `${i},${(4 + (i % 5) / 10).toFixed(1)},${20 + (i % 3)},${180 + (i % 7)}.0,21.0`);
const read = async (...args: string[]) => {
  const ran = await run(command, [...args, '--json']);
  const rows = ran.code === 0 ? rowsOf(ran.out) : [];
  return { ...ran, rows, of: (type: string) => rows.filter((row) => row.type === type) };
};

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'flueside-read-'));
  warmUp = at(
    'warm-up.txt',
    burnerLines({ seconds: 700, seed: 5 })
      .map(({ bytes }) => `${bytes}\r\n`)
      .join(''),
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('read', () => {
  it('a file that ends in the middle of a number: that line is no reading, and is said', async () => {
    const lines = boardRows(90).map((r) => `O2=${r.o2}% CO=${r.co}ppm TS=${r.stack}C TA=${r.air}C`);
    const whole = await read(at('whole.txt', lines.join('\r\n')), '--samples');
    expect(whole.of('sample')).toHaveLength(90);
    const cut = await read(at('cut.txt', lines.join('\r\n').slice(0, -3)), '--samples');
    expect(cut.of('sample')).toHaveLength(89);
    expect(cut.of('rejected')).toMatchObject([{ line: 90, reason: 'cut', detail: 'The line stops before its end.' }]);
  });

  it('a CO that only its values tell is said to be one: NO and corrected CO look alike', async () => {
    const bare = at(
      'bare.txt',
      boardRows(90)
        .map((r) => `${r.o2},${r.co},${r.stack},${r.air}\r\n`)
        .join(''),
    );
    const named = at('named.txt', `O2=5.1% CO=12ppm TS=180C TA=21C\r\n`.repeat(40));
    const said = /NO .*corrected CO/;
    expect((await run(command, [bare])).out.join('\n')).toMatch(said);
    expect((await read(bare)).of('recipe')[0]?.reasons).toContainEqual(expect.stringMatching(said));
    expect((await run(command, [named])).out.join('\n')).not.toMatch(said);
    expect((await read(named)).of('recipe')[0]?.reasons).not.toContainEqual(expect.stringMatching(said));
  });

  it('learns, says that it assumed, and gives recipe first, summary last', async () => {
    const { rows, of, code, errors } = await read(warmUp);
    expect([code, errors]).toEqual([0, []]);
    expect(rows[0]).toMatchObject({ type: 'recipe', assumed: true, confidence: expect.any(Number), alternatives: expect.any(Array) });
    expect(rows.at(-1)).toMatchObject({ type: 'summary', lines: 702, samples: 701, ignored: 1, rejected: 0, duration_s: 700 });
    expect(of('sample')).toEqual([]);
    expect(of('state').every(({ channel }) => ['o2', 'co', 'stack', 'air'].includes(String(channel)))).toBe(true);
    const [reading] = of('reading');
    expect(reading).toMatchObject({ scope: 'full', settled: true });
    for (const key of [
      'from_s',
      'to_s',
      'taken_s',
      'o2_pct',
      'co_ppm',
      'stack_c',
      'air_c',
      'efficiency_hhv_pct',
      'efficiency_u_pct',
      'excess_air_pct',
    ]) {
      expect(typeof reading?.[key], key).toBe('number');
    }
    expect(reading?.['from_s']).toBeLessThanOrEqual(reading?.['taken_s'] as number);
    expect(reading?.['taken_s']).toBeLessThanOrEqual(reading?.['to_s'] as number);
  });

  it('prints samples and gas readings only when asked for', async () => {
    const { of } = await read(warmUp, '--samples', '--gas');
    expect(of('sample')).toHaveLength(701);
    expect(of('sample')[1]).toMatchObject({ t_s: 1, o2_pct: expect.any(Number), stack_c: expect.any(Number) });
    expect(of('reading').some(({ scope }) => scope === 'gas')).toBe(true);
  });

  it('takes the time from the rate when there is no time column', async () => {
    const path = at('plain.txt', '4.2 12 180 20\n'.repeat(5));
    const recipe = at(
      'blanks.json',
      JSON.stringify({
        ...columnsRecipe,
        shape: { kind: 'columns', delimiter: 'blanks' },
        fields: columnsRecipe.fields.map((field, i) => ({ ...field, at: i })),
        time: { kind: 'arrival' },
      }),
    );
    expect((await read(path, '--recipe', recipe, '--samples', '--rate', '4')).of('sample').map(({ t_s }) => t_s)).toEqual([
      0, 0.25, 0.5, 0.75, 1,
    ]);
    expect((await read(path, '--recipe', recipe, '--samples')).of('sample').at(-1)?.['t_s']).toBe(4);
  });

  it('refuses 600 kB in one line with the real cause, and reads a table behind such a line', async () => {
    const long = 'O2=4.1 CO=23 '.repeat(47_000);
    const alone = await read(at('one-line.txt', long));
    expect(alone).toMatchObject({ code: 1, out: [] });
    expect(alone.errors.join(' ')).toContain('Lines are longer than 16 kB');
    const recipe = at('columns-of-four.json', JSON.stringify(columnsRecipe));
    const behind = await read(at('behind.txt', `${long}\n${tableOf(60).join('\n')}\n`), '--recipe', recipe);
    expect(behind.of('summary')).toMatchObject([{ samples: 60, rejected: 1 }]);
    expect(behind.of('rejected')).toMatchObject([{ line: 1, reason: 'cut' }]);
  });

  it('says that the clock in the lines was set back, and joins nothing across it', async () => {
    const recipe = at('clock-set.json', JSON.stringify({ ...columnsRecipe, time: { kind: 'field', at: 0, format: 'date-time' } }));
    const lines = tableOf(120).map((line, i) => {
      const minute = i < 60 ? 15 : 4;
      return `2031-03-12 08:${two(minute)}:${two(i % 60)}${line.slice(line.indexOf(','))}`;
    });
    const { of } = await read(at('clock-set.txt', `${lines.join('\n')}\n`), '--recipe', recipe);
    expect(of('clock-set')).toEqual([{ type: 'clock-set', t_s: 60, back_s: 719 }]);
    expect(of('summary')).toMatchObject([{ gaps: 1, samples: 120 }]);
    // a few seconds back are a clock that is corrected
    const corrected = lines.map((line, i) => (i === 30 ? line.replace(':30', ':27') : line));
    const again = await read(at('clock-corrected.txt', `${corrected.slice(0, 60).join('\n')}\n`), '--recipe', recipe);
    expect(again.of('clock-set')).toEqual([]);
  });

  it('spreads lines that share a clock stamp', async () => {
    const recipe = at('clock.json', JSON.stringify({ ...columnsRecipe, time: { kind: 'field', at: 0, format: 'clock' } }));
    const path = at(
      'clock.txt',
      ['23:59:59', '23:59:59', '00:00:00', '00:00:00', '00:00:01'].map((time) => `${time},4.2,12,180,20\n`).join(''),
    );
    expect((await read(path, '--recipe', recipe, '--samples')).of('sample').map(({ t_s }) => t_s)).toEqual([0, 0.5, 1, 1.5, 2]);
  });

  it('gives the stored run and the text it came from the same readings', async () => {
    const lines = burnerLines({ seconds: 700, seed: 5 });
    const stored = at(
      'warm-up.run',
      encodeHeader(runHeader()) + lineEntries(lines).map(encodeEntry).join('') + encodeEntry({ kind: 'end', timeMs: 700_000 }),
    );
    const recipe = at('columns.json', JSON.stringify(columnsRecipe));
    const fromRun = await read(stored);
    expect(fromRun.of('recipe')[0]).toMatchObject({ assumed: false, simulated: true });
    expect(fromRun.of('reading').length).toBeGreaterThan(0);
    expect(fromRun.of('reading')).toEqual((await read(warmUp, '--recipe', recipe)).of('reading'));
    const replayed = await run(replay, [stored]);
    expect(replayed.out.join('\n').split('\n')).toEqual(lines.map(({ bytes }) => bytes));
  });

  it('gives a run whose first line says what was known the readings of its text with --taught, to the last digit', async () => {
    const lines = burnerLines({ seconds: 420, seed: 5, turns: [{ atS: 200, value: 60 }] });
    const text = at('turned.txt', lines.map(({ bytes }) => `${bytes}\r\n`).join(''));
    const taught = join(folder, 'taught.json');
    const recipe = at('turned-columns.json', JSON.stringify(columnsRecipe));
    const first = await read(text, '--recipe', recipe, '--teach', taught);
    const known = SettlingKnowledge.parse(JSON.parse(readFileSync(taught, 'utf8')));
    expect(known.visits).toBe(1);
    // other constants than those of this very run: the readings must show that they are used
    const sensor = { mean: Math.log(3), sd: 0.1 };
    const other: SettlingKnowledge = { ...known, channels: { ...known.channels, o2: { sensor }, co: { sensor } } };
    const second = await read(text, '--recipe', recipe, '--taught', at('other.json', JSON.stringify(other)));
    const body = lineEntries(lines).map(encodeEntry).join('') + encodeEntry({ kind: 'end', timeMs: 421_000 });
    const stored = await read(at('taught.flueside-run', encodeHeader(runHeader({ known: other })) + body));
    expect(stored.of('reading').length).toBeGreaterThan(0);
    expect(stored.of('reading')).toEqual(second.of('reading'));
    expect(stored.of('reading')).not.toEqual(first.of('reading'));
    for (const [name, damaged, said] of [
      ['newer.json', { ...known, version: 99 }, /newer/i],
      ['gas.json', { ...known, appliance: 'gas boiler' }, /kind/i],
      ['half.json', undefined, /cannot be read/],
    ] as const) {
      const asides = await read(
        text,
        '--recipe',
        recipe,
        '--taught',
        at(name, damaged === undefined ? '{"format":' : JSON.stringify(damaged)),
      );
      expect([name, asides.code, asides.errors.length]).toEqual([name, 0, 1]);
      expect(asides.errors[0]).toMatch(said);
      expect(asides.of('reading')).toEqual(first.of('reading'));
    }
  });
  it('says what it could not understand, and goes on', async () => {
    const path = at('bad.txt', `${'1,4.2,12,180,20\n'.repeat(30)}garbage 12\n\xff\xfe\x00\n1,4.2,OVER,180,20\n`);
    const { of } = await read(path, '--recipe', 'comma-columns', '--samples');
    const [{ rejected, ignored }] = of('summary') as unknown as [{ rejected: number; ignored: number }];
    expect(rejected + ignored).toBe(2);
    expect(rejected).toBe(of('rejected').length);
    expect(of('rejected')[0]).toMatchObject({ line: 31, text: 'garbage 12', detail: expect.any(String) });
    const last = of('sample').at(-1);
    expect(last?.['co_ppm']).not.toBe(0);
    expect(last?.['co_ppm'] ?? null).toBeNull(); // absent is never zero and never the last value
  });

  it.each([
    [['none.txt'], 1, /no such file/i],
    [[], 2, /Name a file/],
    [['none.txt', '--rate', '0'], 2, /--rate/],
    [['none.txt', '--fuel', 'peat'], 1, /no such fuel/i],
    [['none.txt', '--recipe', 'nobody'], 1, /no such line recipe/i],
    [['none.txt', '--air-c', '400'], 1, /--air-c/],
    [['none.txt', '--frobnicate'], 2, /--frobnicate/],
  ])('%j ends with %i and one plain line', async (args, code, words) => {
    const ran = await read(...args);
    expect(ran.code).toBe(code);
    expect(ran.errors).toHaveLength(1);
    expect(ran.errors[0]).toMatch(words);
    expect(ran.out).toEqual([]);
  });

  it('asks instead of guessing: exit 1 with the question, nothing on standard output', async () => {
    const empty = await read(at('empty.txt', ''));
    expect([empty.code, empty.errors.length, empty.out]).toEqual([1, 1, []]);
    const noise = await read(at('words.txt', 'hello\nworld\nthis\nis\nno\ninstrument\n'));
    expect([noise.code, noise.errors.length, noise.out]).toEqual([1, 1, []]);
    // two columns that could each be O2, and temperatures that could be either
    const unclear = await read(
      at(
        'unclear.txt',
        Array.from(
          { length: 60 },
          (_, i) => `${(7 + (i % 5) / 10).toFixed(1)};${(7.2 + (i % 4) / 10).toFixed(1)};${60 + (i % 3)};${61 + (i % 3)}\n`,
        ).join(''),
      ),
    );
    expect(unclear.code).toBe(1);
    expect(unclear.errors[0]).toMatch(/A person has to look at the columns first.*column 1 .*column 4 /);
  });
});
