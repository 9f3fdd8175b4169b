/** Bench tests by hand, where a simulated instrument would take its time. */
import type { BenchTest } from '../../../shared/bench/bench-test.ts';
import { practiceTest } from './run-plan.ts';

/** A test by hand: plateaus as given, no noise. */
export function testWith({ wallMs, co, t90S, left }: { wallMs: number; co: number; t90S?: number; left?: number }): BenchTest {
  const base = practiceTest();
  const plateau = (mean: number) => ({ mean, sd: 1, n: 60, nEff: 60, u: 0.13, fromS: 0, toS: 60 });
  const timed = (value: number) => ({ value, expanded: 1 });
  const response =
    t90S === undefined
      ? {}
      : {
          response: {
            dead: timed(3),
            tau: timed(10),
            t10: timed(5),
            t90: timed(t90S),
            rise: timed(t90S - 5),
            from: 0,
            plateau: timed(co),
            firstOrder: true,
          },
        };
  const steps = (high: number) => [
    {
      stepId: 's2',
      end: 'reached' as const,
      atMs: 60_000,
      application: { fromMs: 0, toMs: 60_000, channels: { co: { plateau: plateau(0), resolution: 1 } } },
    },
    {
      stepId: 's3',
      end: 'reached' as const,
      atMs: 240_000,
      application: {
        markMs: 90_000,
        fromMs: 180_000,
        toMs: 240_000,
        channels: { co: { plateau: plateau(high), resolution: 1, ...response } },
      },
    },
  ];
  return {
    ...base,
    startedWallMs: wallMs,
    rounds: [
      { kind: 'as-found', startedMs: 0, steps: steps(co) },
      ...(left === undefined ? [] : [{ kind: 'as-left' as const, startedMs: 300_000, steps: steps(left) }]),
    ],
  };
}
