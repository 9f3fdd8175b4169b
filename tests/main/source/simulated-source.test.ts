import { describe, expect, it } from 'vitest';
import { lineShapes } from '../../../shared/burner/scenario.ts';
import { createLineSplitter } from '../../../shared/lines/line-splitter.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import { createRunFold } from '../../../shared/pipeline/fold-run.ts';
import { createSimulatedSource } from '../../../main/source/simulated-source.ts';
import type { SourceEvent } from '../../../main/source/source.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';
import { runHeader } from '../../helpers/ports/run-lines.ts';

const start = (shape: string, ratePerSecond = 1) => {
  const clock = createFakeClock();
  const source = createSimulatedSource({ scenario: 'tune-up', seed: 3, shape, ratePerSecond }, clock);
  if (!source.ok) throw new Error(source.error.detail);
  const events: SourceEvent[] = [];
  source.value.start((event) => events.push(event));
  return { clock, source: source.value, events };
};

describe('simulated burner as a source', () => {
  it.each(lineShapes)('writes %s, which its own recipe reads whole', async (shape) => {
    const { clock, source, events } = start(shape);
    await clock.advance(60_000);
    const splitter = createLineSplitter();
    const fold = createRunFold(runHeader({ recipe: source.recipe }));
    for (const event of events) {
      if (event.kind === 'bytes') for (const line of splitter.push(event.bytes, event.atMs)) fold.push({ kind: 'line', ...line });
    }
    expect(fold.counters.rejected).toBe(0);
    // a cycle that has not come round holds its last sample back
    expect(fold.counters.understood).toBeGreaterThanOrEqual(60);
    // room air before the flame is in: 20.9 %vol O2 (US Standard Atmosphere, 1976: 20.9476 %)
    const values: Sample['values'] = fold.lastSample?.values ?? {};
    expect(values.o2).toBeLessThan(20.9);
    expect(values.stackTemperature).toBeGreaterThan(values.airTemperature as number);
  });

  it('says the same of one burner in every shape, up to rounding: whole ppm at the coarsest', async () => {
    const read = await Promise.all(
      lineShapes.map(async (shape) => {
        const { clock, source, events } = start(shape);
        await clock.advance(60_000);
        const splitter = createLineSplitter();
        const fold = createRunFold(runHeader({ recipe: source.recipe }));
        const values: Sample['values'][] = [];
        for (const event of events) {
          if (event.kind !== 'bytes') continue;
          for (const line of splitter.push(event.bytes, event.atMs)) {
            fold.push({ kind: 'line', ...line });
            if (fold.lastSample !== undefined && fold.lastSample.values !== values.at(-1)) values.push(fold.lastSample.values);
          }
        }
        return { shape, values: values[30] ?? {} };
      }),
    );
    const [columns] = read;
    for (const { shape, values } of read)
      for (const channel of ['o2', 'co', 'stackTemperature', 'airTemperature'] as const)
        expect(Math.abs((values[channel] ?? NaN) - (columns?.values[channel] ?? NaN)), `${shape} ${channel}`).toBeLessThanOrEqual(0.5);
  });

  it('stamps each line when it was due, and obeys a turned shutter', async () => {
    const { clock, source, events } = start('columns', 10);
    await clock.advance(1000);
    const times = events.flatMap((event) => (event.kind === 'bytes' ? [event.atMs] : []));
    expect(times.slice(0, 4)).toEqual([0, 0, 100, 200]); // header and first line together
    expect(source.adjust('Shutter', 3).ok).toBe(true);
    await clock.advance(1000);
    expect(source.adjusters().find(({ name }) => name === 'shutter')?.value).toBe(3);
    expect(source.adjust('pump', 3).ok).toBe(false);
    await source.stop();
    const before = events.length;
    await clock.advance(1000);
    expect(events).toHaveLength(before);
  });

  it('refuses what it does not know', () => {
    const clock = createFakeClock();
    expect(createSimulatedSource({ scenario: 'none', seed: 1, shape: 'columns', ratePerSecond: 1 }, clock).ok).toBe(false);
    expect(createSimulatedSource({ scenario: 'tune-up', seed: 1, shape: 'none', ratePerSecond: 1 }, clock).ok).toBe(false);
  });
});
