/**
 * Law 12: no value is taken for a channel that its name or unit excludes, and no question that is still open is passed over.
 * Property: the columns of tables of every kind are shuffled, renamed and given other units; whatever is learned from them, and
 * whatever a question suggests, no channel comes from a column whose own name or unit says otherwise.
 */
import { describe, expect, it } from 'vitest';
import { learn } from '../../shared/lines/learn.ts';
import type { ChannelId } from '../../shared/measurement/channel.ts';
import { judgeLines } from '../../shared/pipeline/propose.ts';
import { seeded } from '../shared/lines/shapes/corpus.ts';
import { fieldShapes, linesOf } from '../shared/lines/score-field.ts';
import { ownShapes } from '../shared/lines/shapes/own-field-shapes.ts';
import { boilerShapes } from '../shared/lines/shapes/boiler-shapes.ts';

const TRIALS = 2000;

/** Heads that can never be a channel, by their name or by their unit; written here, not taken from the learner. */
const neverNames = [
  'Sample mass [g]', 'CO mass [mg]', 'O2 mass [kg]', 'Fuel [kg]', 'Gewicht [kg]', 'poids (g)', 'Battery [V]', 'CO sensor [mV]', 'O2 cell [mV]',
  'Heat release [kW/m2]', 'Extinction [1/m]', 'Fan [rpm]', 'Humidity [%]', 'Feuchte (%)', 'CO raw', 'O2 counts', 'CO2 adc', 'CO alarm', 'O2 fault flag',
  'Oxygen flow [l/min]', 'Gas flow (m3/h)', 'Valve position [%]', 'Set point [%]', 'lambda', 'O2_1 [lambda]', 'Boiler water temp [C]', 'Kessel [°C]',
  'Board temp [C]', 'COtemp [degC]', 'Surface temperature [K]', 'PM2.5 [ug/m3]', 'CO background', 'O2 gain', 'Serial number', 'Pressure [hPa]', 'Voltage',
  'Power [W]', 'debit (l/min)', 'peso [kg]', 'umidita (%)',
] as const; // oxfmt-ignore
const sayings: readonly (readonly [ChannelId, readonly string[], readonly string[]])[] = [
  ['o2', ['O2', 'oxygen', 'Sauerstoff', 'Oxígeno', 'Ossigeno'], ['%', 'vol%']],
  ['co', ['CO', 'carbon monoxide', 'Kohlenmonoxid'], ['ppm', '%']],
  ['stackTemperature', ['Stack temp', 'Flue gas temperature', 'Abgastemperatur', 'T fumées', 'T fumi'], ['°C', 'K', 'degF']],
  ['airTemperature', ['Ambient temp', 'Verbrennungsluft', 'T ambiante', 'T aria'], ['°C', 'K', 'degF']],
];
const excluding = ['g', 'kg', 'V', 'rpm', 'kW/m2', 'counts', 'l/min', 'mA', 'lambda'] as const;

const cells: Record<string, (at: number, random: () => number) => string> = {
  o2: (at) => (5 + Math.sin(at / 9)).toFixed(1),
  co: (at, random) => String(Math.round(40 + 9 * Math.sin(at / 7) + random() * 4)),
  stack: (at) => (80 + 130 * (1 - Math.exp(-at / 40))).toFixed(1),
  air: (at) => (21 + at / 300).toFixed(1),
  mass: (at) => (812 - at * 0.3).toFixed(2),
  flow: (at, random) => (12 + random()).toFixed(2),
};
const kinds = Object.keys(cells);

