import { ok } from '../../../shared/result.ts';
import type { RunInfo, RunSummary } from '../../../shared/ipc/run-info.ts';
import type { Download, RunDesk, RunDeskParts, RunHandlers } from '../../../main/runs/run-desk.ts';

export type FakeDesk = RunDesk & {
  readonly parts: RunDeskParts;
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

/** A desk that only notes what was asked of it. */
export function createFakeDesk(parts: RunDeskParts): FakeDesk {
  const downloads = new Map<string, Download>();
  const answers: Record<string, () => unknown> = {
    'source.list': () => ({ ports: [], scenarios: [], shapes: [], runs: desk.storedList, recipes: [] }),
    'run.export': () => ({ fileName: 'run.csv', download: 'token' }),
  };
  const handlers = new Proxy({} as RunHandlers, {
    get: (_, name: string) => (input: unknown, caller: { clientId: string }) => {
      desk.called.push({ name, input, clientId: caller.clientId });
      return Promise.resolve(ok(answers[name]?.() ?? {}));
    },
    // what `{ ...handlers }` copies
    ownKeys: () => ['source.list', 'run.start', 'run.end', 'run.mark', 'run.export', 'simulator.adjust'],
    getOwnPropertyDescriptor: () => ({ enumerable: true, configurable: true }),
  });
  const desk: FakeDesk = {
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
    runs: () => desk.runList,
    look: () => undefined,
    setGeometry: () => undefined,
    isCapturing: () => desk.capturing,
    interrupted: () => Promise.resolve(desk.interruptedList),
    problems: () => [],
    dismissProblem: () => undefined,
    takeDownload(token) {
      const found = downloads.get(token);
      downloads.delete(token);
      return found;
    },
    forgetStored: () => undefined,
    clientLeft: (clientId) => void desk.left.push(clientId),
    watchPorts() {
      desk.portWatchers += 1;
      return () => (desk.portWatchers -= 1);
    },
    close(options) {
      desk.closedWith = options ?? {};
      return Promise.resolve();
    },
    offer: (token, download) => void downloads.set(token, download),
  };
  return desk;
}
