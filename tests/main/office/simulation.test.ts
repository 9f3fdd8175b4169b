/** The short form of `npm run soak -- office`. */
import { describe, expect, it } from 'vitest';
import { noPostgres } from '../../helpers/host/postgres.ts';
import { soakOffice } from '../../soak/office.ts';

const good = { lost: 0, notInOffice: 0, doubled: 0, otherIds: 0, wrongHashes: 0, ends: 1, stillQueued: 0 };

describe('four laptops that work apart, drop out and end in the middle', () => {
  it('lose nothing and end alike with a folder', async () => {
    const figures = await soakOffice({ laptops: 4, visits: 48, place: 'folder', seed: 11 });
    expect(figures).toMatchObject({ ...good, signed: 48 });
    expect(figures.kills).toBeGreaterThan(0);
  });
  it.skipIf(noPostgres !== undefined)('lose nothing and end alike with a server that is killed', async () => {
    const figures = await soakOffice({ laptops: 4, visits: 48, place: 'postgres', seed: 12 });
    expect(figures).toMatchObject({ ...good, signed: 48 });
    expect(figures.serverKills).toBeGreaterThan(0);
  });
});
