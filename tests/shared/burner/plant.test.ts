/** The plant by itself, step by step: it comes to rest where it says, and what a stop leaves. Constants: MODEL.md. */
import { describe, expect, it } from 'vitest';
import { draw } from '../../../shared/burner/draw.ts';
import { effectsOf } from '../../../shared/burner/geometry-effects.ts';
import type { AmountName } from '../../../shared/burner/parts.ts';
import { createPlant, type FlueGas, type PlantInputs } from '../../../shared/burner/plant.ts';
import { scenarioNamed } from './read-stream.ts';

const { burner, appliance, surroundings } = scenarioNamed('tune-up');
const parameters = {
  burner: draw(burner, 1, 'burner'),
  appliance: draw(appliance, 1, 'appliance'),
  surroundings: draw(surroundings, 1, 'surroundings'),
};
const { roomC, roomWarmsK } = parameters.surroundings;

const inputs = (amounts: Partial<Record<AmountName, number>> = {}, more: Partial<PlantInputs> = {}): PlantInputs => ({
  positions: { shutter: 5, band: 3 },
  amounts: {
    pumpPressurePa: parameters.burner.nominalPumpPa,
    chimneyDraftFactor: 1,
    roomDepressionPa: 0,
    roomCoPpm: 0,
    leakFraction: 0,
    fouling: 1,
    nozzleFault: 0,
    inletBlockage: 0,
    flutterFraction: 0,
    creepPpmPerMinute: 0,
    afterDripSeconds: 8,
    filterClog: 0,
    ...amounts,
  },
  firing: true,
  secondStage: false,
  draftWanderPa: 0,
  flutter: 0,
  geometry: effectsOf(),
  puffOil: 0,
  ...more,
});
const off = (amounts: Partial<Record<AmountName, number>> = {}): PlantInputs => inputs(amounts, { firing: false });
type Plant = ReturnType<typeof createPlant>;
function run(plant: Plant, given: PlantInputs, seconds: number): FlueGas {
  for (let second = 0; second < seconds; second++) plant.step(given, 1);
  return plant.now();
}
/** time enough for everything to come to rest; in long steps, for each store moves exactly */
function atRest(plant: Plant, given: PlantInputs): FlueGas {
  for (let step = 0; step < 300; step++) plant.step(given, 8);
  return plant.now();
}
const warm = (): Plant => {
  const plant = createPlant(parameters);
  atRest(plant, inputs());
  return plant;
};

describe('a flame that burns on', () => {
  it.each([
    ['as it is', {}, {}],
    ['with a fouled exchanger', { fouling: 1.4 }, {}],
    ['with a worn nozzle and little pressure', { nozzleFault: 0.4, pumpPressurePa: 500_000 }, {}],
    ['in a room with depression, the inlet blocked in part', { roomDepressionPa: 6, inletBlockage: 0.3 }, {}],
    ['at the second stage', {}, { secondStage: true }],
  ])('comes to rest where it says: %s', (_, amounts, more) => {
    const given = inputs(amounts, more);
    const plant = createPlant(parameters);
    const now = atRest(plant, given);
    const rest = plant.atRest(given)!;
    for (const [name, value] of Object.entries(rest)) expect([name, now[name as keyof FlueGas]]).toEqual([name, expect.closeTo(value, 2)]);
    expect(now.airC).toBeCloseTo(roomC + roomWarmsK, 3);
  });
  it('has no place of rest while it is off', () => expect(createPlant(parameters).atRest(off())).toBeUndefined());
  it('is cold air before it is first lit', () => {
    const plant = createPlant(parameters);
    const before = { o2Percent: 20.946, coPpm: 0, h2Ppm: 0, stackC: roomC, airC: roomC, airRatio: Infinity, smoke: 0 };
    expect(plant.now()).toMatchObject({ ...before, overFirePa: 0, breechPa: 0, onsetO2: parameters.burner.smokeOnsetO2 });
    const { stackC, ...rest } = run(plant, off(), 600);
    expect(rest).toMatchObject({ o2Percent: 20.946, coPpm: 0, h2Ppm: 0, airC: roomC, airRatio: Infinity, smoke: 0 });
    expect(stackC).toBeCloseTo(roomC, 6);
  });
  it('creeps by so many ppm a minute, and keeps what it has crept to until it stops', () => {
    const plant = warm();
    const before = plant.now().coPpm;
    const share = 1 - plant.now().o2Percent / 20.946;
    expect(run(plant, inputs({ creepPpmPerMinute: 6 }), 600).coPpm - before).toBeCloseTo(60 * share, 0);
    expect(run(plant, inputs(), 600).coPpm - before).toBeCloseTo(60 * share, 0);
    run(plant, off(), 60);
    expect(atRest(plant, inputs()).coPpm).toBeCloseTo(before, 1);
  });
  it('smokes at more air while it is cold, and peaks in CO when it is lit', () => {
    const plant = createPlant(parameters);
    const lit = run(plant, inputs(), 2);
    // 1.5 % more, of which two seconds of fifty are gone
    expect(lit.onsetO2 - parameters.burner.smokeOnsetO2).toBeCloseTo(1.5 * Math.exp(-2 / 50), 6);
    const spike = parameters.burner.startCoPpm * Math.exp(-2 / 50) * Math.exp(-2 / 12);
    expect(lit.coPpm / (spike * (1 - lit.o2Percent / 20.946))).toBeGreaterThan(0.9);
    expect(lit.coPpm / (spike * (1 - lit.o2Percent / 20.946))).toBeLessThan(1.3);
    expect(run(plant, inputs(), 300).onsetO2).toBeCloseTo(parameters.burner.smokeOnsetO2, 1);
  });
});

describe('a stop', () => {
  it('leaves smoke of the drip that fades with three times its seconds', () => {
    const smokeAt = (seconds: number, afterDripSeconds: number): number => run(warm(), off({ afterDripSeconds }), seconds).smoke;
    for (const drip of [8, 16]) {
      expect(smokeAt(3 * drip, drip)).toBeCloseTo(6 / Math.E, 9);
      expect(smokeAt(6 * drip, drip)).toBeCloseTo(6 / Math.E ** 2, 9);
    }
    // a short drip is a small one
    expect(smokeAt(12, 4)).toBeCloseTo(3 / Math.E, 9);
    expect(smokeAt(3, 1)).toBeCloseTo(0.75 / Math.E, 9);
  });
  it('leaves CO that fades with its seconds, and air within half a minute', () => {
    const plant = warm();
    const coAt = (seconds: number): number => run(plant, off({ afterDripSeconds: 20 }), seconds).coPpm;
    const [first, second] = [coAt(20), coAt(20)];
    expect(second / first).toBeCloseTo(1 / Math.E, 3);
    expect(first).toBeCloseTo(parameters.burner.stopCoPpm / Math.E, -1);
    expect(plant.now().o2Percent).toBeGreaterThan(20.9);
    expect(plant.now().airRatio).toBe(Infinity);
  });
  it('cools to a body that keeps a quarter of the warmth of its water', () => {
    const plant = warm();
    atRest(plant, off());
    const { stackC, airC } = atRest(plant, off());
    expect(airC).toBeCloseTo(roomC, 3);
    expect(stackC).toBeCloseTo(airC + 0.25 * (parameters.appliance.waterC - airC), 2);
  });
});
