/** Visits for the laws, as the command line is given them, and what it answers. */
import fc from 'fast-check';
import { vi } from 'vitest';
import { adviseLine } from '../../main/commands/advise.ts';

// thousands of visits on a busy computer take their time; nothing here is judged by it
vi.setConfig({ testTimeout: 180_000 });

export type PlainAdjuster = { name: string; kind?: string | null; min: number; max: number; step: number; more_air?: string };
export type PlainTrial = {
  setting: Record<string, number>;
  stage?: string;
  o2_pct: number | null;
  co_ppm: number | null;
  smoke: number | null;
  oil: boolean;
  settled: boolean;
};
export type PlainVisit = {
  id: string;
  fuel: string;
  flame: 'yellow' | 'blue';
  adjusters: PlainAdjuster[];
  trials: PlainTrial[];
  as_left: number | null;
  alarm_co_air_free_ppm: number;
  o2_floor_pct: number;
  smoke_limit: number;
  room_co_ppm: number | null;
  safety: { test: string; result: 'pass' | 'fail' | 'na' | 'open' }[];
  bypass_in_place: boolean;
};
export type Answer = {
  advice: 'less-air' | 'more-air' | 'leave' | 'stop' | 'none';
  adjuster: string | null;
  from: number | null;
  to: number | null;
  aim_o2_pct: [number, number] | null;
  words: string;
  safe: 'yes' | 'no' | 'unknown';
  because: string[];
};
/** `up`: a higher number of the fine air adjuster is more air, in the hidden truth; `o2At`: where O2 comes to rest there. Undefined where there is none */
export type Case = {
  visit: PlainVisit;
  up: Record<string, boolean> | undefined;
  o2At?: ((setting: Record<string, number>) => number) | undefined;
};

export const answerOf = (visit: PlainVisit): Answer => {
  const answer = adviseLine(JSON.stringify(visit));
  if ('problem' in answer) throw new Error(String(answer['problem']));
  return answer as unknown as Answer;
};

/** CO with the excess air taken out; where that is not defined, as measured. @source never.md, and the trade form 20.9 / (20.9 - O2) */
export const coJudged = ({ o2_pct, co_ppm }: PlainTrial): number | undefined =>
  co_ppm === null ? undefined : o2_pct === null || o2_pct > 15 || o2_pct < -0.5 ? co_ppm : (co_ppm * 20.9) / (20.9 - o2_pct);

export const VISITS = 2500;
/** One burner with one shutter, everything known and in order: what a test says is the only thing that differs. */
export const plainVisit = (trials: Partial<PlainTrial>[], rest: Record<string, unknown> = {}): PlainVisit => ({
  id: 'plain',
  fuel: 'no2',
  flame: 'yellow',
  adjusters: [{ name: 'shutter', kind: 'air', min: 0, max: 10, step: 0.1 }],
  trials: trials.map((trial) => ({ o2_pct: 5, co_ppm: 20, smoke: 0, oil: false, settled: true, setting: { shutter: 5 }, ...trial })),
  as_left: trials.length - 1,
  alarm_co_air_free_ppm: 400,
  o2_floor_pct: 2,
  smoke_limit: 1,
  room_co_ppm: 0,
  safety: [{ test: 'flame-failure', result: 'pass' }],
  bypass_in_place: false,
  ...rest,
});
export const at = (shutter: number, o2_pct: number, rest: Partial<PlainTrial> = {}): Partial<PlainTrial> => ({
  setting: { shutter },
  o2_pct,
  ...rest,
});

/** Tries a law on so many visits and says on how many of them it had something to say. */
export function holds(
  law: string,
  cases: fc.Arbitrary<Case>,
  check: (one: Case, answer: Answer) => boolean | void,
  runs = VISITS,
): { tried: number; met: number } {
  let [tried, met] = [0, 0];
  fc.assert(
    fc.property(cases, (one) => {
      tried++;
      if (check(one, answerOf(one.visit)) === true) met++;
    }),
    { numRuns: runs, seed: 20_261_128 },
  );
  console.info(`${law}: ${tried} visits tried, ${met} of them in the case of the law`);
  return { tried, met };
}
