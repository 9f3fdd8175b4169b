/** What was found in the safety tests: results and open bypasses. */
import { z } from 'zod';
import { WallMs } from '../../wall-clock.ts';

/** What was seen when the watch was started. */
export const watchStarts = ['valve-opens', 'burner-starts', 'flame-lost'] as const;
export type WatchStart = (typeof watchStarts)[number];

/** One step of the safety run-through; the plan of steps and its rules live with the run-through itself. */
export const SafetyResult = z.object({
  test: z.string().min(1).max(60),
  result: z.enum(['pass', 'fail', 'not-applicable']),
  seconds: z.number().nonnegative().optional(),
  markedSeconds: z.number().positive().optional(),
  inferred: z.boolean().optional(),
  /** of the time, what the control counts: a valve-on delay and a recycle wait are apart */
  countedSeconds: z.number().nonnegative().optional(),
  /** lap of a recycling control: when the burner started again */
  restartSeconds: z.number().positive().optional(),
  startedFrom: z.enum(watchStarts).optional(),
  note: z.string().max(500).optional(),
  wallMs: WallMs,
});
export type SafetyResult = z.infer<typeof SafetyResult>;

/** A jumper or an unplugged detector. While one is open the visit can't be closed. */
export const Bypass = z.object({ what: z.string().min(1).max(120), openedWallMs: WallMs, closedWallMs: WallMs.optional() });
