import { describe, expect, it } from 'vitest';
import type { RunEntry, RunHeader } from '../../../shared/measurement/run.ts';
import { decodeEntry, decodeHeader, encodeEntry, encodeHeader } from '../../../shared/measurement/run-format.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import type { Reading } from '../../../shared/measurement/state.ts';
import { createRunFold } from '../../../shared/pipeline/fold-run.ts';
import { type FoldSettings, type RunFold } from '../../../shared/pipeline/run-fold.ts';
import { typedRecipe, writeTyped } from '../../../shared/pipeline/typed-line.ts';
import { burnerLines, columnsRecipe, lineEntries, runHeader } from '../../helpers/ports/run-lines.ts';

const fold = (entries: RunEntry[], header: RunHeader = runHeader(), during?: (fold: RunFold) => void) => {
  const samples: Sample[] = [];
  const readings: Reading[] = [];
  const run = createRunFold(header, {}, { sample: (sample) => samples.push(sample), reading: (reading) => readings.push(reading) });
  for (const entry of entries) {
    run.push(entry);
    during?.(run);
  }
  return { run, samples, readings };
};
const warmUp = lineEntries(burnerLines({ seconds: 900, seed: 5 }));

describe('the chain of a run', () => {
  it('keeps CO out after a banner says that it is corrected, over an unplugging too', () => {
    const banner: RunEntry = { kind: 'line', timeMs: 300_500, bytes: 'CO corrected to 3% O2' };
    const gap: RunEntry = { kind: 'gap', timeMs: 400_500, gap: { reason: 'unplugged', fromMs: 400_000 } };
    const { samples } = fold([...warmUp, banner, gap].sort((one, other) => one.timeMs - other.timeMs));
    const seen = (fromMs: number, toMs: number) =>
      samples.filter(({ timeMs }) => timeMs > fromMs && timeMs < toMs).map(({ values, absent }) => values.co ?? absent?.co);
    expect(seen(200_000, 300_000).every((one) => typeof one === 'number')).toBe(true);
    expect(new Set(seen(301_000, 400_000))).toEqual(new Set(['corrected']));
    expect(new Set(seen(405_000, 800_000))).toEqual(new Set(['corrected']));
  });
  it('computes with the CO2max that was set, from when it was set, and the same to the last digit when the file is read again', () => {
    const change = (timeMs: number, what: object): RunEntry => ({ kind: 'change', timeMs, change: what });
    const at = (atMs: number, ...entries: RunEntry[]) => {
      const upTo = [...warmUp, ...entries].filter(({ timeMs }) => timeMs <= atMs).sort((a, b) => a.timeMs - b.timeMs);
      const read = upTo.map((entry) => decodeEntry(encodeEntry(entry).slice(0, -1)) as RunEntry);
      const [live, again] = [fold(upTo).run.derived(atMs), fold(read).run.derived(atMs)];
      expect(again).toEqual(live);
      return live.values.co2MaxPercent;
    };
    const own = at(800_000);
    expect(own).toBeCloseTo(15.494, 2);
    expect(at(800_000, change(700_000, { co2MaxPercent: 15.2 }))).toBe(15.2);
    expect(at(600_000, change(700_000, { co2MaxPercent: 15.2 }))).toBe(own);
    expect(at(800_000, change(700_000, { co2MaxPercent: 15.2 }), change(750_000, { co2MaxPercent: null }))).toBe(own);
    // another fuel has another one; the same fuel said again does not
    expect(at(800_000, change(700_000, { co2MaxPercent: 15.2 }), change(750_000, { fuelId: 'no1' }))).toBeCloseTo(15.281, 2);
    expect(at(800_000, change(700_000, { co2MaxPercent: 15.2 }), change(750_000, { fuelId: 'no2' }))).toBe(15.2);
    const stored = decodeHeader(encodeHeader(runHeader({ co2MaxPercent: 15.2 })).slice(0, -1));
    expect(stored.ok && fold(warmUp, stored.value).run.derived(900_000).values.co2MaxPercent).toBe(15.2);
  });

  it('gives a reading of the warm burner, which is what the plain mean of the same lines says', () => {
    const { run } = fold(warmUp);
    const reading = run.readings().find(({ scope }) => scope === 'full');
    expect(reading).toBeDefined();
    const { fromMs, toMs, channels } = reading as Reading;
    const inside = warmUp.flatMap((entry) =>
      entry.kind === 'line' && entry.timeMs > 0 && entry.timeMs >= fromMs && entry.timeMs <= toMs
        ? [entry.bytes.split(',').map(Number)]
        : [],
    );
    const mean = (column: number) => inside.reduce((sum, row) => sum + (row[column] as number), 0) / inside.length;
    // a robust mean of quantised values: half a quantisation step and the odd spike
    expect(Math.abs((channels.o2?.mean ?? 0) - mean(1))).toBeLessThan(0.1);
    expect(Math.abs((channels.stackTemperature?.mean ?? 0) - mean(3))).toBeLessThan(0.5);
  });

  it('gives the same to the last digit when the stored text is read again, ticks or no ticks', () => {
    const marks: RunEntry[] = [
      {
        kind: 'mark',
        timeMs: 400_000,
        mark: {
          id: 'm',
          timeMs: 399_000,
          body: { kind: 'adjustment', setting: { stage: '1', positions: [{ name: 'Shutter', value: 5 }] } },
        },
      },
    ];
    const entries = [...warmUp, ...marks].sort((a, b) => a.timeMs - b.timeMs);
    entries.push({ kind: 'gap', timeMs: 905_000, gap: { reason: 'unplugged', fromMs: 900_000 } }, { kind: 'end', timeMs: 906_000 });
    const live = fold(entries, runHeader(), (run) => run.tick(run.timeMs + 700));
    const again = fold(entries.map((entry) => decodeEntry(encodeEntry(entry).slice(0, -1)) as RunEntry));
    expect(again.readings.length).toBeGreaterThan(0);
    expect(again.readings).toEqual(live.readings);
    expect(again.samples).toEqual(live.samples);
    for (const { run } of [live, again]) run.tick(909_000);
    expect(again.run.derived(906_000)).toEqual(live.run.derived(906_000));
  });

  it('reads lines that came before the recipe as if it had been there, marks included', () => {
    const mark: RunEntry = { kind: 'mark', timeMs: 20_000, mark: { id: 'm', timeMs: 20_000, body: { kind: 'note', text: 'lit' } } };
    const [first, rest] = [warmUp.slice(0, 40), warmUp.slice(40)];
    const known = fold([...first, mark, ...rest]);
    const { recipe, ...without } = runHeader();
    expect(recipe).toBe(columnsRecipe);
    const shown: string[] = [];
    const learned = createRunFold(without, {}, { mark: ({ id }) => shown.push(id) });
    for (const entry of [...first, mark]) learned.push(entry);
    expect(learned.isLearning).toBe(true);
    expect(learned.counters).toMatchObject({ lines: 40, understood: 0 });
    expect(shown).toEqual(['m']); // a mark does not wait for the recipe to be seen
    learned.push({ kind: 'change', timeMs: 40_000, change: { recipe: columnsRecipe } });
    for (const entry of rest) learned.push(entry);
    expect(shown).toEqual(['m']);
    expect(learned.counters).toEqual(known.run.counters);
    expect(learned.readings()).toEqual(known.run.readings());
  });

  it('counts what it does not understand and gives no sample for it', () => {
    const { run, samples } = fold(
      lineEntries([
        { timeMs: 0, bytes: '0,4.2,12,180,20' },
        { timeMs: 1000, bytes: 'garbage' },
        { timeMs: 2000, bytes: '\xff\x00\x01' },
      ]),
    );
    expect(samples).toHaveLength(1);
    expect(run.counters).toMatchObject({ lines: 3, understood: 1, rejected: 2, bytes: 25, lastGoodMs: 0 });
  });

  const port: RunHeader['source'] = {
    kind: 'serial',
    path: 'P',
    label: 'P',
    settings: { baud: 9600, dataBits: 8, parity: 'none', stopBits: 1, flow: 'none', dtr: true, rts: true, hangUpOnClose: true },
  };
  it('does not believe the first line of a port when it comes at once, but does when the line was quiet before', () => {
    const lines = lineEntries([
      { timeMs: 30, bytes: '0,2,12,180,20' },
      { timeMs: 1030, bytes: '0,4.2,12,180,20' },
    ]);
    expect(fold(lines, runHeader({ source: port })).samples.map(({ values }) => values.o2)).toEqual([4.2]);
    const late = lines.map((entry) => ({ ...entry, timeMs: entry.timeMs + 400 }));
    expect(fold(late, runHeader({ source: port })).samples).toHaveLength(2);
    const back: RunEntry[] = [
      ...late,
      { kind: 'gap', timeMs: 9000, gap: { reason: 'unplugged', fromMs: 1500 } },
      { kind: 'line', timeMs: 9001, bytes: '0,2,12,180,20' },
    ];
    const { run, samples } = fold(back, runHeader({ source: port }));
    expect(samples).toHaveLength(2);
    expect(run.gaps.all).toEqual([{ fromMs: 1500, toMs: 9000, reason: 'unplugged' }]);
  });

  it('blanks the efficiency when a channel it needs is absent, and takes a typed air temperature', () => {
    const lines = lineEntries(Array.from({ length: 30 }, (_, i) => ({ timeMs: i * 1000, bytes: `${i},4.2,12,180,` })));
    expect(fold(lines).run.derived(30_000).blank.efficiencyHhvPercent).toBe('no-air-temperature');
    expect(fold(lines, runHeader({ typedAirC: 20 })).run.derived(30_000).values.netStackC).toBeCloseTo(160, 0);
    const late = fold([...lines, { kind: 'change', timeMs: 29_500, change: { typedAirC: 30 } }]).run;
    expect(late.typedAirC).toBe(30);
  });

  it('goes on with what has settled when an air temperature is typed', () => {
    const lines = lineEntries(Array.from({ length: 300 }, (_, i) => ({ timeMs: i * 1000, bytes: `${i},4.2,12,180,` })));
    const typed: RunEntry = { kind: 'change', timeMs: 250_500, change: { typedAirC: 20 } };
    const { run } = fold([...lines, typed].sort((a, b) => a.timeMs - b.timeMs));
    const full = run.readings().filter(({ scope }) => scope === 'full');
    expect(full).toHaveLength(1);
    expect(full[0]!.final).toBe(false);
    expect(full[0]!.channels.airTemperature).toMatchObject({ mean: 20, typed: true });
  });

  it('does not use samples while the run is paused', () => {
    const pause = (timeMs: number, on: boolean): RunEntry => ({
      kind: 'mark',
      timeMs,
      mark: { id: `p${timeMs}`, timeMs, body: { kind: 'pause', on } },
    });
    const entries = [...warmUp, pause(100_000, true), pause(880_000, false)].sort((a, b) => a.timeMs - b.timeMs);
    const { run } = fold(entries);
    expect(run.excluded.all.filter(({ reason }) => reason === 'paused')).toEqual([
      { fromMs: 100_000, toMs: expect.any(Number), reason: 'paused' },
    ]);
    expect(run.readings().filter(({ takenMs }) => takenMs > 100_000 && takenMs < 880_000)).toEqual([]);
  });

  it('keeps typed values and takes them as a reading', () => {
    const bytes = writeTyped({ stackTemperature: 210.5, o2: 4.2, draft: -5 });
    expect(bytes).toBe('o2=4.2 stackTemperature=210.5 draft=-5');
    const { run } = fold(
      [
        { kind: 'line', timeMs: 10, bytes },
        { kind: 'take', timeMs: 20, readingId: 'x' },
      ],
      runHeader({ source: { kind: 'typed' }, recipe: typedRecipe }),
    );
    expect(run.lastTaken).toMatchObject({ id: 'x', scope: 'full', settled: true, channels: { o2: { mean: 4.2, typed: true } } });
  });

  it('knows the setting after marks, moves and undoings', () => {
    const set = (id: string, timeMs: number, value: number): RunEntry => ({
      kind: 'mark',
      timeMs,
      mark: { id, timeMs, body: { kind: 'adjustment', setting: { stage: '1', positions: [{ name: 'Shutter', value }] } } },
    });
    const { run } = fold([set('a', 10, 5), set('b', 20, 6)]);
    const shutter = () => run.setting()?.positions[0]?.value;
    expect(shutter()).toBe(6);
    run.push({ kind: 'edit', timeMs: 30, edit: { kind: 'moved', markId: 'b', timeMs: 5 } });
    expect(shutter()).toBe(5);
    run.push({ kind: 'edit', timeMs: 40, edit: { kind: 'undone', markId: 'a' } });
    expect(shutter()).toBe(6);
  });
});

