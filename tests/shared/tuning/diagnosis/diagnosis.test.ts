import { describe, expect, it } from 'vitest';
import type { Sample } from '../../../../shared/measurement/sample.ts';
import { diagnose } from '../../../../shared/tuning/diagnosis/diagnose.ts';
import { stepKind } from '../../../../shared/tuning/diagnosis/dilution.ts';
import { goertzelPower, strongestLine } from '../../../../shared/tuning/diagnosis/flutter.ts';
import { trendOf } from '../../../../shared/tuning/diagnosis/stream.ts';
import { makeTrial } from '../make-trial.ts';

/** Deterministic noise in -1..1. @source Park & Miller, Comm. ACM 31 (1988) 1192 */
function noiseFrom(seed: number): () => number {
  let state = seed;
  return () => 2 * ((state = (state * 16_807) % 2_147_483_647) / 2_147_483_647) - 1;
}
type Values = { o2: number; co: number; stackTemperature: number; airTemperature?: number; draft?: number };

/** One sample a second, a little noise, O2 to 0.1, CO to 1. */
function stream(seconds: number, at: (second: number) => Values | undefined): Sample[] {
  const noise = noiseFrom(7);
  return Array.from({ length: seconds }, (_, second): Sample | undefined => {
    const values = at(second);
    if (!values) return undefined;
    const { o2, co, stackTemperature, airTemperature = 20, draft } = values;
    return {
      timeMs: second * 1000,
      values: {
        o2: Math.round((o2 + 0.04 * noise()) * 10) / 10,
        co: Math.round(co + 0.8 * noise()),
        stackTemperature: stackTemperature + 0.3 * noise(),
        airTemperature,
        ...(draft === undefined ? {} : { draft: draft + 0.3 * noise() }),
      },
    };
  }).filter((sample) => sample !== undefined);
}
const calm: Values = { o2: 5, co: 12, stackTemperature: 210, draft: -12 };
const facts = { trials: [], judgedIds: [], earlier: [], adjustmentsMs: [] };
const patterns = (samples: Sample[], more: Partial<Parameters<typeof diagnose>[0]> = {}): string[] =>
  diagnose({ ...facts, samples, ...more }).map((hint) => hint.pattern);

