/**
 * Air for combustion and venting: what is looked at, and the worst-case test. Fans off, then every fan on and the doors as they make it worst, draft, O2 and
 * room CO on one trace. Each line passes by a limit with its source; a line without a limit is told and not judged.
 *
 * @source the list: NORA Oilheat Technicians Manual p 142 and 146 and the Massachusetts FP-056 checklist (facts only); openings of 1 in2 per 1 000 Btu/h from
 * adjacent rooms, 1 per 4 000 direct outdoors, 1 per 5 000 by one duct: NORA p 146 citing NFPA 31/54
 */
import { z } from 'zod';
import { WallMs } from '../../wall-clock.ts';
import type { Sample } from '../../measurement/sample.ts';
import { roomCoLevels } from '../advice/cautions.ts';

export const ventItems = ['openings', 'regulator', 'pitch', 'joints', 'chimney', 'exchanger'] as const;
export type VentItem = (typeof ventItems)[number];
export const VentCheck = z.object({
  item: z.enum(ventItems),
  result: z.enum(['pass', 'fail', 'not-applicable']),
  note: z.string().max(300).optional(),
  wallMs: WallMs,
});
export type VentCheck = z.infer<typeof VentCheck>;

/** Mean over the end of a phase; `half`: expanded, from the scatter over that time only. */
export const PhaseFigure = z.object({
  mean: z.number(),
  half: z.number().nonnegative(),
  seconds: z.number().nonnegative(),
  typed: z.boolean().optional(),
});
export type PhaseFigure = z.infer<typeof PhaseFigure>;
export const worstQuantities = ['draftPa', 'o2Percent', 'roomCoPpm'] as const;
export type WorstQuantity = (typeof worstQuantities)[number];
export const PhaseFigures = z.object({
  draftPa: PhaseFigure.optional(),
  o2Percent: PhaseFigure.optional(),
  roomCoPpm: PhaseFigure.optional(),
});
export type PhaseFigures = z.infer<typeof PhaseFigures>;

/** What passes. `draftHighPa`: suction is negative, so this or below. `o2DropMost`: how far O2 may fall. */
export const WorstRule = z.object({
  draftHighPa: z.number().max(0).min(-500).optional(),
  draftSource: z.string().max(200).optional(),
  o2DropMost: z.number().positive().max(21).optional(),
  o2Source: z.string().max(200).optional(),
  roomCoBelowPpm: z.number().positive().max(1000).optional(),
  roomCoSource: z.string().max(200).optional(),
});
export type WorstRule = z.infer<typeof WorstRule>;

/** @source draft: NORA, Advanced Efficiency course text p 43; room CO: US ambient air standard, 8 h */
export const usualWorstRule: WorstRule = {
  draftHighPa: -2.5,
  draftSource: 'NORA, Advanced Efficiency, p 43: 2.5 to 5 Pa by weather and appliance',
  roomCoBelowPpm: roomCoLevels.noticePpm,
  roomCoSource: 'US ambient air standard, 8 h',
};

export const WorstCase = z.object({
  runId: z.string().max(80),
  startWallMs: WallMs,
  /** of the run, ms */
  offFromMs: z.number().nonnegative(),
  onFromMs: z.number().nonnegative().optional(),
  toMs: z.number().nonnegative().optional(),
  /** what was on, and how the doors stood */
  house: z.string().max(300).optional(),
  rule: WorstRule,
  off: PhaseFigures.optional(),
  on: PhaseFigures.optional(),
  savedWallMs: WallMs.optional(),
});
export type WorstCase = z.infer<typeof WorstCase>;

export const Venting = z.object({ checks: z.array(VentCheck).max(60), worstCases: z.array(WorstCase).max(12) });
export type Venting = z.infer<typeof Venting>;

/** Of each phase, this much of its end counts; a phase shorter than the least is not compared. Common practice. */
export const COUNTED_MS = 120_000;
export const LEAST_PHASE_MS = 60_000;
/** Draft wanders with gusts for tens of seconds: only this far apart do values tell something new. Common practice. */
const APART_S = 30;
/** Gauge and cells, beside the scatter: what a difference of two values of one gauge still leaves. Common practice. */
const GAUGE_HALF = { draftPa: 0.5, o2Percent: 0.1, roomCoPpm: 1 } as const satisfies Record<WorstQuantity, number>;

const channels = { draftPa: 'draft', o2Percent: 'o2', roomCoPpm: 'ambientCo' } as const;

