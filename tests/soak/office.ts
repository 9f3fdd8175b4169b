/**
 * A workshop by chance: laptops that sign, correct, send and take in any order, whose connections drop, who are killed, and whose server is killed. At the
 * end every laptop has met the office without trouble: nothing is lost, nothing is there twice, all hashes hold, and all laptops are the same.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openFolderOffice } from '../../main/office/folder/folder-office.ts';
import { initFolderOffice } from '../../main/office/folder/marker.ts';
import { initPostgresOffice, openPostgresOffice } from '../../main/office/postgres/postgres-office.ts';
import type { Office } from '../../main/office/office.ts';
import { startPostgres, type TestServer } from '../helpers/host/postgres.ts';
import { chance, idsPrint, workAsLaptop, type LaptopPlan, type OfficePlace } from './office-laptop.ts';

const MOST_SERVER_KILLS = 12;

export type OfficeSoak = {
  readonly laptops: number;
  readonly visits: number;
  readonly place: 'folder' | 'postgres';
  readonly seed: number;
  /** the program of a laptop, for real processes and real kills; without it all laptops are in this process and end in the middle of their work */
  readonly program?: string;
};
export type OfficeFigures = {
  /** what laptops said they had signed before they were killed or done */
  signed: number;
  lost: number;
  /** said to be signed, and not in the office with that hash at the end */
  notInOffice: number;
  doubled: number;
  /** laptops whose visits are not exactly those that were planned, each once */
  otherIds: number;
  wrongHashes: number;
  /** different ends among the laptops; 1 when all are the same */
  ends: number;
  /** what is not the same: lines of two laptops, the first few */
  differences: string[];
  stillQueued: number;
  kills: number;
  serverKills: number;
  seconds: number;
};

export async function soakOffice({ laptops, visits, place, seed, program }: OfficeSoak): Promise<OfficeFigures> {
  const startedMs = performance.now();
  const root = mkdtempSync(join(tmpdir(), 'flueside-soak-office-'));
  const random = chance(seed);
  const server = place === 'postgres' ? await startPostgres() : undefined;
  const where = await begin(root, server);
  const names = Array.from({ length: laptops }, (_, n) => `laptop${n}`);
  const signed = new Map<string, string>();
  const ends = new Map<string, { visits: number; altered: number; queued: number; ids: string; print: string }>();
  const say = (line: string): void => {
    const [word, first = '', ...rest] = line.split(' ');
    if (word === 'signed') signed.set(first, rest.join(' '));
    if (word === 'end') ends.set(first, JSON.parse(rest.join(' ')) as never);
  };
  let kills = 0;
  let serverKills = 0;
  let round = 0;
  const planOf = (name: string, isLast: boolean): LaptopPlan => ({
    folder: join(root, name),
    name,
    visits: Math.ceil(visits / laptops),
    appliances: Math.max(4, Math.round(visits / 40)),
    seed: seed * 7919 + (round += 1),
    place: where,
    isLast,
    say,
    ...(program === undefined && !isLast && { endsAfter: 5 + Math.floor(random() * 60) }),
  });
  const runOne = async (name: string, isLast: boolean): Promise<boolean> => {
    if (program !== undefined) {
      const killAfterMs = isLast ? undefined : 1500 + random() * 6000;
      const ended = await runProcess(program, planOf(name, isLast), say, killAfterMs);
      if (ended === 'killed') kills += 1;
      return ended === 'done';
    }
    const ended = await workAsLaptop(planOf(name, isLast));
    if (ended === 'on') kills += 1;
    return ended === 'done';
  };
  let isDown = false;
  const strike = async (target: TestServer, afterMs: number): Promise<void> => {
    isDown = true;
    serverKills += 1;
    await new Promise((resolve) => setTimeout(resolve, afterMs));
    await target.kill();
    await target.start();
    isDown = false;
  };
  const lanes = program === undefined ? 1 : 2;
  const runAll = async (isLast: boolean): Promise<void> => {
    const waiting = [...names].sort(() => random() - 0.5);
    const lane = async (): Promise<void> => {
      for (let name = waiting.shift(); name !== undefined; name = waiting.shift()) {
        // never two at once: the second would wait for a server that the first has just ended
        const isStruck =
          !isLast && server !== undefined && !isDown && serverKills < MOST_SERVER_KILLS && (serverKills === 0 || random() < 0.1);
        const struck = isStruck ? strike(server, random() * 400) : undefined;
        if (!(await runOne(name, isLast))) waiting.splice(Math.floor(random() * (waiting.length + 1)), 0, name);
        await struck;
      }
    };
    await Promise.all(Array.from({ length: lanes }, lane));
  };
  try {
    await runAll(false);
    // once for what each still has, once for what the others sent meanwhile
    await runAll(true);
    ends.clear();
    await runAll(true);
    const office = openAt(where);
    const checked = await office.check();
    const inOffice = await hashesIn(office);
    await office.close();
    if (!checked.ok) throw new Error('the office cannot be read at the end');
    const each = Math.ceil(visits / laptops);
    const planned = each * laptops;
    const plannedIds = idsPrint(names.flatMap((name) => Array.from({ length: each }, (_, n) => `${name}-${n + 1}`)));
    const all = [...ends.values()];
    const most = Math.max(...all.map((end) => end.visits));
    return {
      signed: signed.size,
      // a kill may fall between the disk and the word: what was signed is counted by plan, not by what was said
      lost: all.reduce((sum, end) => sum + Math.max(0, planned - end.visits), 0),
      notInOffice: [...signed].filter(([id, hash]) => !(inOffice.get(id)?.has(hash) ?? false)).length,
      doubled: Math.max(0, most - planned),
      otherIds: all.filter(({ ids }) => ids !== plannedIds).length,
      wrongHashes: checked.value.wrong.length + all.reduce((sum, end) => sum + end.altered, 0),
      ends: new Set(all.map((end) => end.print)).size,
      differences: differencesOf(names.map((name) => readFileSync(join(root, name, 'end.txt'), 'utf8').split('\n'))),
      stillQueued: all.reduce((sum, end) => sum + end.queued, 0),
      kills,
      serverKills,
      seconds: Math.round((performance.now() - startedMs) / 1000),
    };
  } finally {
    await server?.stop();
    rmSync(root, { recursive: true, force: true });
  }
}