describe('patterns in the stream', () => {
  it('gives a healthy burner no hint', () => {
    expect(patterns(stream(1200, () => calm))).toEqual([]);
  });
  it('gives a marked step none, but the same step without a mark is a question elsewhere, not dilution, when the stack moves with it', () => {
    const step = stream(900, (s) => (s < 400 ? calm : { ...calm, o2: 6.7, co: 11, stackTemperature: 222 }));
    expect(patterns(step, { adjustmentsMs: [400_000] })).toEqual([]);
    expect(patterns(step)).not.toContain('dilution');
  });
  it('sees dilution: O2 and CO on the straight line to air, stack unmoved', () => {
    // mixing balance, by hand: 10 % air into O2 5, CO 40 gives 0.9 x 5 + 0.1 x 20.946 = 6.59 and 36
    const leak = stream(900, (s) => (s < 400 ? { ...calm, co: 40 } : { ...calm, o2: 6.59, co: 36 }));
    const [hint] = diagnose({ ...facts, samples: leak });
    expect(hint!.pattern).toBe('dilution');
    expect(hint!.figures['airShare']).toBeCloseTo(0.1, 1);
    expect(hint!.stretch!.fromMs).toBeLessThan(400_000);
    expect(hint!.stretch!.toMs).toBeGreaterThan(400_000);
  });
  it('sees creeping CO with slope and interval', () => {
    const [hint] = diagnose({ ...facts, samples: stream(700, (s) => ({ ...calm, co: 12 + Math.max(0, s - 100) * (4 / 60) })) });
    expect(hint!.pattern).toBe('creeping-co');
    expect(Math.abs(hint!.figures['ppmPerMinute']! - 4)).toBeLessThan(hint!.figures['half']! + 0.05);
  });
  it('does not call it creep when O2 moved', () => {
    expect(patterns(stream(700, (s) => ({ ...calm, o2: 5 - 0.1 * (s / 60), co: 12 + (s * 4) / 60 })))).not.toContain('creeping-co');
  });
  it('names the frequency of a flutter', () => {
    const [hint] = diagnose({ ...facts, samples: stream(700, (s) => ({ ...calm, o2: 5 + 0.2 * Math.sin(2 * Math.PI * 0.23 * s) })) });
    expect(hint!.pattern).toBe('flutter');
    expect(hint!.figures['hz']).toBeCloseTo(0.23, 2);
    expect(hint!.figures['shownO2']).toBeGreaterThan(0.15);
    expect(hint!.figures['shownO2']).toBeLessThan(0.25);
  });
  it('tells a purge from a pulled probe from a stopped burner', () => {
    const fresh = (stack: (s: number) => number, length = 40) =>
      stream(500, (s) =>
        s >= 250 && s < 250 + length
          ? { ...calm, o2: 20.9, co: 0, stackTemperature: stack(s - 250) }
          : { ...calm, ...(s >= 250 + length && s < 260 + length ? { stackTemperature: 205 } : {}) },
      );
    expect(patterns(fresh(() => 210))).toEqual(['purge']);
    expect(patterns(fresh((s) => 20 + 190 * Math.exp(-s / 8)))).toEqual(['probe-out']);
    expect(patterns(fresh((s) => 90 + 120 * Math.exp(-s / 20), 120))).toEqual([]);
  });
  it('sees CO after the flame', () => {
    const stop = stream(500, (s) =>
      s < 300
        ? calm
        : { o2: 20.9, co: 400 * ((s - 300) / 15) * Math.exp(1 - (s - 300) / 15), stackTemperature: 90 + 120 * Math.exp(-(s - 300) / 20) },
    );
    expect(patterns(stop)).toEqual(['after-drip']);
  });
  it('tells draft that falls from draft lost at once', () => {
    expect(patterns(stream(900, (s) => ({ ...calm, draft: -12 + Math.min(8, Math.max(0, s - 200) * 0.012) })))[0]).toBe('draft-falling');
    expect(patterns(stream(900, (s) => ({ ...calm, draft: s < 450 ? -12 : -7 })))[0]).toBe('draft-step');
  });
  it('sees a wrong zero, impossible O2, a stuck channel, missing lines', () => {
    expect(patterns(stream(300, () => ({ ...calm, co: -9 })))).toEqual(['negative-co']);
    expect(patterns(stream(300, () => ({ ...calm, o2: -0.5 })))).toEqual(['impossible-o2']);
    const frozen = stream(400, (s) => ({ ...calm, co: s < 330 ? 12 : 12 + 3 * (s - 330) })).map((sample) =>
      sample.timeMs > 200_000 ? { ...sample, values: { ...sample.values, o2: 5.1 } } : sample,
    );
    expect(patterns(frozen)).toContain('stuck');
    expect(patterns(stream(400, (s) => (s > 200 && s < 240 ? undefined : calm)))).toEqual(['gap']);
  });
  it('sees a slow cell at light-off, and not a quick one', () => {
    const lit = (tau: number) =>
      stream(400, (s) =>
        s < 30
          ? { ...calm, o2: 20.9, co: 0, stackTemperature: 20 }
          : { ...calm, o2: 5 + 15.9 * Math.exp(-(s - 30) / tau), stackTemperature: 210 - 190 * Math.exp(-(s - 30) / 40) },
      );
    // first order: from a tenth to nine tenths takes ln 9 = 2.197 time constants; 30 s gives 66 s, 9 s gives 20 s
    const hint = diagnose({ ...facts, samples: lit(30) }).find(({ pattern }) => pattern === 'slow-cell')!;
    expect(hint.figures['seconds']).toBeGreaterThan(56);
    expect(hint.figures['seconds']).toBeLessThan(76);
    expect(patterns(lit(9))).not.toContain('slow-cell');
  });
  it('is quiet about next to nothing', () => {
    expect(patterns([])).toEqual([]);
    expect(patterns(stream(10, () => calm))).toEqual([]);
  });
});

describe('dilution against combustion', () => {
  // from the mixing balance: O2 4, CO 50 with 10 % and 20 % air: 5.69/45 and 7.39/40
  it.each([
    { name: '10 % air', after: { o2: 5.69, coPpm: 45, stackC: 210 }, kind: 'dilution' },
    { name: '20 % air', after: { o2: 7.39, coPpm: 40, stackC: 209.5 }, kind: 'dilution' },
    { name: 'CO rises with O2', after: { o2: 7.39, coPpm: 90, stackC: 210 }, kind: 'combustion' },
    { name: 'CO fits, stack moved: more air through the flame', after: { o2: 5.69, coPpm: 45, stackC: 219 }, kind: 'not-clear' },
  ] as const)('$name: $kind', ({ after, kind }) => {
    expect(stepKind({ o2: 4, coPpm: 50, stackC: 210 }, after)).toBe(kind);
  });
});

