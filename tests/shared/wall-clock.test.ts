import { expect, it } from 'vitest';
import { WallMs, ZoneMinutes } from '../../shared/wall-clock.ts';

it.each([
  [0, true],
  [840, true],
  [1080, true],
  [-1080, true],
  [1081, false],
  [-1081, false],
  [0.5, false],
  [Number.NaN, false],
])('a zone %d min east of UTC stands: %s', (minutes, stands) => expect(ZoneMinutes.safeParse(minutes).success).toBe(stands));

it.each([
  [0, true],
  [Date.UTC(9999, 11, 31, 23, 59, 59, 999), true],
  [Date.UTC(10_000, 0, 1), false],
  // 0001-01-01, which Date.UTC would take for 1901
  [Date.parse('0001-01-01T00:00:00Z'), true],
  [Date.parse('0001-01-01T00:00:00Z') - 1, false],
])('a time of %d ms stands: %s', (ms, stands) => expect(WallMs.safeParse(ms).success).toBe(stands));
