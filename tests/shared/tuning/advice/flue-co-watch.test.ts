import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fuels } from '../../../../shared/combustion/fuel.ts';
import type { Sample } from '../../../../shared/measurement/sample.ts';
import { flueCoAlarm } from '../../../../shared/tuning/advice/alarms.ts';
import { flueCoDefaults } from '../../../../shared/tuning/advice/cautions.ts';
import { newFlueCoWatch, watchFlueCo, type FlueCoWatch } from '../../../../shared/tuning/advice/flue-co-watch.ts';
import { burnerLines } from '../../../helpers/ports/run-lines.ts';

type Line = { s: number; o2?: number; co?: number; co2?: number; absent?: Sample['absent']; isAir?: boolean };
const sampleOf = ({ s, o2, co, co2, absent }: Line): Sample => ({
  timeMs: Math.round(s * 1000),
  values: { ...(o2 !== undefined && { o2 }), ...(co !== undefined && { co }), ...(co2 !== undefined && { co2 }) },
  ...(absent !== undefined && { absent }),
});
const step = (watch: FlueCoWatch, line: Line, more: { isTyped?: boolean; limits?: typeof flueCoDefaults } = {}): FlueCoWatch =>
  watchFlueCo(watch, {
    kind: 'line',
    sample: sampleOf(line),
    fuel: fuels.no2,
    limits: flueCoDefaults,
    isAir: line.isAir === true,
    isTyped: false,
    ...more,
  });
const steps = (lines: readonly Line[]): FlueCoWatch[] => {
  let watch = newFlueCoWatch;
  return lines.map((line) => (watch = step(watch, line)));
};
/** one line a second */
const stretch = (fromS: number, toS: number, of: (s: number) => Omit<Line, 's'>): Line[] =>
  Array.from({ length: toS - fromS }, (_, index) => ({ s: fromS + index, ...of(fromS + index) }));
const air = (fromS: number, toS: number): Line[] => stretch(fromS, toS, () => ({ o2: 20.9, co: 0 }));
const levels = (watches: readonly FlueCoWatch[]): string[] => watches.map(({ level }) => level);

describe('CO in the flue', () => {
  it('is judged by the newest line, air-free: 20.9/(20.9 - O2), the usual trade form', () => {
    // 300 ppm at 5 % O2: 300 x 20.9/15.9 = 394; at 6 %: 300 x 20.9/14.9 = 421
    expect(steps([{ s: 0, o2: 5, co: 300 }]).at(-1)).toMatchObject({ level: 'notice', isAirFree: true });
    expect(steps([{ s: 0, o2: 6, co: 300 }]).at(-1)).toMatchObject({ level: 'alarm' });
    expect(steps([{ s: 0, o2: 5, co: 12 }]).at(-1)?.level).toBe('clear');
  });
  it('takes the mean of the last second where lines come faster', () => {
    const lines = [0, 0.2, 0.4, 0.6].map((s, index) => ({ s, o2: 5, co: index === 3 ? 400 : 300 }));
    // mean 325 x 1.3145 = 427
    expect(steps(lines).at(-1)?.ppm).toBeCloseTo((325 * 20.9) / 15.9, 6);
  });
  it('is judged as measured where air-free is not defined, and from CO2 where there is no O2', () => {
    expect(steps([{ s: 0, o2: 17, co: 450 }]).at(-1)).toMatchObject({ level: 'alarm', isAirFree: false, ppm: 450 });
    // 8 % CO2 of No.2 oil is about 10 % O2: 250 ppm are about 480 air-free
    expect(steps([{ s: 0, co2: 8, co: 250 }]).at(-1)).toMatchObject({ level: 'alarm', isAirFree: true });
  });
  it('over the range of the cell is an alarm, at light-off too', () => {
    const over: Line = { s: 11, o2: 8, absent: { co: 'over-range' } };
    expect(steps([...air(0, 10), { s: 10, o2: 12, co: 200 }, over]).at(-1)).toMatchObject({ level: 'alarm', overRange: true });
  });
  it('stays an alarm while the cell says nothing, until it reads again', () => {
    const watches = steps([
      { s: 0, o2: 5, co: 900 },
      { s: 1, o2: 5, absent: { co: 'error' } },
      { s: 30, o2: 5 },
      { s: 31, o2: 5, co: 20 },
    ]);
    expect(levels(watches)).toEqual(['alarm', 'alarm', 'alarm', 'clear']);
  });
  it('is none in air, and none while nothing is measured', () => {
    expect(
      steps([
        { s: 0, o2: 5, co: 900 },
        { s: 1, o2: 20.5, co: 600, isAir: true },
      ]).at(-1)?.level,
    ).toBe('clear');
    const alarmed = steps([{ s: 0, o2: 5, co: 900 }]).at(-1) as FlueCoWatch;
    expect(watchFlueCo(alarmed, { kind: 'not-measured' }).level).toBe('clear');
    expect(watchFlueCo(alarmed, { kind: 'broken' }).level).toBe('clear');
  });
});

