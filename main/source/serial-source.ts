/**
 * An instrument on a serial port. When it goes away the source tries again by itself, always with a new port object, and only takes
 * what is surely the same device.
 */
import type { Clock } from '../../shared/clock.ts';
import type { PortInfo } from '../../shared/ipc/run-documents.ts';
import type { DeviceIdentity, SerialSettings, SourceInfo } from '../../shared/measurement/run.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import type { Result } from '../../shared/result.ts';
import { choosePort } from './same-device.ts';
import type { OpenPort, SerialPortHandle } from './serial-port.ts';
import type { LineSource, SourceEvent } from './source.ts';
import { defined } from '../../shared/defined.ts';

export interface SerialSource extends LineSource {
  /** The user agrees to another port, or does not want to wait for the next try. */
  reconnect(path?: string): void;
  /** closes the port and opens it anew at this speed; nothing is sent */
  setBaud(baud: number): void;
  write(bytes: Uint8Array): Promise<Result<undefined, Problem>>;
}

export type SerialSourceParts = {
  readonly path: string;
  readonly label: string;
  readonly settings: SerialSettings;
  readonly device: DeviceIdentity | undefined;
  readonly clock: Clock;
  readonly openPort: OpenPort;
  readonly listPorts: () => Promise<PortInfo[]>;
  /** already open, so that a busy port could be told before a run was begun; absent: the source opens it itself */
  readonly port?: SerialPortHandle | undefined;
  /** tells at once when the port's name is back, so that little is missed; absent: only the next try finds out */
  readonly isThere?: ((path: string) => Promise<boolean>) | undefined;
  /** a port that is open but brought nothing for so long is closed and opened anew; absent: never */
  readonly watchdogMs?: number | undefined;
};

const RETRY_AFTER_MS = [500, 1000, 2000, 5000];
const LOOK_EVERY_MS = 25;
/** a name that has just come back may refuse for a moment, until the system has set its permissions */
const FRESH_MS = 1000;
const FRESH_RETRY_MS = 50;

export function createSerialSource(parts: SerialSourceParts): SerialSource {
  const { clock } = parts;
  let { path, device, settings } = parts;
  let port = parts.port;
  let listener: ((event: SourceEvent) => void) | undefined;
  let isStopped = false;
  let tries = 0;
  let cancelRetry: (() => void) | undefined;
  let lastBytesMs = 0;
  let stopWatchdog: (() => void) | undefined;
  let isConnecting = false;
  let saidProblem: string | undefined;
  let stopLooking: (() => void) | undefined;
  let appearedMs = -Infinity;

  const tell = (event: SourceEvent): void => {
    if (!isStopped) listener?.(event);
  };

  /** While the port is lost: is its name back? It was lost because the device went away, so a name that is there is there again. */
  const lookForReturn = (): void => {
    const { isThere } = parts;
    if (isThere === undefined || stopLooking !== undefined) return;
    let wasGone = true;
    let isAsking = false;
    stopLooking = clock.every(LOOK_EVERY_MS, () => {
      if (isAsking) return;
      isAsking = true;
      void isThere(path).then((isBack) => {
        isAsking = false;
        if (!isBack) wasGone = true;
        else if (wasGone) {
          wasGone = false;
          appearedMs = clock.nowMs();
          tries = 0;
          cancelRetry?.();
          void connect(false);
        }
      });
    });
  };
  const endLooking = (): void => {
    stopLooking?.();
    stopLooking = undefined;
  };

  const attach = (opened: SerialPortHandle): void => {
    endLooking();
    port = opened;
    tries = 0;
    saidProblem = undefined;
    lastBytesMs = clock.nowMs();
    tell({ kind: 'opened', atMs: clock.nowMs() });
    opened.onBytes((bytes) => {
      if (opened !== port) return; // an old port that had something left
      lastBytesMs = clock.nowMs();
      tell({ kind: 'bytes', atMs: lastBytesMs, bytes });
    });
    opened.onClose((_, detail) => {
      if (opened === port) lose(problem('port-lost', detail === '' ? undefined : detail));
    });
  };

  const lose = (why: Problem): void => {
    const old = port;
    port = undefined;
    void old?.close();
    say(why);
    retry();
    lookForReturn();
  };
  /** The same trouble is told once, not at every try. */
  const say = (why: Problem): void => {
    const words = `${why.code} ${why.detail ?? ''}`;
    if (words === saidProblem) return;
    saidProblem = words;
    tell({ kind: 'lost', atMs: clock.nowMs(), problem: why });
  };
  const retry = (): void => {
    if (isStopped) return;
    cancelRetry?.();
    const isFresh = clock.nowMs() - appearedMs < FRESH_MS;
    const afterMs = isFresh ? FRESH_RETRY_MS : (RETRY_AFTER_MS[Math.min(tries, RETRY_AFTER_MS.length - 1)] as number);
    if (!isFresh) tries++;
    cancelRetry = clock.after(afterMs, () => void connect(false));
  };

  /** @param isAgreed the user named the port, so that it need not be the same device */
  const connect = async (isAgreed: boolean): Promise<void> => {
    if (isStopped || isConnecting || port !== undefined) return;
    isConnecting = true;
    try {
      const choice = isAgreed ? { kind: 'same' as const, path } : choosePort({ path, device }, await parts.listPorts().catch(() => []));
      if (choice.kind === 'other') {
        say(problem('port-other-device', choice.path));
        retry();
        return;
      }
      const opened = await parts.openPort(choice.path, settings);
      if (isStopped) {
        if (opened.ok) await opened.value.close();
        return;
      }
      if (opened.ok) {
        path = choice.path;
        attach(opened.value);
        return;
      }
      // while it is simply not there the first word stands: plug it back in
      const isAbsent = opened.error.code === 'port-not-found';
      const isFresh = clock.nowMs() - appearedMs < FRESH_MS;
      if (!isFresh && (!isAbsent || saidProblem === undefined)) say(isAbsent ? problem('port-lost') : opened.error);
      lookForReturn();
      retry();
    } finally {
      isConnecting = false;
    }
  };

  const info = (): SourceInfo => ({ kind: 'serial', path, label: parts.label, settings, ...defined({ device }) });
  return {
    get info() {
      return info();
    },
    start(told) {
      listener = told;
      if (port !== undefined) attach(port);
      else void connect(false);
      const { watchdogMs } = parts;
      if (watchdogMs === undefined) return;
      stopWatchdog = clock.every(1000, () => {
        if (port !== undefined && clock.nowMs() - lastBytesMs > watchdogMs) lose(problem('source-silent'));
      });
    },
    async stop() {
      isStopped = true;
      cancelRetry?.();
      endLooking();
      stopWatchdog?.();
      const old = port;
      port = undefined;
      await old?.close();
    },
    reconnect(newPath) {
      if (newPath !== undefined && newPath !== path) {
        path = newPath;
        device = undefined;
        const old = port;
        port = undefined;
        if (old !== undefined) {
          void old.close();
          say(problem('port-lost'));
        }
      }
      cancelRetry?.();
      tries = 0;
      void connect(true);
    },
    setBaud(baud) {
      settings = { ...settings, baud };
      const old = port;
      port = undefined;
      cancelRetry?.();
      tries = 0;
      void Promise.resolve(old?.close()).then(() => connect(true));
    },
    write: (bytes) => (port === undefined ? Promise.resolve({ ok: false, error: problem('port-lost') }) : port.write(bytes)),
  };
}
