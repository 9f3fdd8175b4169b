import { expect, it } from 'vitest';
import { announcementsOf } from '../../../renderer/live/announcements.ts';
import { isHeard, tonesOf } from '../../../renderer/sound/sounds.ts';
import { readingOf, recordWith, stateOf } from '../helpers/records.ts';

const calm = recordWith({ states: [stateOf('o2', 'settling')] });
const sounds = (...pair: Parameters<typeof announcementsOf>): (string | undefined)[] =>
  announcementsOf(...pair)
    .map(({ sound }) => sound)
    .filter((sound) => sound !== undefined);

it('sounds once when a gas reading becomes ready, and again when the full one does', () => {
  const gas = recordWith({ openReading: readingOf('a') });
  const full = recordWith({ openReading: readingOf('a', { scope: 'full' }) });
  expect(sounds(calm, gas)).toEqual(['gas']);
  expect(sounds(gas, gas)).toEqual([]);
  expect(sounds(gas, full)).toEqual(['full']);
  expect(sounds(calm, full)).toEqual(['full']);
  expect(sounds(full, gas)).toEqual([]);
});
it('sounds when a trial that began in the middle of a rest can be read', () => {
  const at = (timeMs: number) => recordWith({ timeMs, states: [stateOf('o2', 'settled'), stateOf('co', 'settled')] });
  const trial = { fromMs: 70_000 };
  expect(sounds(at(129_000), at(130_000), trial)).toEqual(['full']);
  expect(sounds(at(130_000), at(131_000), trial)).toEqual([]);
  expect(sounds(at(129_000), at(130_000))).toEqual([]);
});
it('sounds when lines stop, and says when they are back', () => {
  const lost = recordWith({}, { phase: 'lost' });
  expect(sounds(calm, lost)).toEqual(['silent']);
  expect(sounds(lost, lost)).toEqual([]);
  expect(announcementsOf(lost, calm).map(({ words }) => words)).toContain('Lines are back.');
});
it('speaks changes of state', () => {
  expect(announcementsOf(calm, recordWith({ states: [stateOf('o2', 'settled')] }))[0]?.words).toBe('O2 settled.');
});
it('keeps quiet about another run', () => {
  expect(announcementsOf(calm, recordWith({}, { runId: 'other', phase: 'lost' }))).toEqual([]);
});
it('has short tones only, and none when muted, turned down or switched off', () => {
  for (const tones of Object.values(tonesOf)) for (const { lastMs } of tones) expect(lastMs).toBeLessThanOrEqual(70);
  const on = { volume: 0.5, muted: false, off: [] };
  expect([
    isHeard('gas', on),
    isHeard('gas', { ...on, muted: true }),
    isHeard('gas', { ...on, volume: 0 }),
    isHeard('gas', { ...on, off: ['gas'] }),
  ]).toEqual([true, false, false, false]);
});
