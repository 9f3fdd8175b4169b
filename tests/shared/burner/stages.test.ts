import { describe, expect, it } from 'vitest';
import { applyOrder } from '../../../shared/burner/order.ts';
import { between, burnerOf, meanOf, rowsOf, seeds } from './read-stream.ts';

describe.each(seeds)('a burner with two stages, seed %d', (seed) => {
  it('burns more at the second: a warmer stack, more draft lost on the way, and back again at the first', () => {
    const burner = burnerOf('purge', seed); // warm before the first line; the purges are over after 950 s
    const rest = (atMs: number) => ({ ...burner.gauges(atMs), ...burner.truth(atMs) });
    const low = rest(1_500_000);
    burner.setStage('2', 1_500_000);
    const high = rest(3_000_000);
    burner.setStage('1', 3_000_000);
    const back = rest(4_500_000);

    // a higher firing rate shows as a higher net stack temperature: shared/reference/procedure.md 1.10, row "Net stack above ...: firing rate too
    // high" (guideline, EPA75, from memory there); it still has to be a stack that a technician meets (MN1346: 700 degF above ambient)
    expect(high.shown.stackTemperature - low.shown.stackTemperature).toBeGreaterThan(30);
    expect(high.shown.stackTemperature - high.shown.airTemperature).toBeLessThan(370);
    // more gas through the same ways: the drop from over the fire to the breech grows (orifice law)
    expect(high.overFirePa - high.breechPa).toBeGreaterThan(1.3 * (low.overFirePa - low.breechPa));
    // the lower stage commonly runs with the more air (common practice)
    expect(low.shown.o2).toBeGreaterThan(high.shown.o2);
    expect(low.shown.o2 - high.shown.o2).toBeLessThan(2);
    expect(back.shown.stackTemperature).toBeCloseTo(low.shown.stackTemperature, -1);
    expect(back.shown.o2).toBeCloseTo(low.shown.o2, 0);
  });

  it('shows it in the lines, and takes it as an order', () => {
    const burner = burnerOf('purge', seed);
    rowsOf(burner, 1500);
    expect(applyOrder(burner, 'secondstage on', 1_500_000)).toMatchObject({ ok: true });
    const rows = rowsOf(burner, 2200);
    expect(meanOf(between(rows, 2100, 2200), 'stack')).toBeGreaterThan(meanOf(between(rows, 1500, 1503), 'stack') + 20);
    expect(burner.parts().switches.secondStage).toBe(true);
  });
});

it('knows one stage only until another is asked for: every scenario stays what it was', () => {
  const told = burnerOf('tune-up', 3);
  told.setStage('1', 0);
  expect(told.advanceTo(300_000)).toEqual(burnerOf('tune-up', 3).advanceTo(300_000));
});
