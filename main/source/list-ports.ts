/** The serial ports of this machine with what the system knows of them, the likely ones first. */
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { PortInfo } from '../../shared/ipc/run-documents.ts';
import type { DeviceIdentity } from '../../shared/measurement/run.ts';
import { defined } from '../../shared/defined.ts';

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

/** in the binding's own list of names for Linux */
const PORT_NAME = /^(tty(S|WCH|ACM|USB|AMA|MFD|O|XRUSB)|rfcomm)/;
/** the system writes what it knows of a port some moments after the port is there */
const KNOWN_AFTER_MS = 10_000;
/** until then it is asked no more often than this, by however many windows */
const ASK_EVERY_MS = 1000;

/**
 * What of the device folder changes when a port comes or goes. On Linux the list itself starts a program each time, and starting one stops the
 * loop that stamps lines.
 * @returns undefined where looking costs as much as listing
 */
async function portsSeen(): Promise<string | undefined> {
  if (process.platform !== 'linux') return undefined;
  const names = (await readdir('/dev')).filter((name) => PORT_NAME.test(name)).sort();
  const marks = names.map(async (name) => {
    const { ctimeMs, ino } = await stat(join('/dev', name));
    return `${name} ${ino} ${ctimeMs}`;
  });
  const links = await readdir('/dev/serial/by-id').catch(() => []);
  return [...(await Promise.all(marks)), ...links.sort()].join('\n');
}

export type PortListParts = {
  readonly list: () => Promise<SystemPort[]>;
  readonly seen: () => Promise<string | undefined>;
  readonly nowMs: () => number;
};

/** Lists anew when something came or went, or when what was listed may have been incomplete yet. */
export function createPortList({ list, seen, nowMs }: PortListParts): () => Promise<SystemPort[]> {
  let before: { readonly seen: string; readonly sinceMs: number; listed: Promise<SystemPort[]> | undefined; untilMs: number } | undefined;
  return async () => {
    const now = await seen().catch(() => undefined);
    if (now === undefined) return list();
    const atMs = nowMs();
    if (before?.seen !== now) before = { seen: now, sinceMs: atMs, listed: undefined, untilMs: 0 };
    if (before.listed !== undefined && atMs < before.untilMs) return before.listed;
    const mine = before;
    const listed = list();
    mine.listed = listed;
    mine.untilMs = atMs - mine.sinceMs < KNOWN_AFTER_MS ? atMs + ASK_EVERY_MS : Infinity;
    listed.catch(() => (mine.listed = undefined));
    return listed;
  };
}

const listOnce = createPortList({
  async list() {
    const { SerialPort } = await import('serialport');
    // a system without the program that tells them has none that it could tell
    const missing = (failure: NodeJS.ErrnoException): SystemPort[] => {
      if (failure.code === 'ENOENT') return [];
      throw failure;
    };
    return (await SerialPort.list().catch(missing)) as SystemPort[];
  },
  seen: portsSeen,
  nowMs: () => performance.now(),
});

export async function listSerialPorts(env: Readonly<Record<string, string | undefined>> = process.env): Promise<PortInfo[]> {
  const listed = await listOnce().catch(() => []);
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
    ...defined({
      vendorId: port.vendorId === undefined ? undefined : port.vendorId.toLowerCase(),
      productId: port.productId === undefined ? undefined : port.productId.toLowerCase(),
      serialNumber: port.serialNumber,
      location: port.locationId,
    }),
  };
  const name = port.friendlyName ?? nameFromPnp(port.pnpId) ?? port.manufacturer;
  const short = path.replace(/^\/dev\//, '');
  return {
    path,
    label: (name === undefined ? short : name.includes(short) ? name : `${name} (${short})`).slice(0, 200),
    ...defined({ maker: port.manufacturer }),
    device,
  };
}

/** 'usb-Maker_Serial_adapter_1234-if00-port0' -> 'Maker Serial adapter 1234' */
function nameFromPnp(pnpId: string | undefined): string | undefined {
  const name = pnpId?.match(/^usb-(.+?)(?:-if\d+)?(?:-port\d+)?$/)?.[1];
  return name?.replaceAll('_', ' ');
}
