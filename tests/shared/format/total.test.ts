import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvRow } from '../../../shared/format/csv.ts';
import { formatDay, formatLongDay, isoDay, isoStamps, isoWithZone } from '../../../shared/format/date.ts';
import { formatClock, formatDate } from '../../../shared/format/duration.ts';
import { RunSummary } from '../../../shared/ipc/run-info.ts';
import { RunHeader } from '../../../shared/measurement/run.ts';
import { WallMs, ZoneMinutes } from '../../../shared/wall-clock.ts';
import { runHeader } from '../../helpers/ports/run-lines.ts';

describe('dates', () => {
  it('are said or left out, whatever the figure: none of them throws', () => {
    const all = [formatDay, formatLongDay, isoDay, isoWithZone, formatDate, (at: number, zone: number) => formatClock(at, zone, 'seconds')];
    fc.assert(
      fc.property(fc.double(), fc.double(), (wallMs, zone) => {
        for (const one of all) expect(typeof one(wallMs, zone)).toBe('string');
      }),
    );
    expect([formatDay(1e300, 0), isoDay(1e300), isoWithZone(NaN, 0), formatClock(1e300, 0, 'minutes')]).toEqual(['–', 'undated', '', '–']);
  });

  it('written one after the other are what each is alone', () => {
    const wall = fc.oneof(
      fc.integer({ min: -1e14, max: 1e14 }),
      fc.double(),
      fc.constantFrom(8.64e15, -8.64e15, 253_402_300_799_999, 0, -1),
    );
    const steps = fc.array(fc.constantFrom(0, 1, 100, 999, 1000, 59_999, 60_000, 3_600_000, -60_001, 0.5), { maxLength: 12 });
    fc.assert(
      fc.property(wall, fc.integer({ min: -1080, max: 1080 }), steps, (from, zone, all) => {
        const stamp = isoStamps(zone);
        let wallMs = from;
        for (const step of [0, ...all]) expect(stamp((wallMs += step))).toBe(isoWithZone(wallMs, zone));
      }),
    );
  });

  it('that no calendar has are damage in every file and message', () => {
    for (const wrong of [1e300, -1e300, 8.64e15, 253_402_300_800_000]) expect(WallMs.safeParse(wrong).success).toBe(false);
    for (const right of [0, 1_764_000_000_000, -2_000_000_000_000, 253_402_300_799_999]) expect(WallMs.safeParse(right).success).toBe(true);
    for (const wrong of [1e9, -1081, 0.5]) expect(ZoneMinutes.safeParse(wrong).success).toBe(false);
    const header = runHeader({ runId: 'one' });
    expect(RunHeader.safeParse(header).success).toBe(true);
    expect(RunHeader.safeParse({ ...header, startWallMs: 1e300 }).success).toBe(false);
    expect(RunHeader.safeParse({ ...header, zoneMinutes: 1e12 }).success).toBe(false);
    expect(RunSummary.shape.header.safeParse({ ...header, startWallMs: 1e300 }).success).toBe(false);
  });
});

describe('cells of CSV', () => {
  it.each([
    '=1+1',
    '  =1+1',
    '\n=1+1',
    '\0=1+1',
    '\ufeff=1+1',
    '\u200b+1',
    '\u00a0-1',
    '\uff1d1+1',
    '\uff0b1',
    '\uff0d1',
    '\uff20sum',
    '@sum',
    '\t=1',
    '\r=1',
  ])('are no formula when they hold %j', (text) => {
    const cell = csvRow([text], 'comma');
    expect(cell).toMatch(/^"?'/);
    expect(cell).not.toContain('\0');
  });
  it('stay as they are when they are plain', () => {
    expect(csvRow(['Boiler 1', 'a = b', '5.1'], 'comma')).toBe('Boiler 1,a = b,5.1\r\n');
  });
});
