import { describe, expect, it } from 'vitest';
import { sourceStateOf, tapeOf } from '../../../renderer/state/source-state.ts';
import { recordOf } from '../../../renderer/state/run-record.ts';
import { infoOf } from '../helpers/records.ts';

const simulated = (scenario: string, title: string) =>
  recordOf(infoOf({ source: { kind: 'simulated', scenario, title, seed: 1, shape: 'columns' } }));

describe('what the window calls a simulated source', () => {
  it('on the bench there is a certificate, no visit', () => {
    const burner = simulated('tune-up', 'Tune-up');
    expect(tapeOf(burner)).toContain('visit');
    expect(tapeOf(burner, { onBench: true })).not.toContain('visit');
    expect(tapeOf(burner, { onBench: true })).toContain('certificate');
  });
  it('an instrument of the bench is no burner, wherever it is looked at', () => {
    const instrument = simulated('low-span', 'Bench: low span');
    expect(tapeOf(instrument)).not.toContain('visit');
    expect(sourceStateOf({ ...instrument, face: { ...instrument.face, timeMs: 59_500 } })).toMatchObject({
      name: 'Simulated instrument',
      about: 'scenario “low span”',
    });
  });
  it('a real instrument has no tape', () => expect(tapeOf(recordOf(infoOf()), { onBench: true })).toBeUndefined());
});
