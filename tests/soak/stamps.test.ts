import { expect, it } from 'vitest';
import { soakStamps } from './stamps.ts';

/** The figure is 50 ms, measured by `npm run soak -- stamps`; beside other tests, five times that. */
const MOST_MS = 250;

it(
  'stamps stay true while backups, exports and reports are made (short form of npm run soak -- stamps)',
  { timeout: 120_000 },
  async () => {
    const figures = await soakStamps({ dayLines: 60_000, visits: 40, idleMs: 500 });
    expect(figures.missing).toBe(0);
    expect(figures.lines).toBeGreaterThan(50);
    expect(figures.works['restore']).toMatch(/^restore-in-capture/);
    for (const [work, text] of Object.entries(figures.works))
      if (work !== 'restore') expect([work, text]).toEqual([work, expect.stringMatching(/^done/)]);
    for (const [work, worst] of Object.entries(figures.worstMs))
      expect([work, worst <= MOST_MS + figures.idleMs, worst]).toEqual([work, true, worst]);
  },
);
