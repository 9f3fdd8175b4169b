/** The serial ports of this machine with what the system knows of them, the likely ones first. */
import type { PortInfo } from '../../shared/ipc/run-commands.ts';
import type { DeviceIdentity } from '../../shared/measurement/run.ts';

export type SystemPort = {
  path: string;
  manufacturer?: string | undefined;
  serialNumber?: string | undefined;
  pnpId?: string | undefined;
  locationId?: string | undefined;
  productId?: string | undefined;
  vendorId?: string | undefined;
  /** Windows only */
  friendlyName?: string | undefined;
};

/** Ports that no system lists (a pseudo-terminal, a port over the network): names between commas. */
const EXTRA_PORTS = 'FLUESIDE_PORTS';

export async function listSerialPorts(env: Readonly<Record<string, string | undefined>> = process.env): Promise<PortInfo[]> {
  const { SerialPort } = await import('serialport');
  const listed = (await SerialPort.list().catch(() => [])) as SystemPort[];
  const extra = (env[EXTRA_PORTS] ?? '').split(',').flatMap((path) => (path.trim() === '' ? [] : [{ path: path.trim() }]));
  return describePorts([...listed, ...extra]);
}

export function describePorts(listed: readonly SystemPort[]): PortInfo[] {
  return listed
    .map(describe)
    .sort(
      (a, b) =>
        Number(b.device.vendorId !== undefined) - Number(a.device.vendorId !== undefined) ||
        a.path.localeCompare(b.path, 'en', { numeric: true }),
    );
}

function describe(port: SystemPort): PortInfo {
  // on macOS the 'tty' name of a port waits for a carrier signal that instruments do not give; 'cu' opens at once
  const path = port.path.replace(/^\/dev\/tty\./, '/dev/cu.');
  const device: DeviceIdentity = {
    ...(port.vendorId === undefined ? {} : { vendorId: port.vendorId.toLowerCase() }),
    ...(port.productId === undefined ? {} : { productId: port.productId.toLowerCase() }),
    ...(port.serialNumber === undefined ? {} : { serialNumber: port.serialNumber }),
    ...(port.locationId === undefined ? {} : { location: port.locationId }),
  };
  const name = port.friendlyName ?? nameFromPnp(port.pnpId) ?? port.manufacturer;
  const short = path.replace(/^\/dev\//, '');
  return {
    path,
    label: (name === undefined ? short : name.includes(short) ? name : `${name} (${short})`).slice(0, 200),
    ...(port.manufacturer === undefined ? {} : { maker: port.manufacturer }),
    device,
  };
}

/** 'usb-Maker_Serial_adapter_1234-if00-port0' -> 'Maker Serial adapter 1234' */
function nameFromPnp(pnpId: string | undefined): string | undefined {
  const name = pnpId?.match(/^usb-(.+?)(?:-if\d+)?(?:-port\d+)?$/)?.[1];
  return name?.replaceAll('_', ' ');
}