describe('the spike at light-off', () => {
  const falling = (s: number): Omit<Line, 's'> => ({ o2: 7, co: Math.max(15, 1500 * Math.exp(-(s - 12) / 8)) });
  const start = [...air(0, 10), { s: 10, o2: 16, co: 100 }, { s: 11, o2: 10, co: 700 }];

  it('is a notice while it falls, and is gone when it is below the notice', () => {
    const seen = levels(steps([...start, ...stretch(12, 72, falling)]));
    expect(seen).not.toContain('alarm');
    expect(seen).toContain('notice');
    expect(seen.at(-1)).toBe('clear');
  });
  it('says its highest value', () => {
    const alarm = flueCoAlarm('run', steps([...start, ...stretch(12, 20, falling)]).at(-1) as FlueCoWatch);
    expect(alarm).toMatchObject({ level: 'notice', spikePeakPpm: Math.round((1500 * 20.9) / 13.9) });
  });
  it('that does not fall is the alarm within half a minute', () => {
    const watches = steps([...start, ...stretch(12, 60, () => ({ o2: 7, co: 800 }))]);
    const at = watches.findIndex(({ level }) => level === 'alarm');
    expect(at).toBeGreaterThan(start.length);
    expect(at).toBeLessThanOrEqual(11 + 31);
  });
  it('that comes back is the alarm at once', () => {
    const back = steps([...start, ...stretch(12, 35, falling), { s: 35, o2: 7, co: 700 }]);
    expect(levels(back).slice(0, -1)).not.toContain('alarm');
    expect(back.at(-1)?.level).toBe('alarm');
    const risen = steps([...start, ...stretch(12, 20, falling), { s: 20, o2: 7, co: 1100 }]);
    expect(risen.at(-1)?.level).toBe('alarm');
  });
  it('that falls slowly is the alarm after a minute of flue gas', () => {
    const slow = steps([...start, ...stretch(12, 90, (s) => ({ o2: 7, co: 1500 - 12 * (s - 12) }))]);
    expect(slow.findIndex(({ level }) => level === 'alarm')).toBe(10 + 60);
  });
  it('is not looked for where no start was seen: a step in flue gas is the alarm with the line that earns it', () => {
    const step12to650 = [...stretch(0, 20, () => ({ o2: 5, co: 12 })), { s: 20, o2: 5, co: 650 }];
    expect(levels(steps(step12to650)).slice(-2)).toEqual(['clear', 'alarm']);
    // one line of air is no burner that was off
    expect(
      steps([
        { s: 0, o2: 5, co: 12 },
        { s: 1, o2: 20.9, co: 12 },
        { s: 2, o2: 5, co: 650 },
      ]).at(-1)?.level,
    ).toBe('alarm');
  });
  it('is none after fresh air in the middle of an alarm', () => {
    const purge = [{ s: 0, o2: 5, co: 650 }, ...air(1, 40), { s: 40, o2: 5, co: 650 }];
    expect(steps(purge).at(-1)?.level).toBe('alarm');
  });
  it.each(['not-measured', 'broken'] as const)(
    'is none after an alarm that the lines broke off in (%s), and a short look at air',
    (kind) => {
      const alarmed = step(newFlueCoWatch, { s: 0, o2: 5, co: 650 });
      // paused and then unplugged: both are told one after the other
      for (const events of [[{ kind }], [{ kind: 'not-measured' } as const, { kind }]]) {
        let watch = events.reduce(watchFlueCo, alarmed);
        for (const line of air(1, 40)) watch = step(watch, line);
        expect(step(watch, { s: 40, o2: 5, co: 650 }).level).toBe('alarm');
        // after two minutes of air it is a new start, whatever was before
        for (const line of air(40, 200)) watch = step(watch, line);
        expect(step(watch, { s: 200, o2: 5, co: 650 }).level).toBe('notice');
      }
    },
  );
  it('is none in what is typed from a display', () => {
    let watch = newFlueCoWatch;
    for (const line of [...air(0, 10), { s: 10, o2: 6, co: 900 }]) watch = step(watch, line, { isTyped: true });
    expect(watch.level).toBe('alarm');
  });
  it('of a healthy simulated burner never is an alarm, and does not last', () => {
    for (let seed = 1; seed <= 12; seed++) {
      const watches = steps(
        burnerLines({ seconds: 300, seed }).flatMap(({ timeMs, bytes }): Line[] => {
          const [, o2, co] = bytes.split(',').map(Number);
          return o2 === undefined || co === undefined || Number.isNaN(o2 + co) ? [] : [{ s: timeMs / 1000, o2, co }];
        }),
      );
      expect(levels(watches), `seed ${seed}`).not.toContain('alarm');
      expect(watches.at(-1)?.level).toBe('clear');
    }
  });
  it('hides nothing for longer than a minute of flue gas, whatever the lines are', () => {
    const line = fc.record({ o2: fc.constantFrom(3, 8, 14, 16, 20.9), co: fc.constantFrom(0, 90, 500, 900, 2500) });
    fc.assert(
      fc.property(fc.array(line, { minLength: 80, maxLength: 200 }), (lines) => {
        const all = [...air(0, 5), ...lines.map((one, index) => ({ s: 5 + index, ...one }))];
        const watches = steps(all);
        let gas = 0;
        all.forEach(({ o2 = 21, co = 0 }, index) => {
          gas = o2 >= 18 ? 0 : gas + 1;
          const earned = (o2 <= 15 ? (co * 20.9) / (20.9 - o2) : co) >= 400;
          if (gas > 61 && earned) expect(watches[index]?.level).toBe('alarm');
        });
      }),
      { numRuns: 300 },
    );
  });
});
