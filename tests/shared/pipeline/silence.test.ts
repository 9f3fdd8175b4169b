/** From when on a stream counts as silent: three of its usual periods, two seconds at least. */
import { describe, expect, it } from 'vitest';
import { createSilenceWatch } from '../../../shared/pipeline/silence.ts';

/** A watch that has heard lines at this pace for so long that it knows it. */
function used(periodMs: number, fromMs = 0) {
  const watch = createSilenceWatch();
  let timeMs = fromMs;
  for (let line = 0; line < 400; line++) watch((timeMs += periodMs));
  return { after: (apartMs: number) => watch((timeMs += apartMs)) };
}

describe('a line after a silence', () => {
  it('is none at the beginning, whenever that is', () => {
    for (const atMs of [0, 5, 3_600_000]) expect(createSilenceWatch()(atMs)).toBe(false);
  });

  it.each([
    ['ten a second: two seconds', 100, 1990, 2010],
    ['two a second: two seconds', 500, 1990, 2010],
    ['one a second: three seconds', 1000, 2950, 3050],
    ['one in four seconds: twelve', 4000, 11_900, 12_100],
  ])('%s', (_, periodMs, notYet, silent) => {
    expect(used(periodMs).after(notYet)).toBe(false);
    expect(used(periodMs).after(silent)).toBe(true);
    expect(used(periodMs, 86_400_000).after(silent)).toBe(true);
  });

  it('comes regularly: none of them is after a silence', () => {
    for (const periodMs of [100, 1000, 4000]) expect(used(periodMs).after(periodMs)).toBe(false);
  });

  it('a night without lines is not taken for the usual pace: the next silence is seen as before', () => {
    const watch = used(1000);
    expect(watch.after(8 * 3_600_000)).toBe(true);
    expect(watch.after(1000)).toBe(false);
    expect(watch.after(4000)).toBe(true);
  });

  it('a clock that was set back is no silence and no pace', () => {
    const watch = used(1000);
    expect(watch.after(-60_000)).toBe(false);
    expect(watch.after(2950)).toBe(false);
    const other = used(1000);
    other.after(-60_000);
    expect(other.after(3050)).toBe(true);
  });
});
