/** `office`: begins an office for a workshop, sends and fetches, looks through it. Without a window. */
import { randomBytes } from 'node:crypto';
import { isAbsolute, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { Writable } from 'node:stream';
import { OfficeChoice } from '../../shared/ipc/office-commands.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { officeWords } from '../../shared/words/records/office.ts';
import { initFolderOffice } from '../office/folder/marker.ts';
import type { Office, WrongItem } from '../office/office.ts';
import { openOffice } from '../office/open-office.ts';
import { meet, pull, push, type SyncStore } from '../office/sync.ts';
import { dataFolder } from '../paths.ts';
import { takeLock } from '../session/instance-lock.ts';
import { openSettings } from '../settings/settings-file.ts';
import { ownFolder } from '../store/files.ts';
import { openRecords } from '../store/open.ts';
import { storeTables } from '../store/tables.ts';
import { EXIT_DONE, EXIT_FAILURE, fail, readOptions, type Command, type CommandIo } from './command.ts';
import { officeTexts } from '../../shared/words/commands/records.ts';
import { defined } from '../../shared/defined.ts';

const words = officeWords.cli;
const options = {
  folder: { type: 'string' },
  server: { type: 'string' },
  database: { type: 'string' },
  user: { type: 'string' },
  certificate: { type: 'string' },
  'no-tls': { type: 'boolean' },
  name: { type: 'string' },
  'add-laptop': { type: 'string' },
  all: { type: 'boolean' },
  json: { type: 'boolean' },
} as const;

const usage = officeTexts.usage;

export const command: Command = { name: 'office', usage, run };

const verbs = ['init', 'push', 'pull', 'status', 'check'] as const;
type Verb = (typeof verbs)[number];
type Values = { name?: string; 'add-laptop'?: string; all?: boolean; json?: boolean };

async function run(args: string[], io: CommandIo): Promise<number> {
  const read = readOptions(args, options, 1);
  if (!read.ok) return fail(io, read.error);
  const { values, positionals } = read.value;
  const verb = verbs.find((one) => one === positionals[0]);
  if (verb === undefined) return fail(io, problem('usage', officeTexts.sayWhat(verbs.join(', '))));
  const folder = io.dataFolder ?? dataFolder();
  const choice = readPlace(values, io, folder, verb);
  if (!choice.ok) return fail(io, choice.error);
  const secret = choice.value.kind === 'postgres' ? await readPassword(choice.value, io) : undefined;
  const password = (): string | undefined => secret;
  if (verb === 'init') return init(choice.value, password, values, io);
  const isServer = choice.value.kind === 'postgres';
  const office = await openOffice(choice.value, { wallMs: () => io.clock.wallMs(), password });
  if (!office.ok) return fail(io, office.error);
  try {
    if (verb === 'check') return await check(office.value, values, { io, isServer });
    return await withStore(folder, io, (store) =>
      verb === 'status' ? status(store, office.value, values, io) : move(verb, store, office.value, values, io),
    );
  } finally {
    await office.value.close();
  }
}

function readPlace(
  given: { folder?: string; server?: string; database?: string; user?: string; certificate?: string; 'no-tls'?: boolean },
  io: CommandIo,
  folder: string,
  verb: Verb,
): Result<OfficeChoice, Problem> {
  if (given.folder !== undefined && given.server !== undefined) return err(problem('usage', officeTexts.folderOrServer));
  if (given.folder !== undefined) {
    const path = isAbsolute(given.folder) ? given.folder : resolve(io.cwd, given.folder);
    return ok(OfficeChoice.parse({ kind: 'folder', folder: path }));
  }
  if (given.server !== undefined) {
    const { host, port } = readServer(given.server);
    if (port !== undefined && !OfficeChoice.shape.port.safeParse(Number(port)).success)
      return err(problem('usage', officeTexts.badPort(port)));
    if (given.user === undefined) return err(problem('usage', officeTexts.nameUser));
    const read = OfficeChoice.safeParse({
      kind: 'postgres',
      host,
      user: given.user,
      withoutTls: given['no-tls'] === true,
      ...defined({
        port: port !== undefined ? Number(port) : undefined,
        database: given.database,
        certificateFile: given.certificate !== undefined ? resolve(io.cwd, given.certificate) : undefined,
      }),
    });
    return read.success ? ok(read.data) : err(problem('usage', read.error.issues[0]?.message));
  }
  if (verb === 'init') return err(problem('usage', officeTexts.sayWhere));
  const { office } = openSettings(folder, io.clock).current();
  return office.kind === 'none' ? err(problem('office-off')) : ok(office);
}

/** HOST, HOST:PORT, or an address with colons: bare, or in brackets before a port. */
function readServer(given: string): { host: string; port: string | undefined } {
  const [, inBrackets, portBehind] = /^\[([0-9A-Fa-f:.%]+)\](?::(\d+))?$/.exec(given) ?? [];
  if (inBrackets !== undefined) return { host: inBrackets, port: portBehind };
  if (given.indexOf(':') !== given.lastIndexOf(':')) return { host: given, port: undefined };
  const [host = '', port] = given.split(':');
  return { host, port };
}

/** From the environment, else typed without being shown. */
async function readPassword({ user }: OfficeChoice, io: CommandIo): Promise<string | undefined> {
  const given = process.env['FLUESIDE_OFFICE_PASSWORD'];
  if (given !== undefined || !process.stdin.isTTY) return given;
  process.stderr.write(words.asksPassword(user));
  const silent = new Writable({ write: (_chunk, _encoding, done) => done() });
  const lines = createInterface({ input: process.stdin, output: silent, terminal: true });
  const typed = await new Promise<string>((done) => {
    lines.question('', done);
    lines.once('close', () => done(''));
  });
  lines.close();
  io.error('');
  return typed;
}

async function init(choice: OfficeChoice, password: () => string | undefined, values: Values, io: CommandIo): Promise<number> {
  const { name = 'Workshop', json, 'add-laptop': laptop } = values;
  const place = choice.kind === 'folder' ? choice.folder : choice.host;
  const say = (text: string): void => (json === true ? undefined : io.out(text));
  if (choice.kind === 'folder') {
    if (laptop !== undefined) return fail(io, problem('usage', officeTexts.folderHasNoUsers));
    const made = await initFolderOffice(choice.folder, name);
    if (!made.ok) return fail(io, made.error);
    say(made.value.isNew ? words.begun(name, place) : words.already(place));
    if (json === true) io.out(JSON.stringify({ office: made.value.id, new: made.value.isNew }));
    return EXIT_DONE;
  }
  const { addLaptop, initPostgresOffice } = await import('../office/postgres/postgres-office.ts');
  const made = await initPostgresOffice(choice, { name, password });
  if (!made.ok) return fail(io, made.error);
  const { id, from, to } = made.value;
  say(from === 0 ? words.begun(name, place) : from === to ? words.already(place) : words.updated(place, from, to));
  const laptopPassword = randomBytes(18).toString('base64url');
  if (laptop !== undefined) {
    const added = await addLaptop(choice, { laptop, laptopPassword, password });
    if (!added.ok) return fail(io, added.error);
    say(words.laptop(laptop, laptopPassword));
  }
  if (json === true)
    io.out(
      JSON.stringify({
        office: id,
        new: from === 0,
        version: to,
        ...defined({ laptop, password: laptop !== undefined ? laptopPassword : undefined }),
      }),
    );
  return EXIT_DONE;
}

/** The records of this computer, which no window may have open: it would do the same by itself. */
async function withStore(folder: string, io: CommandIo, work: (store: SyncStore) => Promise<number>): Promise<number> {
  if (io.dataFolder === undefined) ownFolder(folder);
  const taken = takeLock(folder, 'browser');
  if ('holder' in taken) return fail(io, problem('store-locked'));
  try {
    const opened = await openRecords({ folder, wallMs: io.clock.wallMs() });
    if (!opened.ok) return fail(io, opened.error);
    const tables = storeTables(opened.value);
    try {
      return await work({
        use: (one) => Promise.resolve(one(tables)),
        async erase(one) {
          opened.value.eraser.begin();
          const done = one(tables);
          await opened.value.eraser.finish();
          return done;
        },
      });
    } finally {
      opened.value.close();
    }
  } finally {
    taken.lock.release();
  }
}

async function move(verb: 'push' | 'pull', store: SyncStore, office: Office, { all, json }: Values, io: CommandIo): Promise<number> {
  const about = await meet(store, office);
  if (!about.ok) return fail(io, about.error);
  const { clockAheadMs = 0 } = about.value;
  if (Math.abs(clockAheadMs) > 600_000) io.error(officeWords.clockOff(clockAheadMs));
  const wallMs = (): number => io.clock.wallMs();
  if (verb === 'push') {
    if (all === true) {
      const queued = await store.use((tables) =>
        tables.office.inOneStep(() => {
          tables.office.queueAll();
          return ok(undefined);
        }),
      );
      if (!queued.ok) return fail(io, queued.error);
    }
    const done = await push(store, office, wallMs, { again: all === true });
    if (!done.ok) return fail(io, done.error);
    const { sent, same, unreadable } = done.value;
    if (json === true) io.out(JSON.stringify({ sent, same, not_sent: unreadable }));
    else io.out(words.pushed(sent, same));
    if (unreadable > 0) io.error(words.unreadable(unreadable));
    return unreadable > 0 ? EXIT_FAILURE : EXIT_DONE;
  }
  const done = await pull(store, office, { wallMs, changed: () => undefined, isOver: () => io.signal?.aborted === true });
  if (!done.ok) return fail(io, done.error);
  const { added, merged, removed, apart, wrong } = done.value;
  if (json === true) io.out(JSON.stringify({ added, merged, removed, to_decide: apart, wrong }));
  else io.out(words.pulled(done.value));
  sayWrong(wrong, io);
  return EXIT_DONE;
}

const sayWrong = (wrong: readonly WrongItem[], io: CommandIo): void => {
  for (const { name, why } of wrong.slice(0, 50)) io.error(words.wrong(name, why));
};

async function status(store: SyncStore, office: Office, { json }: Values, io: CommandIo): Promise<number> {
  const here = await store.use((tables) => tables.office.attempt(() => tables.office.count()));
  if (!here.ok) return fail(io, here.error);
  const { queued, conflicts } = here.value;
  const about = await office.about();
  const count = about.ok ? await office.count() : about;
  if (json === true && about.ok && count.ok)
    io.out(
      JSON.stringify({
        office: about.value.name,
        id: about.value.officeId,
        items: count.value.items,
        bytes: count.value.bytes,
        to_send: queued,
        to_decide: conflicts,
      }),
    );
  if (json !== true) {
    if (about.ok && count.ok) {
      io.out(words.status(about.value.name));
      for (const [kind, n] of Object.entries(count.value.items)) io.out(words.item(kind, n));
      io.out(words.size(count.value.bytes));
      const { clockAheadMs = 0 } = about.value;
      if (Math.abs(clockAheadMs) > 600_000) io.out(officeWords.clockOff(clockAheadMs));
    }
    io.out(words.queued(queued, conflicts));
  }
  if (!about.ok) return fail(io, about.error);
  return count.ok ? EXIT_DONE : fail(io, count.error);
}

async function check(office: Office, { json }: Values, { io, isServer }: { io: CommandIo; isServer: boolean }): Promise<number> {
  const done = await office.check();
  if (!done.ok) return fail(io, done.error);
  const { items, wrong } = done.value;
  if (json === true)
    io.out(JSON.stringify({ items, wrong: wrong.map(({ name, why, isSetAside = false }) => ({ name, why, set_aside: isSetAside })) }));
  else if (wrong.length === 0) io.out(words.checked(items));
  else {
    io.out(words.checkedWrong(items, wrong.length));
    for (const { name, why, isSetAside } of wrong) io.out(words.wrong(name, why, isSetAside));
    if (isServer) io.out(words.serverWrong);
    else if (wrong.some(({ isSetAside }) => isSetAside)) io.out(words.sendAgain);
  }
  return wrong.length === 0 ? EXIT_DONE : EXIT_FAILURE;
}
