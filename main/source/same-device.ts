/** Which port to open when an instrument comes back: the operating system may have given it another name, or its name to another device. */
import type { PortInfo } from '../../shared/ipc/run-documents.ts';
import type { DeviceIdentity } from '../../shared/measurement/run.ts';

export type PortChoice =
  | { kind: 'same'; path: string }
  /** something else is there now: only the user may say that it is the right one */
  | { kind: 'other'; path: string };

const isKnown = ({ vendorId, productId }: DeviceIdentity): boolean => vendorId !== undefined && productId !== undefined;

/** Same make and, where both tell it, same serial number; without a serial number the same socket. */
export function isSameDevice(a: DeviceIdentity, b: DeviceIdentity): boolean {
  if (!isKnown(a) || a.vendorId !== b.vendorId || a.productId !== b.productId) return false;
  if (a.serialNumber !== undefined && b.serialNumber !== undefined) return a.serialNumber === b.serialNumber;
  return a.location === b.location;
}

/** @param wanted the port as it was when the run began; without an identity (a typed path, a built-in port) its name is all there is */
export function choosePort(wanted: { path: string; device: DeviceIdentity | undefined }, ports: readonly PortInfo[]): PortChoice {
  const { path, device } = wanted;
  const atPath = ports.find((port) => port.path === path);
  if (device === undefined || !isKnown(device)) {
    return atPath !== undefined && isKnown(atPath.device) && device !== undefined ? { kind: 'other', path } : { kind: 'same', path };
  }
  if (atPath !== undefined && isSameDevice(device, atPath.device)) return { kind: 'same', path };
  const moved = ports.find((port) => isSameDevice(device, port.device));
  if (moved !== undefined) return { kind: 'same', path: moved.path };
  return atPath === undefined ? { kind: 'same', path } : { kind: 'other', path };
}