describe('law 12: a name or a unit that excludes a channel counts for ever', () => {
  it(`holds over ${TRIALS} tables of shuffled, renamed and re-united columns`, () => {
    for (let trial = 0; trial < TRIALS; trial++) {
      const random = seeded(12_000 + trial);
      const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;
      const count = 2 + Math.floor(random() * 7);
      const columns = Array.from({ length: count }, () => {
        const kind = pick(kinds);
        const roll = random();
        if (roll < 0.45) return { head: pick(neverNames) as string, allowed: undefined, kind };
        const [channel, names, units] = pick(sayings);
        // the name of a channel, with a unit that it can never have
        if (roll < 0.7) return { head: `${pick(names)} [${pick(excluding)}]`, allowed: undefined, kind };
        return { head: `${pick(names)} [${pick(units)}]`, allowed: channel, kind };
      });
      const delimiter = pick([',', ';', '\t']);
      const unitsApart = random() < 0.3;
      const split = (head: string): [string, string] => [head.replace(/\s*[[(].*$/, ''), /[[(](.*?)[\])]/.exec(head)?.[1] ?? ''];
      const heads = unitsApart
        ? [
            ['time', ...columns.map(({ head }) => split(head)[0])],
            ['s', ...columns.map(({ head }) => split(head)[1])],
          ]
        : [['time', ...columns.map(({ head }) => head)]];
      const rows = Array.from({ length: 40 }, (_, at) => [
        String(at),
        ...columns.map(({ kind }) => (cells[kind] as (typeof cells)[string])(at, random)),
      ]);
      const lines = [...heads, ...rows].map((row, at) => ({ bytes: row.join(delimiter), timeMs: at * 1000 }));
      for (const { recipe } of learn(lines).proposals) {
        if (recipe.shape.kind !== 'columns') continue;
        for (const { channel, at } of recipe.fields) {
          const column = typeof at === 'number' ? columns[at - 1] : undefined;
          if (column === undefined || !['o2', 'co', 'co2', 'stackTemperature', 'airTemperature'].includes(channel)) continue;
          expect(column.allowed, `trial ${trial}: ${channel} from '${column.head}'`).toBe(channel);
        }
      }
    }
  });

  it('holds when the columns of the field shapes are shuffled: the same channels come from the same columns, or a person is asked', () => {
    for (const shape of [...fieldShapes(), ...ownShapes]) {
      const lines = linesOf(shape.bytes).map(({ line }) => line);
      const delimiter = [';', '\t', ','].find((one) => (lines.at(-1)?.bytes.split(one).length ?? 0) > 2);
      if (delimiter === undefined || shape.rows.length === 0 || lines.some(({ bytes }) => bytes.includes('"'))) continue;
      const before = judgeLines(lines);
      const count = lines.at(-1)?.bytes.split(delimiter).length ?? 0;
      const random = seeded(count);
      const order = Array.from({ length: count }, (_, at) => at)
        .map((at) => ({ at, by: random() }))
        .sort((a, b) => a.by - b.by)
        .map(({ at }) => at);
      const shuffled = lines.map((line) => {
        // names behind a hash go with their columns
        const [hash = ''] = /^#\s*/.exec(line.bytes) ?? [];
        const row = line.bytes.slice(hash.length).split(delimiter);
        return row.length === count ? { ...line, bytes: hash + order.map((at) => row[at]).join(delimiter) } : line;
      });
      const after = judgeLines(shuffled);
      if (after.kind !== 'adopt') continue;
      for (const { channel, at } of after.proposal.recipe.fields) {
        if (before.kind !== 'adopt' || typeof at !== 'number') continue;
        const was = before.proposal.recipe.fields.find((field) => field.channel === channel);
        expect(was?.at, `${shape.name}: ${channel}`).toBe(order[at]);
      }
    }
  });
});

describe('law 12: what was a channel is none under another unit or inside another thing', () => {
  const main: readonly ChannelId[] = ['o2', 'co', 'co2', 'stackTemperature', 'airTemperature'];

  it('holds for every named column of every field shape, re-united one after the other', () => {
    let tried = 0;
    for (const shape of [...fieldShapes(), ...ownShapes, ...boilerShapes]) {
      const lines = linesOf(shape.bytes)
        .map(({ line }) => line)
        .slice(0, 120);
      const [proposal] = learn(lines).proposals;
      const form = proposal?.recipe.shape;
      if (proposal === undefined || form?.kind !== 'columns' || form.header === undefined || form.delimiter.length > 1) continue;
      const { delimiter, header } = form;
      const namesAt = lines.findIndex(({ bytes }) => bytes.split(delimiter).filter((cell, at) => cell.trim() === header[at]).length > 1);
      if (namesAt < 0 || (lines[namesAt]?.bytes.includes('"') ?? true)) continue;
      for (const { channel, at } of proposal.recipe.fields) {
        if (!main.includes(channel) || typeof at !== 'number') continue;
        const unit = excluding[(at + tried) % excluding.length] ?? 'kg';
        // a row of units says it where there is one, else the name does
        const beside = [namesAt - 1, namesAt + 1].filter((row) => {
          const cell = lines[row]?.bytes.split(delimiter)[at]?.trim() ?? '';
          return cell !== '' && !/^["<>+-]*[.,]?\d/.test(cell) && !/^(nan|n\/a|u|-+)$/i.test(cell);
        });
        const changed = lines.map((line, row) => {
          const cells = line.bytes.split(delimiter);
          if (beside.includes(row)) cells[at] = beside.length > 0 ? unit : (cells[at] ?? '');
          else if (row === namesAt) cells[at] = `${(cells[at] ?? '').replace(/\s*[[(/].*$/, '')} [${unit}]`;
          return { ...line, bytes: cells.join(delimiter) };
        });
        tried += 1;
        for (const { recipe } of learn(changed).proposals) {
          const taken = recipe.fields.filter((field) => recipe.shape.kind === 'columns' && main.includes(field.channel) && field.at === at);
          expect(taken, `${shape.name}: '${header[at]}' in ${unit}`).toEqual([]);
        }
      }
    }
    expect(tried).toBeGreaterThan(60);
  });

  it.each(['room', 'limits', 'setpoint', 'battery', 'water', 'background'])('holds for values inside {"%s": ...}', (thing) => {
    const text = (at: number): string =>
      JSON.stringify({ s: at, flue: { o2: cells['o2']?.(at, () => 0) }, [thing]: { co: 40 + (at % 9), temp: 160 + at / 9 } });
    const lines = Array.from({ length: 60 }, (_, at) => ({ bytes: text(at), timeMs: at * 1000 }));
    for (const { recipe } of learn(lines).proposals)
      for (const { channel, at } of recipe.fields)
        if (['co', 'stackTemperature'].includes(channel)) expect(at, `${channel} in ${thing}`).not.toContain(thing);
  });
});

describe('law 12: an open question is never passed over', () => {
  it('adopts nothing from a shape that is open, live or from a file', () => {
    for (const shape of [...fieldShapes(), ...ownShapes].filter(({ expect: kind }) => kind !== 'read')) {
      const judged = judgeLines(linesOf(shape.bytes).map(({ line }) => line));
      expect(judged.kind, shape.name).not.toBe('adopt');
    }
  });
});
