import { describe, expect, it } from 'vitest';
import { createContradictionWatch } from '../../../shared/lines/sample-watches.ts';
import { createConfirmation } from '../../../shared/lines/confirm.ts';
import { createSentinelWatch } from '../../../shared/lines/reading/sentinels.ts';
import { createStaleWatch } from '../../../shared/lines/stale.ts';
import { unprintableShare } from '../../../shared/lines/wrong-baud.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';

const sample = (timeMs: number, values: Sample['values']): Sample => ({ timeMs, values });

describe('confirming the columns by two facts', () => {
  const air = { o2: 20.9, co: 0, stackTemperature: 22, airTemperature: 21 };
  it('confirms room air, and that warming the probe moves the stack temperature alone', () => {
    const confirmation = createConfirmation();
    for (let t = 0; t < 10; t++) confirmation.push(sample(t * 1000, air));
    expect(confirmation.state).toMatchObject({ roomAir: 'confirmed', probe: 'not-started' });
    confirmation.startWarming();
    for (let t = 10; t < 30; t++) confirmation.push(sample(t * 1000, { ...air, stackTemperature: 22 + (t - 10) }));
    expect(confirmation.state).toMatchObject({ probe: 'confirmed', moved: ['stackTemperature'] });
  });
  it.each([
    [{ ...air, o2: 4.1 }, 'o2-differs'],
    [{ ...air, co: 212 }, 'co-differs'],
  ] as const)('does not confirm %j', (values, verdict) => {
    const confirmation = createConfirmation();
    for (let t = 0; t < 20; t++) confirmation.push(sample(t * 1000, values));
    expect(confirmation.state.roomAir).toBe(verdict);
  });
  it('says when another column moved, or more than one', () => {
    const warm = (change: (t: number) => Sample['values']): string => {
      const confirmation = createConfirmation();
      for (let t = 0; t < 10; t++) confirmation.push(sample(t * 1000, air));
      confirmation.startWarming();
      for (let t = 10; t < 30; t++) confirmation.push(sample(t * 1000, change(t - 10)));
      return confirmation.state.probe;
    };
    expect(warm((t) => ({ ...air, airTemperature: 21 + t }))).toBe('another-moved');
    expect(warm((t) => ({ ...air, stackTemperature: 22 + t, airTemperature: 21 + t }))).toBe('several-moved');
    expect(warm(() => air)).toBe('waiting');
  });
});

describe('stale channels', () => {
  it('speaks when all channels stand still to the last bit while lines go on', () => {
    const watch = createStaleWatch({ forMs: 30_000, leastLines: 10 });
    let stale: number | undefined;
    for (let t = 0; t <= 30; t++) stale = watch.push(sample(t * 1000, { o2: 4.1, co: 23 }));
    expect(stale).toBe(0);
    expect(watch.push(sample(31_000, { o2: 4.1, co: 24 }))).toBeUndefined();
  });
  it('is content when one channel moves, and when few lines come', () => {
    const watch = createStaleWatch({ forMs: 30_000, leastLines: 10 });
    for (let t = 0; t < 100; t++) expect(watch.push(sample(t * 1000, { o2: 4.1, co: t % 2 }))).toBeUndefined();
    const slow = createStaleWatch({ forMs: 30_000, leastLines: 10 });
    for (let t = 0; t < 5; t++) expect(slow.push(sample(t * 20_000, { o2: 4.1 }))).toBeUndefined();
  });
});

it('warns once when a measured value equals a classic sentinel three times', () => {
  const watch = createSentinelWatch();
  expect([9999, 9999, 12, 9999, 9999].map((value) => watch.seen('co', value))).toEqual([
    undefined,
    undefined,
    undefined,
    { channel: 'co', value: 9999 },
    undefined,
  ]);
});

it('does not take text with degree signs for a wrong speed', () => {
  const lines = Array.from({ length: 20 }, () => ({ timeMs: 0, bytes: 'T 212.4 \u00b0C' }));
  expect(unprintableShare(lines).isWrong).toBe(false);
});

it('says that stack and air stand for each other, also where what is called air is too hot to be any', () => {
  const watch = createContradictionWatch();
  watch.push(sample(0, { o2: 5.2, stackTemperature: 21.7, airTemperature: 110 }));
  const swapped: Sample = { ...sample(0, { o2: 5.2, stackTemperature: 21.7 }), absent: { airTemperature: 'over-range' } };
  expect(Array.from({ length: 10 }, () => watch.push(swapped)).at(-1)).toBe('temperatures');
  const hot: Sample = { ...sample(0, { o2: 5.2, stackTemperature: 190 }), absent: { airTemperature: 'over-range' } };
  expect(Array.from({ length: 10 }, () => watch.push(hot)).at(-1)).toBeUndefined();
  // a plug that is not in says 'over' from the first line on
  const unplugged = createContradictionWatch();
  expect(Array.from({ length: 10 }, () => unplugged.push(swapped)).at(-1)).toBeUndefined();
});
