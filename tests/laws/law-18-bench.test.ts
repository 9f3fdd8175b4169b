/** Law 18, on the bench: no response curve, dead time or T90 across missing lines; what was not seen is not drawn as seen. */
import { describe, expect, it } from 'vitest';
import { createColumn } from '../../shared/bench/session/column.ts';
import { piecesOf } from '../../shared/bench/results/missing-lines.ts';
import { channelsOf, levelsOf } from '../../shared/bench/references.ts';
import { roundResult } from '../../shared/bench/results/test-result.ts';
import { createRandom } from '../../shared/burner/random.ts';
import { practiceTest } from '../shared/bench/run-plan.ts';

const TAU_S = 10;
const DEAD_S = 3;
const test = practiceTest();

/** Air, then the high gas at 60 s; one line a second, without those from `holeFrom` to `holeTo` after the switch. */
function stepWith(seed: number, hole: { fromS: number; toS: number } | undefined) {
  const random = createRandom(seed, 'law 18');
  const column = createColumn({ channels: channelsOf(test.instrument.cells), levels: levelsOf(test) });
  column.begin({ id: 's3', purpose: 'span', slot: 'high', holdS: 30 }, 0, false);
  for (let s = 1; s <= 150; s++) {
    if (s === 60) column.mark(60_000);
    const sinceS = s - 60;
    if (hole !== undefined && sinceS > hole.fromS && sinceS < hole.toS) continue;
    const part = sinceS < DEAD_S ? 0 : 1 - Math.exp(-(sinceS - DEAD_S) / TAU_S);
    const value = (from: number, to: number, sd: number): number => from + part * (to - from) + sd * random.normal();
    column.push({ timeMs: s * 1000, values: { o2: value(20.9, 4, 0.02), co: value(0, 1000, 1) } });
  }
  const taken = column.take(0);
  if (taken === undefined) throw new Error('the step gave nothing');
  return { ...taken, end: 'reached' as const };
}
const resultOf = (step: ReturnType<typeof stepWith>) => {
  const before = { stepId: 's1', end: 'reached' as const, atMs: 0 };
  const steps = [before, { ...step, stepId: 's3' }];
  return roundResult(test, { kind: 'as-found', startedMs: 0, steps });
};

describe('law 18 on the bench', () => {
  it('a way that was seen whole has its T90: 3 s + 10 s ln 10 = 26.0 s, closed form', () => {
    const t90 = stepWith(1, undefined).application?.channels.co?.response?.t90;
    expect(Math.abs((t90?.value ?? 0) - (DEAD_S + TAU_S * Math.log(10)))).toBeLessThan(t90?.expanded ?? 0);
  });

  it('with lines missing on the way there is none, whatever hole it is; the reason is stored and shown (2 000 steps)', () => {
    for (let seed = 1; seed <= 2000; seed++) {
      const random = createRandom(seed, 'holes');
      // lines missing somewhere between the switch and 90 % of the change, 3 s and more
      const fromS = Math.floor(random.between(0, 22));
      const hole = { fromS, toS: fromS + Math.ceil(random.between(3, 25)) };
      const step = stepWith(seed % 7, hole);
      const where = `hole from ${hole.fromS} to ${hole.toS} s`;
      const responses = Object.values(step.application?.channels ?? {}).map(({ response }) => response);
      expect(
        responses.filter((response) => response !== undefined),
        where,
      ).toEqual([]);
      expect(step.linesMissing, where).toEqual(['o2', 'co']);
      const points = step.curve?.co;
      if (points !== undefined) {
        const across = piecesOf(points).some((piece) => piece[0]![0] <= hole.fromS && piece.at(-1)![0] >= hole.toS);
        expect(across, `${where}: drawn across`).toBe(false);
      }
      if (seed % 50 === 0) expect(resultOf(step).linesMissing.map(({ channel }) => channel)).toEqual(['o2', 'co']);
    }
  }, 240_000);

  it('a time that an earlier version took across a hole is not shown, unless it was signed', () => {
    const whole = stepWith(1, undefined);
    const old = { ...whole, curve: { ...whole.curve, co: (whole.curve?.co ?? []).filter(([t]) => t < 5 || t > 20) } };
    const co = (signed: boolean) =>
      roundResult(signed ? { ...test, signature: { name: 'B. Tester', wallMs: 1 } } : test, {
        kind: 'as-found',
        startedMs: 0,
        steps: [
          { ...whole, stepId: 's1' },
          { ...old, stepId: 's3' },
        ],
      }).linesMissing.map(({ channel }) => channel);
    expect(co(false)).toContain('co');
    expect(co(true)).toEqual([]);
  });
});
