/**
 * The real serial port behind our small view of it. The library is loaded when the first port is opened, so that everything else
 * starts without it.
 */
import type { SerialPort as SerialPortOf } from 'serialport';
import type { SerialSettings } from '../../shared/measurement/run.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { guardAgainstMissedUnplug } from './missed-unplug.ts';
import { portProblem } from './port-problem.ts';
import type { OpenPort, SerialPortHandle } from './serial-port.ts';

/** bytes kept for a listener that is not there yet */
const MOST_EARLY_BYTES = 1 << 20;
const CLOSE_WITHIN_MS = 2000;

const openOptions = (path: string, settings: SerialSettings) => ({
  path,
  autoOpen: false,
  baudRate: settings.baud,
  dataBits: settings.dataBits,
  parity: settings.parity,
  stopBits: settings.stopBits,
  rtscts: settings.flow === 'rts-cts',
  xon: settings.flow === 'xon-xoff',
  xoff: settings.flow === 'xon-xoff',
  hupcl: settings.hangUpOnClose,
  // big enough that a flood is read in few pieces
  highWaterMark: 65_536,
});

export const openSerialPort: OpenPort = async (path, settings) => {
  let port: SerialPortOf;
  try {
    const { SerialPort } = await import('serialport');
    port = new SerialPort(openOptions(path, settings));
  } catch (cause) {
    // refused before the system was asked: a value that the library does not know
    return err(portProblem(cause, path));
  }
  // closing with a write under way fires an error event, which would end the process if nobody listened
  port.on('error', () => undefined);
  const failure = await new Promise<Error | null | undefined>((resolve) => port.open(resolve));
  if (failure !== null && failure !== undefined) return err(portProblem(failure, path));
  if (process.platform !== 'win32') await guardAgainstMissedUnplug(port);
  await setLines(port, settings);
  return ok(handleOf(port));
};

/** Many adapters, and every pseudo-terminal, have no such lines: that is no reason not to listen. */
const setLines = (port: SerialPortOf, { dtr, rts, flow }: SerialSettings): Promise<void> =>
  new Promise((resolve) => {
    // with hardware flow control RTS belongs to the driver
    port.set(flow === 'rts-cts' ? { dtr } : { dtr, rts }, () => resolve());
  });

function handleOf(port: SerialPortOf): SerialPortHandle {
  let early: Uint8Array[] = [];
  let earlyBytes = 0;
  let onBytes: ((bytes: Uint8Array) => void) | undefined;
  let onClose: ((why: 'unplugged' | 'closed', detail: string) => void) | undefined;
  let ended: { why: 'unplugged' | 'closed'; detail: string } | undefined;

  port.on('data', (bytes: Uint8Array) => {
    if (onBytes !== undefined) return onBytes(bytes);
    if (earlyBytes + bytes.length > MOST_EARLY_BYTES) return;
    early.push(bytes);
    earlyBytes += bytes.length;
  });
  port.on('close', (cause: (Error & { disconnected?: boolean }) | null | undefined) => {
    if (ended !== undefined) return;
    // an orderly close brings no cause
    ended = cause === null || cause === undefined ? { why: 'closed', detail: '' } : { why: 'unplugged', detail: cause.message };
    onClose?.(ended.why, ended.detail);
  });

  return {
    onBytes(listener) {
      onBytes = listener;
      const waiting = early;
      early = [];
      for (const bytes of waiting) listener(bytes);
    },
    onClose(listener) {
      onClose = listener;
      if (ended !== undefined) listener(ended.why, ended.detail);
    },
    write: (bytes) =>
      new Promise<Result<undefined, Problem>>((resolve) => {
        if (!port.isOpen) return resolve(err(problem('port-lost')));
        port.write(Buffer.from(bytes), (cause) =>
          resolve(cause === null || cause === undefined ? ok(undefined) : err(portProblem(cause, port.path))),
        );
      }),
    close: () =>
      new Promise<void>((resolve) => {
        if (!port.isOpen) return resolve();
        // a driver that hangs must not keep the run from ending
        const timer = setTimeout(resolve, CLOSE_WITHIN_MS);
        port.close(() => {
          clearTimeout(timer);
          resolve();
        });
      }),
  };
}
