/** Records with 10 000 visits: start-up, search, opening; against an empty records file of the same run. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openRecords } from '../../main/store/open.ts';
import { createAppliances } from '../../main/store/appliances.ts';
import { createVisits } from '../../main/store/visits.ts';
import { smallVisit, START } from '../shared/report/small-visit.ts';

const VISITS = 10_000;
const APPLIANCES = 2000;
const ROUNDS = 25;
const DAY_MS = 86_400_000;

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
const worst = (values: readonly number[]): number => Math.max(...values);
function times(work: (round: number) => void): number[] {
  return Array.from({ length: ROUNDS }, (_, round) => {
    const from = performance.now();
    work(round);
    return performance.now() - from;
  });
}

export async function speedStore(report: (name: string, value: number, unit: string, note?: string) => void): Promise<void> {
  const folders = [mkdtempSync(join(tmpdir(), 'flueside-speed-')), mkdtempSync(join(tmpdir(), 'flueside-speed-'))] as const;
  try {
    await open(folders[0], () => undefined);
    const filled = performance.now();
    await open(folders[1], fill);
    report('filling the records', (performance.now() - filled) / 1000, 's', `${VISITS} visits, ${APPLIANCES} appliances`);

    const starts = { empty: [] as number[], full: [] as number[] };
    for (let round = 0; round < ROUNDS; round++) {
      starts.empty.push(await timed(() => open(folders[0], firstPage)));
      starts.full.push(await timed(() => open(folders[1], firstPage)));
    }
    report('start to first page, empty', median(starts.empty), 'ms');
    report(
      'start to first page, 10 000 visits',
      median(starts.full),
      'ms',
      `worst ${worst(starts.full).toFixed(1)}; goal: at most 1000 more than empty`,
    );

    await open(folders[1], ({ visits, ids }) => {
      const found = (words: string): number => {
        const list = visits.list({ search: words, limit: 100 });
        if (!list.ok) throw new Error(list.error.code);
        return list.value.total;
      };
      for (const [name, words] of [
        ['by a name', 'furnace 1234'],
        ['by a word that all have', 'sample'],
        ['by a number', '4711'],
        ['that finds nothing', 'zzzz'],
      ] as const) {
        const taken = times(() => found(words));
        report(`search ${name}`, median(taken), 'ms', `worst ${worst(taken).toFixed(1)}, ${found(words)} found; goal 50`);
      }
      const taken = times((round) => {
        const stored = visits.get(ids[(round * 397) % ids.length] ?? '');
        if (!stored.ok) throw new Error(stored.error.code);
      });
      report('opening a visit', median(taken), 'ms', `worst ${worst(taken).toFixed(1)}; goal 200`);
    });
  } finally {
    for (const folder of folders) rmSync(folder, { recursive: true, force: true });
  }
}

type Opened = {
  visits: ReturnType<typeof createVisits>;
  appliances: ReturnType<typeof createAppliances>;
  ids: string[];
  transact: (work: () => void) => void;
};
const ids: string[] = [];

async function open(folder: string, work: (opened: Opened) => void): Promise<void> {
  const records = await openRecords({ folder, wallMs: START });
  if (!records.ok) throw new Error(records.error.code);
  const appliances = createAppliances(records.value.db);
  work({
    appliances,
    visits: createVisits(records.value.db, (id) => appliances.nameOf(id)),
    ids,
    transact: (all) => records.value.db.inTransaction(all),
  });
  records.value.close();
}

const firstPage = ({ visits }: Opened): void => {
  const list = visits.list({ limit: 100 });
  if (!list.ok) throw new Error(list.error.code);
};

function fill({ visits, appliances, transact }: Opened): void {
  transact(() => {
    for (let n = 0; n < APPLIANCES; n++) appliances.save(`unit-${n}`, { format: 1, name: `Furnace ${n}`, kind: 'furnace' }, START);
    for (let n = 0; n < VISITS; n++) {
      const id = `visit-${n}`;
      ids.push(id);
      visits.adopt(
        smallVisit({ id, number: n + 1, applianceId: `unit-${n % APPLIANCES}`, startedWallMs: START - n * (DAY_MS / 4) }),
        START,
      );
    }
  });
}

async function timed(work: () => Promise<void>): Promise<number> {
  const from = performance.now();
  await work();
  return performance.now() - from;
}
