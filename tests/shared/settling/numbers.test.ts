import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { createBank } from '../../../shared/settling/bank/bank.ts';
import { grids } from '../../../shared/settling/bank/grids.ts';
import { createBlockHistory } from '../../../shared/settling/watch/block-history.ts';
import { createChangeAlarm } from '../../../shared/settling/change-alarm.ts';
import { createDespike } from '../../../shared/settling/fits/despike.ts';
import { createNoise, createQuantum } from '../../../shared/settling/fits/noise.ts';
import { upperTail } from '../../../shared/settling/fits/normal.ts';
import { createRandom } from '../../score/stream-random.ts';

describe('upper tail of the normal distribution', () => {
  it.each([
    { z: 0, p: 0.5, source: 'symmetry' },
    { z: 1, p: 0.158655254, source: 'Abramowitz & Stegun, table 26.1' },
    { z: 1.959964, p: 0.025, source: 'usual 95 % point' },
    { z: 2.575829, p: 0.005, source: 'usual 99 % point' },
    { z: -1, p: 0.841344746, source: 'Abramowitz & Stegun, table 26.1' },
  ])('P(Z > $z) = $p: $source', ({ z, p }) => expect(upperTail(z)).toBeCloseTo(p, 6));
});

describe('change alarm', () => {
  const averageRunLength = (shift: number, runs: number): number => {
    const r = createRandom(4711);
    let total = 0;
    for (let run = 0; run < runs; run++) {
      const alarm = createChangeAlarm({ drift: 0.5, limit: 5, clip: 100 });
      let n = 1;
      while (alarm.push(r.normal() + shift) === 0) n++;
      total += n;
    }
    return total / runs;
  };
  // two-sided CUSUM with k = 1/2, h = 5: average run lengths 465 (no shift), 10.4 (one sigma), 4.01 (two sigma);
  // Montgomery, Introduction to Statistical Quality Control, table of tabular-CUSUM run lengths after Hawkins (from memory)
  it('waits about 465 blocks without a shift', () => expect(averageRunLength(0, 1500) / 465).toBeCloseTo(1, 0.9));
  it('needs about 10.4 blocks for one sigma', () => expect(Math.abs(averageRunLength(1, 4000) - 10.4)).toBeLessThan(0.4));
  it('needs about 4 blocks for two sigma', () => expect(Math.abs(averageRunLength(2, 4000) - 4.01)).toBeLessThan(0.2));
});

