/** Buttons pressed in any order, through the reducers of the host's session: after every press the laws hold. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { press, pressAll, type Met } from './any-order.ts';

it('whatever is pressed after what, no press leads out of the laws', () => {
  const met: Met = { pressed: 0, oil: 0, alarm: 0, lessAir: 0, refused: 0, signed: 0 };
  fc.assert(
    fc.property(fc.array(press, { minLength: 5, maxLength: 24, size: 'max' }), (presses) => pressAll(presses, met)),
    { numRuns: 150, seed: 3 },
  );
  console.info(
    `any order: ${met.pressed} presses, ${met.oil} with oil open, ${met.alarm} at the CO alarm, ${met.lessAir} with less air advised, ${met.signed} signed, ${met.refused} refused`,
  );
  expect(met.pressed).toBeGreaterThan(1500);
  for (const count of [met.oil, met.alarm, met.lessAir, met.refused, met.signed]) expect(count).toBeGreaterThan(3);
});

/** Found in this way: tightened, oil on the paper, then a new nozzle. The part before the change was lost, and the oil with it. */
it('oil that was seen after tightening is not lost when something is changed', () => {
  const met: Met = { pressed: 0, oil: 0, alarm: 0, lessAir: 0, refused: 0, signed: 0 };
  pressAll(
    [
      { does: 'turn', to: 5 },
      { does: 'spot', number: 0, oil: true, wet: false },
      { does: 'read', o2: 5, co: 0, settled: true },
      { does: 'changed', kind: 'nozzle' },
      { does: 'spot', number: 0, oil: false, wet: false },
    ],
    met,
  );
  expect(met.oil).toBe(4);
});
