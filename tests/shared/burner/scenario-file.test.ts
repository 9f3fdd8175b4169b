import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { createBurner } from '../../../shared/burner/burner.ts';
import { applyOrder } from '../../../shared/burner/order.ts';
import { defaultScenario, findScenario, readScenario, scenarioList } from '../../../shared/burner/scenarios/catalogue.ts';
import { burnerOf, scenarioNamed } from './read-stream.ts';

describe('scenario files', () => {
  it.each(scenarioList.map(({ name }) => name))('%s goes through a file and gives the same run', (name) => {
    const read = readScenario(JSON.stringify(scenarioNamed(name)));
    if (!read.ok) throw new Error(read.error.detail);
    expect(createBurner({ scenario: read.value, seed: 3 }).advanceTo(30_000)).toEqual(burnerOf(name, 3).advanceTo(30_000));
  });

  it('has the default among its names, and no name twice', () => {
    const names = scenarioList.map(({ name }) => name);
    expect(names).toContain(defaultScenario);
    expect(new Set(names).size).toBe(names.length);
    expect(findScenario('nothing-of-the-kind').ok).toBe(false);
  });

  const smallest = { format: 'flueside-scenario', version: 1, name: 'mine', title: 'Mine', about: 'A test.' };
  it('needs no more than a name and words; the rest has defaults', () => {
    const read = readScenario(JSON.stringify(smallest));
    if (!read.ok) throw new Error(read.error.detail);
    expect(createBurner({ scenario: read.value, seed: 1 }).advanceTo(10_000).length).toBe(12);
  });

  it('reads the example of its own document', () => {
    const text = readFileSync(new URL('../../../shared/burner/MODEL.md', import.meta.url), 'utf8');
    const example = /```json\n([\s\S]*?)```/.exec(text)?.[1] ?? '';
    const read = readScenario(example);
    if (!read.ok) throw new Error(read.error.detail);
    const burner = createBurner({ scenario: read.value, seed: 1 });
    burner.advanceTo(1_000_000);
    expect(burner.parts().amounts.leakFraction).toBe(0.15);
    expect(burner.adjusters()[0]?.value).toBe(5);
  });

  it.each([
    ['no JSON', '{', 'file-foreign'],
    ['another format', JSON.stringify({ ...smallest, format: 'other' }), 'file-foreign'],
    ['a newer version', JSON.stringify({ ...smallest, version: 2 }), 'file-newer'],
    ['a misspelt key', JSON.stringify({ ...smallest, burner: { shuter: 3 } }), 'file-damaged'],
    ['a part that is not there', JSON.stringify({ ...smallest, events: [{ atS: 0, part: 'warp', value: 1 }] }), 'file-damaged'],
    [
      'a part with the wrong kind of value',
      JSON.stringify({ ...smallest, events: [{ atS: 0, part: 'firing', value: 1 }] }),
      'file-damaged',
    ],
    ['a gas that is none', JSON.stringify({ ...smallest, events: [{ atS: 0, part: 'inlet', value: { o2Percent: -3 } }] }), 'file-damaged'],
    ['a range the wrong way round', JSON.stringify({ ...smallest, burner: { shutter: { from: 5, to: 3 } } }), 'file-damaged'],
    ['a time constant that is none', JSON.stringify({ ...smallest, appliance: { slowSeconds: 0 } }), 'file-damaged'],
    ['a last digit that is none', JSON.stringify({ ...smallest, instrument: { steps: { o2: 0 } } }), 'file-damaged'],
  ])('refuses %s', (_what, text, code) => {
    const read = readScenario(text);
    expect(read.ok ? 'read' : read.error.code).toBe(code);
    // our own words, not the schema library's marks and arrows
    expect(read.ok ? '' : (read.error.detail ?? '')).not.toMatch(/✖|→|Invalid input/);
  });
});

describe('orders', () => {
  it.each([
    ['shutter 4.5', 'shutter to 4.5'],
    ['purge on', 'purge on'],
    ['inlet co-400', 'inlet co-400'],
    ['inlet probe', 'inlet probe'],
    ['FOULING 1.15 over 300', 'fouling 1.15 over 300 s'],
    ['pumpPressurePa 500000', 'pumpPressurePa 500000'],
  ])('%s', (text, said) => {
    expect(applyOrder(burnerOf('tune-up', 1), text, 0)).toEqual({ ok: true, value: said });
  });

  it.each(['', 'shutter', 'shutter wide', 'purge 3', 'inlet xenon', 'warp 9', 'purge on over', 'shutter 1 2'])('refuses "%s"', (text) => {
    expect(applyOrder(burnerOf('tune-up', 1), text, 0).ok).toBe(false);
  });

  it('an order over some time moves in a straight line', () => {
    const burner = burnerOf('tune-up', 1);
    applyOrder(burner, 'pumpPressurePa 490000 over 100', 10_000);
    expect(burner.gauges(60_100).pumpPressurePa).toBeCloseTo(590_000, -3);
    expect(burner.gauges(200_000).pumpPressurePa).toBe(490_000);
  });
});
