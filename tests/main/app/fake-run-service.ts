import { ok } from '../../../shared/result.ts';
import type { RunInfo, RunSummary } from '../../../shared/ipc/run-info.ts';
import type { RunService } from '../../../main/runs/run-service.ts';
import type { Download } from '../../../main/runs/stored/downloads.ts';
import type { RunServiceParts, RunHandlers } from '../../../main/runs/open-runs.ts';

export type FakeRunService = RunService & {
  readonly parts: RunServiceParts;
  /** commands that reached a handler, in order */
  readonly called: { name: string; input: unknown; clientId: string }[];
  readonly left: string[];
  runList: RunInfo[];
  interruptedList: RunSummary[];
  storedList: RunSummary[];
  capturing: boolean;
  portWatchers: number;
  closedWith: { endRuns?: boolean } | undefined;
  offer(token: string, download: Download): void;
};

/** A run service that only notes what was asked of it. */
export function createFakeRunService(parts: RunServiceParts): FakeRunService {
  const downloads = new Map<string, Download>();
  const answers: Record<string, () => unknown> = {
    'source.list': () => ({ ports: [], scenarios: [], shapes: [], runs: runService.storedList, recipes: [] }),
    'run.export': () => ({ fileName: 'run.csv', download: 'token' }),
  };
  const handlers = new Proxy({} as RunHandlers, {
    get: (_, name: string) => (input: unknown, caller: { clientId: string }) => {
      runService.called.push({ name, input, clientId: caller.clientId });
      return Promise.resolve(ok(answers[name]?.() ?? {}));
    },
    // what `{ ...handlers }` copies
    ownKeys: () => ['source.list', 'run.start', 'run.end', 'run.mark', 'run.export', 'simulator.adjust'],
    getOwnPropertyDescriptor: () => ({ enumerable: true, configurable: true }),
  });
  const runService: FakeRunService = {
    parts,
    handlers,
    called: [],
    left: [],
    runList: [],
    interruptedList: [],
    storedList: [],
    capturing: false,
    portWatchers: 0,
    closedWith: undefined,
    runs: () => runService.runList,
    look: () => undefined,
    setGeometry: () => undefined,
    isCapturing: () => runService.capturing,
    interrupted: () => Promise.resolve(runService.interruptedList),
    tellAnew: () => undefined,
    problems: () => [],
    dismissProblem: () => undefined,
    takeDownload(token) {
      const found = downloads.get(token);
      downloads.delete(token);
      return found;
    },
    forgetStored: () => undefined,
    clientLeft: (clientId) => void runService.left.push(clientId),
    watchPorts() {
      runService.portWatchers += 1;
      return () => (runService.portWatchers -= 1);
    },
    close(options) {
      runService.closedWith = options ?? {};
      return Promise.resolve();
    },
    offer: (token, download) => void downloads.set(token, download),
  };
  return runService;
}
