/** One connection to the office's server, opened when it is needed and closed soon after; and what its refusals mean for the person. */
import { readFileSync } from 'node:fs';
import pg from 'pg';
import type { OfficeChoice } from '../../../shared/ipc/office-commands.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { SCHEMA } from './migrations.ts';
import { officeTexts } from '../../../shared/words/host.ts';
import { problemOfServer } from './server-problems.ts';
import { defined } from '../../../shared/defined.ts';

const CONNECT_MS = 8_000;
const QUERY_MS = 60_000;
/** many laptops share the server's connections: none is held while nothing is asked */
const IDLE_MS = 5_000;

export type ServerChoice = Pick<OfficeChoice, 'host' | 'port' | 'database' | 'user' | 'certificateFile' | 'withoutTls'>;
export type Ask = <T extends pg.QueryResultRow>(sql: string, values?: readonly unknown[]) => Promise<T[]>;

export interface Server {
  /** Runs with a connection; what the server refuses is a problem. */
  use<T>(work: (ask: Ask) => Promise<T>, does?: 'read' | 'write'): Promise<Result<T, Problem>>;
  /** the same for what is written, all or nothing */
  inOneStep<T>(work: (ask: Ask) => Promise<T>): Promise<Result<T, Problem>>;
  close(): Promise<void>;
}

const isThisComputer = (host: string): boolean => /^(localhost|127(\.\d{1,3}){3}|::1)$/.test(host) || host.startsWith('/');

/** @param password asked for when the server wants one */
export function openServer(choice: ServerChoice, password: () => string | undefined): Result<Server, Problem> {
  const { host, port, database, user, certificateFile, withoutTls } = choice;
  if (withoutTls && !isThisComputer(host)) return err(problem('office-no-tls', officeTexts.otherComputer(host)));
  let ca: string | undefined;
  try {
    ca = certificateFile === '' ? undefined : readFileSync(certificateFile, 'utf8');
  } catch {
    return err(problem('office-certificate', officeTexts.certificateUnreadable(certificateFile)));
  }
  if (ca !== undefined && !ca.includes('-----BEGIN CERTIFICATE-----'))
    return err(problem('office-certificate', officeTexts.noCertificateIn(certificateFile)));
  let asked = false;
  const pool = new pg.Pool({
    host,
    port,
    database,
    user,
    max: 1,
    connectionTimeoutMillis: CONNECT_MS,
    idleTimeoutMillis: IDLE_MS,
    allowExitOnIdle: true,
    statement_timeout: QUERY_MS,
    query_timeout: QUERY_MS,
    application_name: 'flueside',
    options: `-c search_path=${SCHEMA},public`,
    password: () => {
      asked = true;
      return password() ?? '';
    },
    ssl: withoutTls ? false : { rejectUnauthorized: true, minVersion: 'TLSv1.2', ...defined({ ca }) },
  });
  // a connection that breaks while nothing is asked: the next question opens another
  pool.on('error', () => undefined);

  const use = async <T>(work: (ask: Ask) => Promise<T>, does: 'read' | 'write' = 'read'): Promise<Result<T, Problem>> => {
    let client: pg.PoolClient | undefined;
    let broken = false;
    asked = false;
    try {
      client = await pool.connect();
      // a socket that dies in the middle is told twice: by the question, and by this event
      client.on('error', () => (broken = true));
      const held = client;
      const value = await work(async <R extends pg.QueryResultRow>(sql: string, values: readonly unknown[] = []) => {
        const { rows } = await held.query<R>(sql, [...values]);
        return rows;
      });
      return ok(value);
    } catch (failure) {
      const what = problemOfServer(failure, { host, port, database, does });
      if (what === undefined) throw failure;
      broken ||= what.code === 'office-unreachable';
      if (what.code === 'office-password' && asked && (password() ?? '') === '') return err(problem('office-asks-password'));
      return err(what);
    } finally {
      client?.removeAllListeners('error');
      client?.on('error', () => undefined);
      client?.release(broken);
    }
  };
  return ok({
    use,
    inOneStep: (work) =>
      use(async (ask) => {
        await ask('BEGIN');
        try {
          const value = await work(ask);
          await ask('COMMIT');
          return value;
        } catch (failure) {
          await ask('ROLLBACK').catch(() => undefined);
          throw failure;
        }
      }, 'write'),
    close: () => pool.end(),
  });
}
