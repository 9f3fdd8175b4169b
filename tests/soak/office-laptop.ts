/**
 * One laptop of a workshop, by chance: it signs visits, corrects, changes appliances, sends and takes; its connection drops. In a process of its own it can be
 * killed at any moment and goes on from its store. What it says it signed was on its disk by then.
 */
import { mkdirSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { openFolderOffice } from '../../main/office/folder/folder-office.ts';
import type { Office } from '../../main/office/office.ts';
import { itemsHere } from '../../main/office/items-here.ts';
import { openPostgresOffice } from '../../main/office/postgres/postgres-office.ts';
import type { ServerChoice } from '../../main/office/postgres/connect.ts';
import { meet, pull, push, type SyncStore } from '../../main/office/sync.ts';
import { openRecords } from '../../main/store/open.ts';
import { storeTables, type StoreTables } from '../../main/store/tables.ts';
import { takePersonOut } from '../../main/store/take-person-out.ts';
import { visitHash } from '../../main/store/visits.ts';
import { hashOf } from '../../main/office/office.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, type Result } from '../../shared/result.ts';
import { editVisit } from '../../shared/tuning/visit/visit.ts';
import { boiler, signedVisit } from '../helpers/visits/office-items.ts';

export type OfficePlace = { kind: 'folder'; folder: string } | { kind: 'postgres'; choice: ServerChoice; password: string };
export type LaptopPlan = {
  readonly folder: string;
  readonly name: string;
  /** how many it signs in all */
  readonly visits: number;
  readonly appliances: number;
  readonly seed: number;
  readonly place: OfficePlace;
  /** nothing fails any more: it only sends and takes until nothing is left */
  readonly isLast: boolean;
  readonly say: (line: string) => void;
  /** ends in the middle, like a kill: after this many steps */
  readonly endsAfter?: number;
};

const must = <T>(result: Result<T, Problem>): T => {
  if (!result.ok) throw new Error(`${result.error.code} ${result.error.detail ?? ''}`);
  return result.value;
};

/** The same numbers for the same seed. @source Numerical Recipes, 3rd edition, section 7.1 (a 32-bit linear congruential generator) */
export function chance(seed: number): () => number {
  let state = (seed * 2654435761) >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Answers get lost: before the office heard anything, or after it has done it. */
function withDrops(office: Office, random: () => number, share: number): Office {
  const lost = err(problem('office-unreachable', 'dropped by the test'));
  const dropping =
    <A extends unknown[], T>(call: (...args: A) => Promise<Result<T, Problem>>) =>
    async (...args: A): Promise<Result<T, Problem>> => {
      if (random() < share) return lost;
      const done = await call(...args);
      return random() < share ? lost : done;
    };
  return {
    ...office,
    about: dropping(() => office.about()),
    put: dropping((items: Parameters<Office['put']>[0]) => office.put(items)),
    next: dropping((wish: Parameters<Office['next']>[0]) => office.next(wish)),
    ofAppliance: dropping((id: string, visits: number) => office.ofAppliance(id, visits)),
  };
}

const openPlace = (place: OfficePlace): Office =>
  place.kind === 'folder'
    ? openFolderOffice(place.folder, { wallMs: () => Date.now() })
    : must(openPostgresOffice(place.choice, { wallMs: () => Date.now(), password: () => place.password }));

/** @returns 'done' when it has signed all of its visits and, at last, nothing waits any more */
export async function workAsLaptop(plan: LaptopPlan): Promise<'done' | 'on'> {
  const { folder, name, visits, appliances, place, isLast, say } = plan;
  mkdirSync(folder, { recursive: true });
  const opened = must(await openRecords({ folder, wallMs: Date.now() }));
  const tables = storeTables(opened);
  const random = chance(plan.seed);
  // clocks of laptops differ: each is off by up to a day
  const off = Math.round((chance(hashNumber(name))() - 0.5) * 2 * 86_400_000);
  const wallMs = (): number => Date.now() + off;
  const store: SyncStore = { use: (work) => Promise.resolve(work(tables)), erase: (work) => Promise.resolve(work(tables)) };
  const plain = openPlace(place);
  const office = isLast ? plain : withDrops(plain, random, 0.08);
  const parts = { wallMs, changed: () => undefined };
  try {
    if (isLast) {
      for (let round = 0; round < 2; round++) {
        must(await meet(store, office));
        must(await push(store, office, wallMs));
        must(await pull(store, office, parts));
      }
      say(`end ${name} ${fingerprint(tables, join(folder, 'end.txt'))}`);
      return 'done';
    }
    const own = (): number => must(tables.visits.list({ search: '', limit: 1 })).total;
    for (let step = 0; ; step++) {
      if (step === plan.endsAfter) return 'on';
      const signed = Number(tables.office.mark('signed') ?? 0);
      if (signed >= visits) return 'done';
      const dice = random();
      const unit = `unit-${Math.floor(random() * appliances)}`;
      if (dice < 0.55) {
        const n = signed + 1;
        const visit = signedVisit(`${name}-${n}`, { n: (hashNumber(name) % 1000) + n, applianceId: unit });
        must(
          tables.office.inOneStep(() => {
            const adopted = tables.visits.adopt(visit, wallMs());
            if (adopted.ok) tables.office.setMark('signed', String(n));
            return adopted;
          }),
        );
        say(`signed ${visit.id} ${visitHash(visit)}`);
        if (!tables.appliances.get(unit).ok && n % 3 === 0 && unit.endsWith(String(hashNumber(name) % 10))) {
          must(
            tables.appliances.save(unit, boiler({ name: `Boiler ${unit}`, owner: `Owner of ${unit}`, place: `Street ${unit}` }), wallMs(), {
              by: name,
            }),
          );
        }
      } else if (dice < 0.63) {
        const list = must(tables.visits.list({ limit: 20, offset: Math.floor(random() * Math.max(1, own() - 20)) })).visits;
        const chosen = list[Math.floor(random() * list.length)];
        if (chosen !== undefined)
          must(
            tables.visits.change(chosen.id, wallMs(), (visit) =>
              editVisit(visit, {
                wallMs: wallMs(),
                by: name,
                path: ['annualFuelGal'],
                after: 100 + Math.floor(random() * 900),
                reason: 'mistyped',
              }),
            ),
          );
      } else if (dice < 0.73) {
        const here = tables.appliances.get(unit);
        if (here.ok) {
          const more =
            random() < 0.5 ? { owner: `Owner ${Math.floor(random() * 1e6)}` } : { nextDue: `2027-0${1 + Math.floor(random() * 9)}-15` };
          must(tables.appliances.save(unit, { ...here.value.appliance, ...more }, wallMs(), { by: name }));
        }
      } else if (dice < 0.735) {
        if (tables.appliances.get(unit).ok)
          must(
            tables.office.inOneStep(() =>
              takePersonOut({ ...tables, curves: tables.documents.curve as never }, unit, { wallMs: wallMs(), by: name }),
            ),
          );
      } else if (dice < 0.76) {
        const instrument = {
          format: 1 as const,
          name: `Instrument of ${name}`,
          cells: [],
          notes: `looked at ${Math.floor(random() * 1e6)}`,
        };
        must(tables.documents.instrument.save(`instrument-${name}`, instrument, { wallMs: wallMs() }));
      } else if (dice < 0.9) {
        const met = await meet(store, office);
        if (met.ok) await push(store, office, wallMs);
      } else if ((await meet(store, office)).ok) await pull(store, office, parts);
    }
  } finally {
    await plain.close();
    opened.close();
  }
}

/** Which visits these are, each counted once for each time it is there. */
export const idsPrint = (ids: readonly string[]): string => hashOf([...ids].sort().join('\n'));

/** Everything that has to be the same on every laptop. */
function fingerprint(tables: StoreTables, file: string): string {
  const lines: string[] = [];
  const ids: string[] = [];
  let visits = 0;
  let altered = 0;
  for (let offset = 0; ; offset += 500) {
    const page = must(tables.visits.list({ limit: 500, offset })).visits;
    for (const { id } of page) {
      const { visit, altered: isAltered } = must(tables.visits.get(id));
      visits += 1;
      ids.push(id);
      if (isAltered === true || visit.signature === undefined) altered += 1;
      lines.push(`visit ${id} ${visit.signature?.hash ?? ''} ${JSON.stringify(visit.edits)}`);
    }
    if (page.length < 500) break;
  }
  for (const { id } of must(tables.appliances.list({ limit: 100_000 })).appliances)
    lines.push(...must(itemsHere(tables, 'appliance', id, 0)).map(({ kind, text }) => `${kind} ${id} ${text}`));
  for (const { id, body } of must(tables.documents.instrument.list({ limit: 1000 })).rows)
    lines.push(`instrument ${id} ${JSON.stringify(body)}`);
  const { queued } = tables.office.count();
  writeFileSync(file, lines.sort().join('\n'));
  return JSON.stringify({ visits, altered, queued, ids: idsPrint(ids), print: hashOf(lines.join('\n')) });
}

const hashNumber = (text: string): number => Number.parseInt(hashOf(text).slice(0, 6), 16);

// as a process of its own: the plan is its only argument
if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href && process.argv[2]?.startsWith('{') === true) {
  const plan = JSON.parse(process.argv[2]) as LaptopPlan;
  // at once and whole: a kill right after it finds the line said
  const state = await workAsLaptop({ ...plan, say: (line) => void writeSync(1, `${line}\n`) });
  writeSync(1, `${state}\n`);
  process.exit(0);
}