describe('bank', () => {
  const single = {
    share: [0],
    wander: [0],
    drift: [0],
    driftWalk: 0,
    driftRest: 0,
    wanderSeconds: 40,
    headingWalk: 0,
    slowWalk: 0,
    sensorWalk: 0,
    coarseness: 0,
    temper: 1 as const,
  };

  it('does what the conjugate normal formula says when the sensor is immediate', () => {
    // prior N(0, 4), measurements with variance 1: posterior precision 1/4 + n, mean = sum / (n + 1/4) (any statistics textbook)
    const bank = createBank({ ...single, kind: 'cell', first: [0], sensor: [1e-3] });
    bank.start(0, 0, { headingSd: 2, slowSd: 0 }, { headingSd: 2, slowSd: 0 }, 0.5, 1e6);
    const values = [1.2, 0.8, 1.1, 0.9, 1.3];
    for (const y of values) bank.step(2, y, 1);
    const sum = values.reduce((a, b) => a + b, 0);
    const { heading, headingSd } = bank.summary();
    expect(heading).toBeCloseTo(sum / (values.length + 0.25), 4);
    expect(headingSd).toBeCloseTo(Math.sqrt(1 / (values.length + 0.25)), 4);
  });

  it.each([
    { kind: 'cell' as const, first: 4, sensor: 11 },
    { kind: 'metal' as const, first: 120, sensor: 6 },
  ])('moves its $kind like the differential equations, integrated in small steps', ({ kind, first, sensor }) => {
    const bank = createBank({ ...single, kind, first: [first], sensor: [sensor] });
    bank.start(0, 0, { headingSd: 1, slowSd: 1 }, { headingSd: 1, slowSd: 1 }, 0.5, 1);
    const start = { H: 10, A: 3, S: 1 };
    for (const o of [0, bank.fields]) {
      bank.state[o] = start.H;
      bank.state[o + 1] = start.A;
      bank.state[o + 2] = start.S;
    }
    bank.step(7, 0, 1e15);
    let { A, S } = start;
    const h = 1e-4;
    for (let i = 0; i < 7 / h; i++) {
      const dA = kind === 'cell' ? (start.H - A) / first : -A / first;
      const dS = ((kind === 'cell' ? A : start.H + A) - S) / sensor;
      A += h * dA;
      S += h * dS;
    }
    expect(bank.state[1]!).toBeCloseTo(A, 3);
    expect(bank.state[2]!).toBeCloseTo(S, 3);
  });

  it('keeps its covariances positive when it goes on after an interruption', () => {
    const bank = createBank({ ...single, kind: 'cell', first: [0, 3], sensor: [5, 12], wander: [0.02, 0.06], headingWalk: 4e-6 });
    bank.start(5, 5, { headingSd: 0.05, slowSd: 0 }, { headingSd: 3, slowSd: 0 }, 0.5, 0.01);
    for (let i = 0; i < 40; i++) bank.step(2, 5 + 0.05 * Math.sin(i), 0.0004);
    bank.keep(3);
    bank.setAside(3);
    bank.resume(45, 16, 0.0004, 2, 0.2);
    for (let i = 0; i < 60; i++) bank.step(2, 5 + 11 * Math.exp(-(2 * i) / 9), 0.0004);
    const weights = Array.from(bank.weight.subarray(0, bank.active()));
    expect(weights.reduce((sum, w) => sum + w, 0)).toBeCloseTo(1, 9);
    for (let j = 0; j < bank.active(); j++)
      for (const k of [4, 8, 11, 13]) expect(bank.state[j * bank.fields + k]!).toBeGreaterThanOrEqual(0);
    expect(Math.abs(bank.summary().heading - 5)).toBeLessThan(0.2);
  });

  it('asks anew where the wander stands without touching what the instrument shows', () => {
    const bank = createBank({
      ...single,
      kind: 'cell',
      first: [0, 3],
      sensor: [5, 12],
      wander: [0.02, 0.06],
      drift: [0, 0.01],
      headingWalk: 4e-6,
    });
    bank.start(5, 5, { headingSd: 0.05, slowSd: 0 }, { headingSd: 3, slowSd: 0 }, 0.5, 0.01);
    for (let i = 0; i < 40; i++) bank.step(2, 5 + 0.05 * Math.sin(i) + 0.002 * i, 0.0004);
    bank.widen(2, 0.5, true, false);
    const { size, fields, state } = bank;
    for (let j = 0; j < size; j++) {
      const was = state.subarray(j * fields, (j + 1) * fields);
      const is = state.subarray((size + j) * fields, (size + j + 1) * fields);
      // H, A, S, W and the upper triangle of their covariance, row by row; then the rate with its covariances to them
      const [H, A, S, W, HH, HA, HS, HW, AA, AS, AW, SS, SW, WW] = Array.from({ length: 14 }, (_, k) => k) as [
        number,
        number,
        number,
        number,
        number,
        number,
        number,
        number,
        number,
        number,
        number,
        number,
        number,
        number,
      ];
      const wander = bank.members.wanderVar[j]!;
      expect([was[W], was[HW], was[AW], was[SW]].every((value) => value !== 0)).toBe(true);
      expect([is[H], is[A], is[W]]).toEqual([was[H], was[A], 0]);
      // the display: S + W, its variance, and what it has in common with the others
      expect(is[S]).toBeCloseTo(was[S]! + was[W]!, 12);
      expect(is[SS]! + 2 * is[SW]! + is[WW]!).toBeCloseTo(was[SS]! + 2 * was[SW]! + was[WW]!, 12);
      expect(is[HS]! + is[HW]!).toBeCloseTo(was[HS]! + was[HW]!, 12);
      expect(is[AS]! + is[AW]!).toBeCloseTo(was[AS]! + was[AW]!, 12);
      // the wander may stand anywhere that it can, and that says nothing of heading and filter
      expect([is[WW], is[SW], is[HW], is[AW]]).toEqual([wander, -wander, 0, 0]);
      // the heading may have jumped by 2; the filter has not
      expect(is[HH]).toBeCloseTo(was[HH]! + 4, 12);
      expect([is[HA], is[AA]]).toEqual([was[HA], was[AA]]);
      // a rate is asked anew with it, and where there is none stays none
      const rate = bank.members.drift[j]!;
      if (rate > 0) expect(Array.from(is.subarray(14))).toEqual([0, 0, 0, 0, 0, rate * rate]);
      else expect([is[14], is[15], is[16], is[18], is[19]]).toEqual([was[14], was[15], was[16], 0, was[19]]);
    }
    expect(bank.active()).toBe(2 * size);
    const halves = [0, size].map((from) => bank.weight.subarray(from, from + size).reduce((sum, w) => sum + w, 0));
    expect(halves[0]).toBeCloseTo(0.5, 12);
    expect(halves[1]).toBeCloseTo(0.5, 12);
  });

  it('gives back exactly what it kept', () => {
    const bank = createBank({ ...single, kind: 'metal', first: [60, 120], sensor: [4], share: [0.3, 0.5] });
    bank.start(200, 200, { headingSd: 1, slowSd: 1 }, { headingSd: 10, slowSd: 20 }, 0.5, 1);
    bank.keep(5);
    const before = Array.from(bank.state);
    for (let i = 0; i < 5; i++) bank.step(2, 210 + i, 0.1);
    bank.restore(5);
    expect(Array.from(bank.state)).toEqual(before);
  });

  // only some blocks are saved whole: the others are made again from the one before
  it.each(['stackTemperature', 'o2'] as const)('gives back exactly what was after any of the last 15 blocks (%s)', (channel) => {
    const blocks = 60;
    const valueAt = (block: number): number => 5 + (block > 25 ? 4 * (1 - Math.exp((25 - block) / 6)) : 0) + 0.03 * Math.sin(7 * block);
    /** with a change in question at block 30; where nothing went back, and where it went back from a later block, must be one */
    const changedAt = (back: number, fromBlock: number) => {
      const bank = createBank(grids[channel]);
      bank.start(5, 5, { headingSd: 1, slowSd: 1 }, { headingSd: 3, slowSd: 1 }, 0.5, 0.01);
      bank.keep(0);
      for (let block = 1; block <= fromBlock; block++) {
        bank.scaleTo(1 + 0.1 * (block % 3));
        bank.step(2, valueAt(block), 0.001);
        if (block === 30) bank.widen(2, 0.8, true, true);
        bank.keep(block);
      }
      bank.scaleTo(1);
      if (fromBlock > back) bank.restore(back);
      // brings up those that rested
      bank.widen(1, 0.5, false, false);
      const { active, age, ageS, before } = bank.members;
      const { heading, headingSd, now, nowSd } = bank.summary();
      const bytes = createHash('sha256')
        .update(bank.state.slice(0, active * bank.fields))
        .update(bank.weight.slice(0, active));
      return [active, age, ageS, before, heading, headingSd, now, nowSd, bytes.digest('hex')];
    };
    for (let back = blocks - 15; back <= blocks; back++) expect(changedAt(back, blocks)).toEqual(changedAt(back, back));
    for (const back of [28, 29, 30, 33]) expect(changedAt(back, 36)).toEqual(changedAt(back, back));
  });
});

