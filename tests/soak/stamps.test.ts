import { expect, it } from 'vitest';
import { soakStamps } from './stamps.ts';

/**
 * How late a stamp may be, in ms, is measured by `npm run soak -- stamps` on a quiet machine. Here: while a work is under way the lines go on being
 * stamped. Work in the loop that stamps would leave all of them for its end, however fast or slow the machine is.
 */
it('stamps go on while backups, exports and reports are made (short form of npm run soak -- stamps)', { timeout: 120_000 }, async () => {
  const figures = await soakStamps({ dayLines: 30_000, visits: 20, idleMs: 200 });
  expect(figures.missing).toBe(0);
  expect(figures.works['restore']).toMatch(/^restore-in-capture/);
  for (const [work, text] of Object.entries(figures.works))
    if (work !== 'restore') expect([work, text]).toEqual([work, expect.stringMatching(/^done/)]);
  const long = Object.entries(figures.sent).filter(([, sent]) => sent >= 20);
  expect(long.length).toBeGreaterThan(0);
  for (const [work, sent] of long) {
    const meanwhile = figures.stampedMeanwhile[work] ?? 0;
    expect([work, meanwhile > sent / 2, `${meanwhile} of ${sent}`]).toEqual([work, true, `${meanwhile} of ${sent}`]);
  }
});