describe('what a run was measured with', () => {
  const narrow: NonNullable<RunHeader['measuredWith']> = {
    bands: { o2Percent: 0.02, coPpm: 1, coShare: 0, stackK: 0.2, airK: 0.2 },
    tolerances: { o2Percent: 1, coPpm: 50, coShare: 0, stackK: 8, airK: 4, fuelPoints: 1 },
    mode: 'own',
  };
  const offers = (header: RunHeader, settings: FoldSettings) => {
    const run = createRunFold(header, settings);
    warmUp.forEach((entry) => run.push(entry));
    return { readings: run.readings(), half: run.derived(900_000).expanded.efficiencyHhvPercent };
  };

  it('stays with the file: another day’s settings change nothing', () => {
    const header = decodeHeader(encodeHeader(runHeader({ measuredWith: narrow })));
    if (!header.ok) throw new Error(header.error.code);
    expect(offers(header.value, {})).toEqual(offers(runHeader(), narrow));
    expect(offers(header.value, {}).half).not.toBe(offers(runHeader(), {}).half);
  });

  it('is taken from the settings of the day for a file that does not say', () => {
    expect(offers(runHeader(), narrow)).not.toEqual(offers(runHeader(), {}));
  });

  it('a reading’s own u is the tolerance in force over the root of three (JCGM 100:2008, 4.3.7), with the spread of its mean', () => {
    const sensorPart = (settings: FoldSettings) => {
      const full = offers(runHeader(), settings).readings.find(({ scope }) => scope === 'full');
      const part = (channel: 'o2' | 'co' | 'stackTemperature' | 'airTemperature') => {
        const { u, sd, nEff } = full!.channels[channel]!;
        return Math.sqrt(u * u - (sd * sd) / nEff);
      };
      return [part('o2'), part('co'), part('stackTemperature'), part('airTemperature')];
    };
    const wide = sensorPart({ ...narrow, bands: undefined });
    [1, 50, 8, 4].forEach((halfWidth, index) => expect(wide[index]).toBeCloseTo(halfWidth / Math.sqrt(3), 6));
    const usual = sensorPart({});
    [0.3, 20, 2, 1].forEach((halfWidth, index) => expect(usual[index]).toBeCloseTo(halfWidth / Math.sqrt(3), 6));
  });

  it('a file of version 1 opens with its bands, whose names were others', () => {
    const { bands, ...same } = narrow;
    const old = { o2Percent: bands.o2Percent, coPpm: bands.coPpm, coFraction: bands.coShare, stackC: bands.stackK, airC: bands.airK };
    const line = JSON.stringify({ ...runHeader(), version: 1, measuredWith: { ...same, bands: old } });
    const header = decodeHeader(line);
    if (!header.ok) throw new Error(header.error.code);
    expect(header.value.measuredWith).toEqual(narrow);
    expect(offers(header.value, {})).toEqual(offers(runHeader(), narrow));
  });

  it('figures typed from the display carry the tolerance too', () => {
    const header = runHeader({ source: { kind: 'typed' }, recipe: typedRecipe, measuredWith: narrow });
    const run = createRunFold(header, {});
    run.push({ kind: 'line', timeMs: 10, bytes: writeTyped({ o2: 5, co: 30, stackTemperature: 210, airTemperature: 20 }) });
    run.push({ kind: 'take', timeMs: 20, readingId: 't1' });
    const channels = run.readings()[0]!.channels;
    expect(channels.o2!.u).toBeCloseTo(1 / Math.sqrt(3), 9);
    expect(channels.co!.u).toBeCloseTo(50 / Math.sqrt(3), 9);
    expect(channels.stackTemperature!.u).toBeCloseTo(8 / Math.sqrt(3), 9);
  });
});
