/** Which rooms the alarms know: what was written down outlives a restart of the host, and what was removed is gone. */
import { expect, it } from 'vitest';
import { createRooms } from '../../../main/alarms/rooms.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';

type Stored = { status: 'open' | 'closed'; got?: Problem };
function roomsOf(
  visits: Readonly<Record<string, Stored>>,
  { known = [], listed = ok({}) }: { known?: string[]; listed?: Result<object, Problem> } = {},
) {
  const heard: string[] = [];
  const tables = {
    visits: {
      list: () => (listed.ok ? ok({ visits: Object.entries(visits).map(([id, { status }]) => ({ id, status })) }) : listed),
      get(id: string) {
        const one = visits[id];
        if (one === undefined) return err(problem('not-found'));
        return one.got === undefined ? ok({ visit: { id } }) : err(one.got);
      },
    },
  };
  const records = { use: (work: (all: unknown) => unknown) => Promise.resolve(work(tables)) };
  const rooms = createRooms(records as never, {
    visits: () => known,
    visitStored: ({ id }) => void heard.push(`stored ${id}`),
    visitRemoved: (id) => void heard.push(`removed ${id}`),
  });
  return { rooms, heard };
}
const damaged = problem('file-damaged');

it('at the start every open visit that can be read is known, and no other', async () => {
  const { rooms, heard } = roomsOf({
    a: { status: 'open' },
    b: { status: 'closed' },
    c: { status: 'open', got: damaged },
    d: { status: 'open' },
  });
  await rooms.readAll();
  expect(heard).toEqual(['stored a', 'stored d']);
});

it('records that cannot be read at the start keep nobody from starting', async () => {
  const { rooms, heard } = roomsOf({}, { listed: err(damaged) });
  await rooms.readAll();
  expect(heard).toEqual([]);
});

it('after a change what is known is read again; what was removed is forgotten, what cannot be read now stays', async () => {
  const { rooms, heard } = roomsOf({ a: { status: 'closed' }, c: { status: 'open', got: damaged } }, { known: ['a', 'gone', 'c'] });
  await rooms.lookAgain();
  expect(heard).toEqual(['stored a', 'removed gone']);
});
