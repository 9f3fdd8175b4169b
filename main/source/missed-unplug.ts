/**
 * On POSIX systems serialport misses some unplugs: after a hang-up `read()` returns 0 bytes, and the binding simply reads again, for
 * ever, with one core busy and memory growing, while the port looks open. Here 0 bytes count as what they mean: the device is gone.
 *
 * Reaches into two internal places of exactly pinned versions; a test runs the race many times.
 */
import { read } from 'node:fs';
import { promisify } from 'node:util';
import type { SerialPort } from 'serialport';

const readAsync = promisify(read);

type ReadArguments = { binding: unknown; buffer: Buffer; offset: number; length: number; fsReadAsync: typeof readAsync };
type UnixRead = (options: ReadArguments) => Promise<{ bytesRead: number; buffer: Buffer }>;
type Binding = { read(buffer: Buffer, offset: number, length: number): Promise<{ bytesRead: number; buffer: Buffer }> };

/** Before any reader is attached. */
export async function guardAgainstMissedUnplug(port: SerialPort): Promise<void> {
  const { unixRead } = (await import('@serialport/bindings-cpp/dist/unix-read.js')) as unknown as { unixRead: UnixRead };
  const binding = port.port as unknown as Binding;
  const fsReadAsync = (async (...args: Parameters<typeof readAsync>) => {
    const result = await readAsync(...args);
    if (result.bytesRead === 0) throw Object.assign(new Error('the device is gone'), { code: 'ENXIO' });
    return result;
  }) as typeof readAsync;
  binding.read = (buffer, offset, length) => unixRead({ binding, buffer, offset, length, fsReadAsync });
}
