import type { PortInfo } from '../../../shared/ipc/run-documents.ts';
import type { DeviceIdentity } from '../../../shared/measurement/run.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok } from '../../../shared/result.ts';
import type { OpenPort, SerialPortHandle } from '../../../main/source/serial-port.ts';

export const usb = (serialNumber: string, location = '1-1'): DeviceIdentity => ({
  vendorId: '1234',
  productId: '0001',
  serialNumber,
  location,
});

/** Ports that can be plugged and unplugged by hand. */
export function createFakePorts() {
  const devices = new Map<string, { device: DeviceIdentity; handle: FakeHandle | undefined; refuses: Problem | undefined }>();
  const tries: string[] = [];
  const written: string[] = [];
  type FakeHandle = SerialPortHandle & { send(text: string): void; vanish(): void; isListening(): boolean };
  const createHandle = (path: string): FakeHandle => {
    let onBytes: ((bytes: Uint8Array) => void) | undefined;
    let onClose: ((why: 'unplugged' | 'closed', detail: string) => void) | undefined;
    const free = (): void => {
      const found = devices.get(path);
      if (found !== undefined) found.handle = undefined;
    };
    return {
      onBytes: (listener) => (onBytes = listener),
      onClose: (listener) => (onClose = listener),
      write(bytes) {
        written.push(String.fromCharCode(...bytes));
        return Promise.resolve(ok(undefined));
      },
      close() {
        free();
        onClose?.('closed', '');
        return Promise.resolve();
      },
      isListening: () => onBytes !== undefined,
      send: (text) => onBytes?.(Uint8Array.from(text, (sign) => sign.charCodeAt(0))),
      vanish() {
        free();
        onClose?.('unplugged', 'bad file descriptor');
      },
    };
  };
  const openPort: OpenPort = (path) => {
    tries.push(path);
    const found = devices.get(path);
    if (found === undefined) return Promise.resolve(err(problem('port-not-found', path)));
    if (found.refuses !== undefined) return Promise.resolve(err(found.refuses));
    if (found.handle !== undefined) return Promise.resolve(err(problem('port-busy', path)));
    found.handle = createHandle(path);
    return Promise.resolve(ok(found.handle));
  };
  return {
    openPort,
    listPorts: (): Promise<PortInfo[]> => Promise.resolve([...devices].map(([path, { device }]) => ({ path, label: path, device }))),
    tries,
    written,
    plug(path: string, device: DeviceIdentity = {}, refuses?: Problem): void {
      devices.set(path, { device, handle: undefined, refuses });
    },
    unplug(path: string): void {
      const { handle } = devices.get(path) ?? {};
      devices.delete(path);
      handle?.vanish();
    },
    send(path: string, text: string): void {
      const { handle } = devices.get(path) ?? {};
      if (handle === undefined) throw new Error(`${path} is not open`);
      handle.send(text);
    },
    /** open, and somebody takes the bytes */
    isListening: (path: string) => devices.get(path)?.handle?.isListening() === true,
    isOpen: (path: string) => devices.get(path)?.handle !== undefined,
  };
}