describe('spectrum and trend', () => {
  it('gives a sine of amplitude A the power (A n/2)^2 at its own frequency', () => {
    const values = Array.from({ length: 200 }, (_, index) => 3 * Math.sin(2 * Math.PI * 0.1 * index));
    expect(goertzelPower(values, 0.1)).toBeCloseTo((3 * 100) ** 2, 3);
    expect(goertzelPower(values, 0.2)).toBeLessThan(1e-6);
  });
  it('finds a sine in noise four times its size', () => {
    const noise = noiseFrom(3);
    const line = strongestLine(
      Array.from({ length: 600 }, (_, index) => 0.5 * Math.sin(2 * Math.PI * 0.31 * index) + 2 * noise()),
      1,
      0.05,
    )!;
    expect(line.hz).toBeCloseTo(0.31, 2);
  });
  it('recovers a slope within its interval', () => {
    const noise = noiseFrom(5);
    const trend = trendOf(Array.from({ length: 300 }, (_, second) => ({ t: second * 1000, value: 10 + (2 * second) / 60 + 3 * noise() })))!;
    expect(Math.abs(trend.perMinute - 2)).toBeLessThan(trend.half);
    expect(trend.half).toBeLessThan(0.6);
  });
});

describe('patterns in the trials', () => {
  const judge = (parts: Parameters<typeof makeTrial>[0], more: Partial<Parameters<typeof diagnose>[0]> = {}) =>
    diagnose({ ...facts, samples: [], trials: [makeTrial(parts)], judgedIds: [parts.id], ...more }).map((hint) => hint.pattern);
  it.each([
    { name: 'sound burner', parts: { o2: 4.5, co: 10, stackC: 210, airC: 20, smoke: 0, overFirePa: -5, breechPa: -13 }, expected: [] },
    { name: 'smoke with plenty of air (NORA p 146)', parts: { o2: 7, smoke: 2 }, expected: ['smoke-with-air'] },
    { name: 'flame chilled (NORA p 134)', parts: { o2: 9.5, co: 90, smoke: 0 }, expected: ['over-aired'] },
    { name: 'plain excess air', parts: { o2: 9.5, co: 10, smoke: 0 }, expected: ['plain-excess-air'] },
    { name: 'too little air', parts: { o2: 1.8, co: 400, smoke: 4 }, expected: ['too-little-air'] },
    {
      name: 'hot, drop over 0.05 in w.c. (NORA p 142)',
      parts: { o2: 5, stackC: 260, airC: 20, overFirePa: 0, breechPa: -20 },
      expected: ['hot-stack-high-drop'],
    },
    {
      name: 'hot without drop: baffles (NORA p 142)',
      parts: { o2: 5, stackC: 330, airC: 20, overFirePa: -10, breechPa: -10.5 },
      expected: ['hot-stack-no-drop'],
    },
    { name: 'hot, drafts not read', parts: { o2: 5, stackC: 330, airC: 20 }, expected: ['hot-stack'] },
    { name: 'below 270 degF over ambient (NORA p 140)', parts: { o2: 5, stackC: 140, airC: 20 }, expected: ['cool-stack'] },
  ])('$name', ({ parts, expected }) => {
    expect(judge({ id: 'x', ...parts })).toEqual(expected);
  });
  it('leaves trials alone that are smoky or lean on purpose', () => {
    const hints = diagnose({ ...facts, samples: [], trials: [makeTrial({ id: 'a', o2: 2, smoke: 4, co: 600 })], judgedIds: [] });
    expect(hints).toEqual([]);
  });
  it('compares with the visit before', () => {
    expect(judge({ id: 'x', o2: 5, stackC: 245, airC: 20 }, { earlier: [{ netStackK: 190 }] })).toEqual(['hot-stack']);
    expect(judge({ id: 'x', o2: 5, overFirePa: -2, breechPa: -13 }, { earlier: [{ draftDropPa: 6 }] })).toEqual(['draft-drop-grown']);
  });
  it('reads the gauge against the sheet', () => {
    expect(judge({ id: 'x', o2: 5, pumpPa: 500_000 }, { pumpPressureWantedPa: 690_000 })).toEqual(['pressure-off']);
    expect(judge({ id: 'x', o2: 5, pumpPa: 700_000 }, { pumpPressureWantedPa: 690_000 })).toEqual([]);
  });
});
