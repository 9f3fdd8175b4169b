/**
 * Where lines come from. Live, simulated, replayed and typed differ here and nowhere else: everything behind gets the same events.
 * Times are the injected clock's, read once in the callback that brings the bytes.
 */
import type { SourceInfo } from '../../shared/measurement/run.ts';
import type { Problem } from '../../shared/problem.ts';

export type SourceEvent =
  /** the stream begins, or begins anew after it was lost: nothing joins what came before */
  | { kind: 'opened'; atMs: number }
  | { kind: 'bytes'; atMs: number; bytes: Uint8Array }
  /** the device went away or stopped; the source goes on trying by itself */
  | { kind: 'lost'; atMs: number; problem: Problem };

export interface LineSource {
  readonly info: SourceInfo;
  /** Events come in order until `stop`; none before `start` was called. */
  start(listener: (event: SourceEvent) => void): void;
  stop(): Promise<void>;
}

export const textBytes = (text: string): Uint8Array => Uint8Array.from(text, (sign) => sign.charCodeAt(0) & 255);