/** The figures of one phase: over the end of it that counts. Absent where the instrument does not send it. */
export function phaseFigures(samples: readonly Sample[], fromMs: number, toMs: number): PhaseFigures {
  const start = Math.max(fromMs, toMs - COUNTED_MS);
  const inside = samples.filter(({ timeMs }) => timeMs >= start && timeMs <= toMs);
  const figures: PhaseFigures = {};
  for (const quantity of worstQuantities) {
    const values = inside.flatMap(({ values: all }) => {
      const one = all[channels[quantity]];
      return one === undefined ? [] : [one];
    });
    const seconds = (toMs - start) / 1000;
    if (values.length < 5 || seconds <= 0) continue;
    const mean = values.reduce((sum, one) => sum + one, 0) / values.length;
    const sd = Math.sqrt(values.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (values.length - 1));
    figures[quantity] = { mean, half: (2 * sd) / Math.sqrt(Math.max(1, seconds / APART_S)), seconds };
  }
  return figures;
}

export type TracePoint = { timeMs: number } & { [K in WorstQuantity]?: number | undefined };
const MOST_POINTS = 400;

/** The trace for a picture: every so many samples one and the newest, none invented between. */
export function tracePoints(samples: readonly Sample[], fromMs: number, toMs: number): TracePoint[] {
  const inside = samples.filter(({ timeMs }) => timeMs >= fromMs && timeMs <= toMs);
  const step = Math.max(1, Math.ceil(inside.length / MOST_POINTS));
  return inside.flatMap(({ timeMs, values }, index) => {
    if (index % step !== 0 && index !== inside.length - 1) return [];
    const point: TracePoint = { timeMs };
    for (const quantity of worstQuantities) {
      const one = values[channels[quantity]];
      if (one !== undefined) point[quantity] = one;
    }
    return [point];
  });
}

export type WorstLine = {
  quantity: WorstQuantity;
  off: PhaseFigure | undefined;
  on: PhaseFigure | undefined;
  /** on minus off, and its expanded uncertainty */
  change: number | undefined;
  changeHalf: number | undefined;
  limit: number | undefined;
  source: string | undefined;
  verdict: 'pass' | 'fail' | 'too-close' | 'no-limit' | 'not-measured';
};

export function judgeWorstCase({ off = {}, on = {}, rule }: Pick<WorstCase, 'off' | 'on' | 'rule'>): WorstLine[] {
  return worstQuantities.map((quantity): WorstLine => {
    const [a, b] = [off[quantity], on[quantity]];
    const gauge = GAUGE_HALF[quantity];
    const change = a === undefined || b === undefined ? undefined : b.mean - a.mean;
    const changeHalf = a === undefined || b === undefined ? undefined : Math.hypot(a.half, b.half, gauge);
    const [limit, source] =
      quantity === 'draftPa'
        ? [rule.draftHighPa, rule.draftSource]
        : quantity === 'o2Percent'
          ? [rule.o2DropMost, rule.o2Source]
          : [rule.roomCoBelowPpm, rule.roomCoSource];
    // how far it is inside its limit, and how well that is known
    const [room, half] =
      // a limit whose source nobody said decides nothing
      limit === undefined || (source ?? '').trim() === ''
        ? [undefined, 0]
        : quantity === 'o2Percent'
          ? [change === undefined ? undefined : limit + change, changeHalf ?? 0]
          : [b === undefined ? undefined : limit - b.mean, Math.hypot(b?.half ?? 0, gauge)];
    const verdict =
      b === undefined || (quantity === 'o2Percent' && change === undefined)
        ? 'not-measured'
        : limit === undefined || room === undefined
          ? 'no-limit'
          : // "stays below 9" fails from 9 on
            quantity === 'roomCoPpm' && b.mean >= limit
            ? 'fail'
            : Math.abs(room) <= half
              ? 'too-close'
              : room > 0
                ? 'pass'
                : 'fail';
    return { quantity, off: a, on: b, change, changeHalf, limit, source, verdict };
  });
}

export const worstVerdicts = ['pass', 'fail', 'too-close', 'not-judged'] as const;
export type WorstVerdict = (typeof worstVerdicts)[number];
export function worstVerdict(lines: readonly WorstLine[]): WorstVerdict {
  if (lines.some(({ verdict }) => verdict === 'fail')) return 'fail';
  if (lines.some(({ verdict }) => verdict === 'too-close')) return 'too-close';
  // without draft nothing is known of the chimney
  return lines.some(({ quantity, verdict }) => quantity === 'draftPa' && verdict === 'pass') ? 'pass' : 'not-judged';
}

/** What of air and venting is not safe: the last word on each item, and the last worst case that was saved. */
export function ventingFailed({ venting }: { venting?: Venting | undefined }): (VentItem | 'worst-case')[] {
  if (venting === undefined) return [];
  const latest = new Map(venting.checks.map((check) => [check.item, check]));
  const saved = venting.worstCases.findLast(({ savedWallMs }) => savedWallMs !== undefined);
  return [
    ...ventItems.filter((item) => latest.get(item)?.result === 'fail'),
    ...(saved !== undefined && worstVerdict(judgeWorstCase(saved)) === 'fail' ? (['worst-case'] as const) : []),
  ];
}
