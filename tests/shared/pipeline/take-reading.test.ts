import { describe, expect, it } from 'vitest';
import type { RunEntry } from '../../../shared/measurement/run.ts';
import { createRunFold } from '../../../shared/pipeline/fold-run.ts';
import { typedRecipe, writeTyped } from '../../../shared/pipeline/typed-line.ts';
import { burnerLines, lineEntries, runHeader } from '../../helpers/ports/run-lines.ts';

describe('taking a reading', () => {
  it('takes what is being offered, and the last seconds only where nothing has settled', () => {
    const run = createRunFold(runHeader());
    let taken = 0;
    for (const entry of lineEntries(burnerLines({ seconds: 900, seed: 5 }))) {
      run.push(entry);
      const offered = run.openReading();
      const takeNow: RunEntry = { kind: 'take', timeMs: entry.timeMs, readingId: `taken-${taken}` };
      if (taken === 0 && entry.timeMs > 60_000 && offered === undefined) {
        run.push(takeNow);
        expect(run.lastTaken?.settled).toBe(false);
        taken++;
      }
      if (taken === 1 && offered?.scope === 'full') {
        run.push({ ...takeNow, readingId: 'taken-1' });
        expect(run.lastTaken).toMatchObject({
          id: 'taken-1',
          scope: 'full',
          settled: true,
          channels: offered.channels,
          takenMs: entry.timeMs,
        });
        taken++;
      }
    }
    expect(taken).toBe(2);
  });

  it('computes from typed figures', () => {
    const run = createRunFold(runHeader({ source: { kind: 'typed' }, recipe: typedRecipe }));
    const bytes = writeTyped({ o2: 5, co: 12, stackTemperature: 200, airTemperature: 20 });
    run.push({ kind: 'line', timeMs: 1000, bytes });
    // worked case A of the heat-loss method: No. 2 oil, 5 %, 200/20 degC gives 85.395 % (a little less with 12 ppm CO)
    expect(run.derived(1000).values.efficiencyHhvPercent).toBeCloseTo(85.39, 1);
  });
});
