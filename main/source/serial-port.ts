/** Our own small view of a serial port, so that everything above can be tried with a fake. */
import type { SerialSettings } from '../../shared/measurement/run.ts';
import type { Problem } from '../../shared/problem.ts';
import type { Result } from '../../shared/result.ts';

export interface SerialPortHandle {
  /** one listener; bytes that came before are not lost */
  onBytes(listener: (bytes: Uint8Array) => void): void;
  /** called once: `unplugged` when the device went away, else `closed` */
  onClose(listener: (why: 'unplugged' | 'closed', detail: string) => void): void;
  write(bytes: Uint8Array): Promise<Result<undefined, Problem>>;
  close(): Promise<void>;
}

export type OpenPort = (path: string, settings: SerialSettings) => Promise<Result<SerialPortHandle, Problem>>;
