/** What a run has taught: read back, left aside where it must be, and used as a prior that the run can overrule. */
import { describe, expect, it } from 'vitest';
import { readKnowledge, type SettlingKnowledge } from '../../../shared/measurement/knowledge.ts';
import { createSettling } from '../../../shared/settling/settling.ts';
import { lines, step, tell } from './streams.ts';

const known: SettlingKnowledge = {
  format: 'flueside-knowledge',
  version: 1,
  appliance: 'pressure-atomizing oil burner',
  visits: 2,
  channels: {
    stackTemperature: { first: { mean: Math.log(80), sd: 0.1 }, sensor: { mean: Math.log(5), sd: 0.1 }, share: { mean: 0.45, sd: 0.05 } },
  },
};

describe('knowledge from a file', () => {
  it('comes back as it was written', () => {
    expect(readKnowledge(JSON.stringify(known))).toEqual({ ok: true, value: known });
  });
  it.each([
    ['of a newer version', JSON.stringify({ ...known, version: 2 }), 'file-newer'],
    ['of another kind of appliance', JSON.stringify({ ...known, appliance: 'gas boiler' }), 'file-foreign'],
    ['cut in the middle', JSON.stringify(known).slice(0, 60), 'file-damaged'],
    ['with a spread below zero', JSON.stringify(known).replace('"sd":0.1', '"sd":-1'), 'file-damaged'],
    ['of something else', '{"format":"other"}', 'file-damaged'],
  ])('%s is left aside and said', (_, text, code) => {
    const read = readKnowledge(text);
    expect(read.ok ? undefined : read.error.code).toBe(code);
  });
});

describe('knowledge in a run', () => {
  const turned = {
    o2: step(5, 6.5, 120, 9),
    co: step(30, 45, 120, 18),
    stack: (t: number): number => (t < 120 ? 230 : 246 - 9 * Math.exp(-(t - 120) / 5) - 7 * Math.exp(-(t - 120) / 80)),
  };
  it('is taught by a change, counts the visit, and gives the same readings when it is handed in again', () => {
    const samples = lines(turned, { seconds: 300 });
    const first = tell(samples).settling.knowledge();
    expect(first?.visits).toBe(1);
    const again = tell(samples, { known: first! });
    expect(again.settling.knowledge()?.visits).toBe(2);
    expect(tell(samples, { known: first! }).readings).toEqual(again.readings);
  });
  it('is not there before anything has changed', () => {
    expect(createSettling().knowledge()).toBeUndefined();
  });
});
