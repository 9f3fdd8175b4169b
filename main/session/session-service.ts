/** Windows that greet, take the controls over, change settings and dismiss problems. */
import { v7 as newId } from 'uuid';
import type { Clock } from '../../shared/clock.ts';
import type { Handlers } from '../../shared/ipc/contract.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import type { SourceChoice } from '../../shared/ipc/run-documents.ts';
import { publish } from '../../shared/ipc/server.ts';
import type { HostInfo, Role } from '../../shared/ipc/session-commands.ts';
import type { Transport } from '../../shared/ipc/transport.ts';
import { problem } from '../../shared/problem.ts';
import { err, ok } from '../../shared/result.ts';
import type { AlarmService } from '../alarms/alarm-service.ts';
import type { Log } from '../log/log.ts';
import { writeSupportReport } from '../log/support-report.ts';
import type { RunService } from '../runs/run-service.ts';
import type { SettingsFile } from '../settings/settings-file.ts';
import { workPath } from '../store/work-folder.ts';
import { beginFirstRun } from './first-run.ts';
import type { RoleNews, Roles } from './roles.ts';
import type { StandingProblems } from './standing-problems.ts';

/** `greeted`: it has been told the state and gets events */
export type Client = { readonly transport: Transport; greeted: boolean };

type SessionCommands =
  | 'session.hello'
  | 'session.takeOver'
  | 'session.windowFailed'
  | 'session.supportReport'
  | 'settings.change'
  | 'problem.dismiss';

export type SessionParts = Pick<HostInfo, 'host' | 'version' | 'platform' | 'dataFolder'> & {
  readonly clock: Clock;
  readonly firstRun: SourceChoice | 'newcomer' | 'none';
  readonly log: Log;
  readonly clients: ReadonlyMap<string, Client>;
  readonly roles: Roles;
  readonly settings: SettingsFile;
  readonly runs: RunService;
  readonly alarms: Pick<AlarmService, 'now'>;
  readonly standing: StandingProblems;
  readonly offerDownload: (download: { fileName: string; mime: string; filePath: string }) => string;
  readonly settingsChanged: (before: Settings) => void;
};

export function createSessionService(parts: SessionParts): {
  readonly handlers: Pick<Handlers, SessionCommands>;
  readonly tell: (news: readonly RoleNews[]) => void;
} {
  const { clock, dataFolder, version, host, platform, firstRun, log, clients, roles, settings, runs, alarms, standing } = parts;
  const otherWindows = (): number => Math.max(0, roles.count() - 1);
  const tell = (news: readonly RoleNews[]): void => {
    for (const { clientId, role, reason } of news) {
      const client = clients.get(clientId);
      if (client !== undefined) publish(client.transport, 'session.changed', { role, reason, otherWindows: otherWindows() });
    }
  };
  const become = (clientId: string, role: Role): boolean => {
    const news = roles.become(clientId, role);
    if (news === undefined) return false;
    tell(news);
    return true;
  };
  let firstRunBegun: Promise<void> | undefined;
  const begin = async (): Promise<void> => {
    const failure = await beginFirstRun(runs, firstRun).catch((bug: unknown) => {
      log.failed('first run', bug);
      return problem('internal');
    });
    if (failure !== undefined) standing.raise('first-run', failure);
  };

  const handlers: Pick<Handlers, SessionCommands> = {
    async 'session.hello'({ wish }, { clientId }) {
      if (wish !== undefined && !become(clientId, wish)) return err(problem('not-allowed'));
      if (roles.roleOf(clientId) === 'operator') await (firstRunBegun ??= begin());
      const interrupted = await runs.interrupted();
      const client = clients.get(clientId);
      // from here on events reach this window; what it gets below is the state up to now
      if (client !== undefined) client.greeted = true;
      runs.tellAnew();
      return ok({
        host,
        version,
        platform,
        dataFolder,
        role: roles.roleOf(clientId),
        otherWindows: otherWindows(),
        settings: settings.current(),
        runs: runs.runs(),
        interrupted,
        problems: [...standing.all(), ...runs.problems()],
        alarms: [...alarms.now()],
        newcomer: firstRun === 'newcomer' && runs.runs().some(({ source }) => source.kind === 'simulated'),
      });
    },
    'session.takeOver'(_, { clientId }) {
      const taken = become(clientId, 'operator');
      return Promise.resolve(taken ? ok({ role: roles.roleOf(clientId) }) : err(problem('not-allowed')));
    },
    'session.windowFailed'({ where, text }) {
      log.failed(`window: ${where}`, text);
      return Promise.resolve(ok({}));
    },
    async 'session.supportReport'({ withReadings }) {
      const filePath = workPath(dataFolder, 'export', newId(), '.zip');
      await writeSupportReport(filePath, { version, host, settings: settings.current(), log, dataFolder, withReadings });
      const fileName = `flueside-support-${new Date(clock.wallMs()).toISOString().slice(0, 10)}.zip`;
      return ok({ fileName, download: parts.offerDownload({ fileName, mime: 'application/zip', filePath }) });
    },
    'settings.change'({ patch }) {
      const before = settings.current();
      const result = settings.change(patch);
      if (result.ok) parts.settingsChanged(before);
      return Promise.resolve(result);
    },
    'problem.dismiss'({ key }) {
      if (!standing.clear(key)) runs.dismissProblem(key);
      return Promise.resolve(ok({}));
    },
  };
  return { handlers, tell };
}
