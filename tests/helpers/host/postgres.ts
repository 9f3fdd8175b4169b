/**
 * A PostgreSQL of our own for a test: a fresh cluster in a temporary folder, on a free port of this computer, with TLS. PostgreSQL refuses to run as root, so
 * under root it runs as the system's own account for it. Nothing of a server that is installed and running here is touched.
 */
import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { chmodSync, chownSync, existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import type { ServerChoice } from '../../../main/office/postgres/connect.ts';

/** Debian has them beside the path, one folder for each version */
const DEBIAN = '/usr/lib/postgresql';

function programsFolder(): string | undefined {
  const debian = existsSync(DEBIAN) ? readdirSync(DEBIAN).sort((a, b) => Number(b) - Number(a)) : [];
  const folders = [...debian.map((version) => join(DEBIAN, version, 'bin')), ...(process.env['PATH'] ?? '').split(delimiter)];
  return folders.find((folder) => existsSync(join(folder, 'initdb')) && existsSync(join(folder, 'postgres')));
}

const programs = process.platform === 'win32' ? undefined : programsFolder();
const isRoot = process.getuid?.() === 0;

function accountId(flag: '-u' | '-g'): number | undefined {
  try {
    return Number(execFileSync('id', [flag, 'postgres'], { stdio: ['ignore', 'pipe', 'ignore'] }).toString());
  } catch {
    return undefined;
  }
}
const account = isRoot ? { uid: accountId('-u'), gid: accountId('-g') } : {};

const missing =
  programs === undefined
    ? 'PostgreSQL is not installed here'
    : isRoot && account.uid === undefined
      ? 'this is root, and there is no account for PostgreSQL'
      : undefined;
// on the machine that counts it has to be there
if (missing !== undefined && process.env['CI'] === 'true') throw new Error(`${missing}: apt-get install postgresql`);
if (missing !== undefined) console.warn(`The office in PostgreSQL is not tested: ${missing}.`);
/** why there is none, if so */
export const noPostgres = missing;

export type TestServer = {
  /** the owner of everything */
  readonly owner: ServerChoice;
  readonly ownerPassword: string;
  /** the certificate that the server's own is checked against */
  readonly certificateFile: string;
  /** as when the power goes */
  kill(): Promise<void>;
  /** the same cluster, on the same port */
  start(): Promise<void>;
  stop(): Promise<void>;
};

export async function startPostgres({ safe = false }: { safe?: boolean } = {}): Promise<TestServer> {
  if (programs === undefined) throw new Error(missing);
  const folder = mkdtempSync(join(tmpdir(), 'flueside-pg-'));
  const { uid, gid } = account;
  if (uid !== undefined && gid !== undefined) chownSync(folder, uid, gid);
  const as = { cwd: folder, ...(uid !== undefined && gid !== undefined && { uid, gid }) };
  const data = join(folder, 'data');
  const ownerPassword = 'owner of the test';
  const passwordFile = join(folder, 'password');
  writeFileSync(passwordFile, ownerPassword, { mode: 0o644 });
  const quiet = { ...as, stdio: 'pipe' as const };
  execFileSync(
    join(programs, 'initdb'),
    ['-D', data, '-U', 'owner', '--auth=scram-sha-256', `--pwfile=${passwordFile}`, '--no-sync', '--locale=C', '--encoding=UTF8'],
    quiet,
  );
  rmSync(passwordFile);
  const certificateFile = makeCertificate(folder, as);
  const port = await freePort();
  const settings = {
    listen_addresses: '127.0.0.1',
    port,
    unix_socket_directories: '',
    ssl: 'on',
    ssl_cert_file: join(folder, 'server.crt'),
    ssl_key_file: join(folder, 'server.key'),
    fsync: safe ? 'on' : 'off',
    max_connections: 60,
    shared_buffers: '64MB',
  };
  const args = ['-D', data, ...Object.entries(settings).flatMap(([name, value]) => ['-c', `${name}=${value}`])];
  let server: ChildProcess | undefined;
  let ended: Promise<void> = Promise.resolve();
  const start = async (): Promise<void> => {
    const child = spawn(join(programs, 'postgres'), args, { ...as, stdio: ['ignore', 'ignore', 'pipe'] });
    let said = '';
    child.stderr.on('data', (chunk: Buffer) => (said = (said + chunk.toString()).slice(-4000)));
    server = child;
    let isOver = false;
    ended = new Promise((resolve) =>
      child.once('exit', () => {
        isOver = true;
        resolve();
      }),
    );
    while (!/ready to accept connections/.test(said)) {
      if (isOver) throw new Error(`PostgreSQL ended before it was ready:\n${said}`);
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  };
  const end = async (signal: NodeJS.Signals): Promise<void> => {
    server?.kill(signal);
    await ended;
  };
  await start();
  return {
    owner: { host: '127.0.0.1', port, database: 'postgres', user: 'owner', certificateFile, withoutTls: false },
    ownerPassword,
    certificateFile,
    start,
    // 'quit' ends at once, without a word to whoever is connected; what it had said was stored is read back from its journal
    kill: () => end('SIGQUIT'),
    async stop() {
      await end('SIGINT');
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Made for this test, for this address, for a day. */
function makeCertificate(folder: string, as: { uid?: number; gid?: number }): string {
  const [key, certificate] = [join(folder, 'server.key'), join(folder, 'server.crt')];
  const request = ['req', '-new', '-x509', '-days', '1', '-nodes', '-newkey', 'rsa:2048', '-subj', '/CN=office of a test'];
  execFileSync('openssl', [...request, '-addext', 'subjectAltName=IP:127.0.0.1', '-out', certificate, '-keyout', key], { stdio: 'pipe' });
  chmodSync(key, 0o600);
  chmodSync(certificate, 0o644);
  if (as.uid !== undefined && as.gid !== undefined) for (const file of [key, certificate]) chownSync(file, as.uid, as.gid);
  return certificate;
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => (typeof address === 'object' && address !== null ? resolve(address.port) : reject(new Error('no port'))));
    });
  });
}