function differencesOf(ends: readonly (readonly string[])[]): string[] {
  const other = ends.find((end) => end.join() !== ends[0]?.join()) ?? [];
  const [first, second] = [new Set(ends[0]), new Set(other)];
  if (other.length === 0) return [];
  const only = (a: ReadonlySet<string>, b: ReadonlySet<string>): string[] => [...a].filter((line) => !b.has(line)).slice(0, 3);
  return [...only(first, second), ...only(second, first)];
}

/** @returns of each visit in the office the hashes of its signatures */
async function hashesIn(office: Office): Promise<ReadonlyMap<string, ReadonlySet<string>>> {
  const hashes = new Map<string, Set<string>>();
  const seen = new Set<string>();
  for (let cursor = ''; ;) {
    const page = await office.next({ cursor, kinds: ['visit'], isKnown: ({ id, hash }) => seen.has(`${id} ${hash.slice(0, 16)}`) });
    if (!page.ok) throw new Error('the office cannot be read at the end');
    for (const { id, hash, item } of page.value.items) {
      seen.add(`${id} ${hash.slice(0, 16)}`);
      if (item.kind === 'visit') hashes.set(id, (hashes.get(id) ?? new Set()).add(item.visit.signature?.hash ?? ''));
    }
    if (!page.value.hasMore) return hashes;
    ({ cursor } = page.value);
  }
}

async function begin(root: string, server: TestServer | undefined): Promise<OfficePlace> {
  if (server === undefined) {
    const folder = join(root, 'office');
    await initFolderOffice(folder, 'Workshop');
    return { kind: 'folder', folder };
  }
  const { owner: choice, ownerPassword: password } = server;
  const made = await initPostgresOffice(choice, { name: 'Workshop', password: () => password });
  if (!made.ok) throw new Error(made.error.code);
  return { kind: 'postgres', choice, password };
}

function openAt(place: OfficePlace): Office {
  if (place.kind === 'folder') return openFolderOffice(place.folder, { wallMs: () => Date.now() });
  const opened = openPostgresOffice(place.choice, { wallMs: () => Date.now(), password: () => place.password });
  if (!opened.ok) throw new Error(opened.error.code);
  return opened.value;
}

function runProcess(
  program: string,
  plan: LaptopPlan,
  say: (line: string) => void,
  killAfterMs: number | undefined,
): Promise<'done' | 'killed'> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [program, JSON.stringify(plan)], { stdio: ['ignore', 'pipe', 'pipe'] });
    const timer = killAfterMs === undefined ? undefined : setTimeout(() => child.kill('SIGKILL'), killAfterMs);
    let rest = '';
    let failed = '';
    let isDone = false;
    child.stdout.on('data', (chunk: Buffer) => {
      const lines = (rest + chunk.toString()).split('\n');
      rest = lines.pop() ?? '';
      for (const line of lines) {
        say(line);
        if (line === 'done') isDone = true;
      }
    });
    child.stderr.on('data', (chunk: Buffer) => (failed = (failed + chunk.toString()).slice(-4000)));
    child.once('close', (code, signal) => {
      clearTimeout(timer);
      if (isDone) resolve('done');
      else if (signal === 'SIGKILL') resolve('killed');
      else reject(new Error(`a laptop ended with ${String(code)}: ${failed}`));
    });
  });
}