describe('noise and printout', () => {
  it('finds the standard deviation of white noise on a ramp', () => {
    const r = createRandom(3);
    const noise = createNoise(1, 400);
    for (let i = 0; i < 2000; i++) noise.add(0.7 * i + 0.25 * r.normal());
    expect(noise.sd()).toBeGreaterThan(0.25 * 0.85);
    expect(noise.sd()).toBeLessThan(0.25 * 1.1);
  });
  it('finds the step of the printout and none in fine numbers', () => {
    const coarse = createQuantum();
    for (const v of [5, 5.1, 5.3, 5.2, 5.2, 5.4]) coarse.add(v);
    expect(coarse.value()).toBeCloseTo(0.1, 6);
  });
  it('drops a spike and keeps a step', () => {
    const out: number[] = [];
    const despike = createDespike((_, v) => out.push(v));
    const values = [5, 5.1, 5, 5.1, 5, 5.1, 9, 5, 5.1, 5, 7, 7.1, 7, 7.1];
    values.forEach((v, i) => despike.add(i * 1000, v, 0.1));
    expect(Math.max(...out.slice(0, 9))).toBeLessThan(5.2);
    expect(out.at(-1)).toBeGreaterThan(6.9);
  });
});

describe('statistics of a stretch', () => {
  const history = (rho: number, seed: number): ReturnType<typeof createBlockHistory> => {
    const r = createRandom(seed);
    const h = createBlockHistory();
    let x = 0;
    for (let b = 0; b < 30; b++) {
      const values = Array.from({ length: 10 }, () => (x = rho * x + Math.sqrt(1 - rho * rho) * r.normal()));
      const mean = values.reduce((a, v) => a + v, 0) / 10;
      h.add(
        2000 * b,
        2000 * (b + 1),
        mean,
        values.reduce((a, v) => a + (v - mean) ** 2, 0),
        10,
      );
    }
    return h;
  };
  const average = (rho: number): { sd: number; nEff: number } => {
    let sd = 0;
    let nEff = 0;
    for (let seed = 0; seed < 60; seed++) {
      const s = history(rho, seed).statistics(0, 60_000, 0.1)!;
      expect(s.n).toBe(300);
      expect(s.u).toBeGreaterThanOrEqual(0.1);
      sd += s.sd / 60;
      nEff += s.nEff / 60;
    }
    return { sd, nEff };
  };
  // effective size of a first-order autoregression: n (1 - rho)/(1 + rho); Bayley & Hammersley, J. R. Statist. Soc. Suppl. 8 (1946)
  it('counts white noise as (nearly) n independent values', () => {
    const { sd, nEff } = average(0);
    expect(sd).toBeCloseTo(1, 1);
    expect(nEff).toBeGreaterThan(150);
  });
  it('counts correlated noise as far fewer: rho 0.8 leaves about a ninth', () => {
    const { nEff } = average(0.8);
    expect(nEff).toBeGreaterThan(300 / 9 / 1.8);
    expect(nEff).toBeLessThan((300 / 9) * 2);
  });
});
