import { describe, expect, it } from 'vitest';
import { createFlameWatch } from '../../../shared/report/flame-watch.ts';
import { makeReport } from '../../../shared/report/make-report.ts';
import { inputOf, smallVisit, START } from './small-visit.ts';

const stopsOf = (o2: readonly number[]) => {
  const watch = createFlameWatch();
  o2.forEach((value, second) => watch.push(second * 1000, value));
  return watch.all();
};

describe('stops and starts in the gas data', () => {
  it('are where O2 leaves and comes back, and a start from cold is no stop', () => {
    expect(stopsOf([20.9, 20.9, 17, 8, 5, 5, 5, 14, 17, 20, 20.9, 20.9, 16, 9, 5])).toEqual([{ stoppedMs: 7000, againMs: 11_000 }]);
  });
  it('stay open when the burner does not come back, and ignore a swing that never comes near air', () => {
    expect(stopsOf([5, 5, 16, 5, 17.5, 6, 20, 20.9])).toEqual([{ stoppedMs: 5000 }]);
  });

  const report = (stops: { stoppedMs: number; againMs?: number }[], safetyMinutes?: number): string => {
    const visit = smallVisit(
      safetyMinutes === undefined
        ? { safety: [] }
        : {
            safety: [
              { test: 'lockout-no-ignition', result: 'pass', seconds: 13.4, markedSeconds: 15, wallMs: START + safetyMinutes * 60_000 },
            ],
          },
    );
    const run = { runId: 'run-1', startWallMs: START, zoneMinutes: 60, source: 'port', endMs: 5_000_000, lines: 1, rejected: 0 } as const;
    const none = { series: [], marks: [], readings: [], gaps: [], excluded: [], settled: [] };
    return JSON.stringify(makeReport(inputOf(visit, { runs: [{ ...run, ...none, stops }] })).record);
  };
  it('stand in the report as inferred, beside the stopwatch and never in its place', () => {
    const text = report([{ stoppedMs: 3_600_000, againMs: 3_675_000 }], 61);
    expect(text).toContain('inferred from the gas data');
    expect(text).toContain('["15:00:00","15:01:15","1 min 15 s"]');
    expect(text).toContain('"13.4"');
  });
  it('are left out without a run-through, and long before it', () => {
    expect(report([{ stoppedMs: 3_600_000 }])).not.toContain('Stops and starts');
    expect(report([{ stoppedMs: 600_000 }], 61)).not.toContain('Stops and starts');
  });
});
