import { describe, expect, it } from 'vitest';
import { SerialSettings, type DeviceIdentity } from '../../../shared/measurement/run.ts';
import { problem } from '../../../shared/problem.ts';
import { choosePort, isSameDevice } from '../../../main/source/same-device.ts';
import { createSerialSource, type SerialSourceParts } from '../../../main/source/serial-source.ts';
import type { SourceEvent } from '../../../main/source/source.ts';
import { value } from '../../helpers/ports/run-service.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';
import { createFakePorts, usb } from '../../helpers/ports/fake-port.ts';

const start = async (device: DeviceIdentity | undefined, more: Partial<SerialSourceParts> = {}) => {
  const clock = createFakeClock();
  const ports = createFakePorts();
  ports.plug('A', device);
  const port = value(await ports.openPort('A', SerialSettings.parse({})));
  const source = createSerialSource({
    path: 'A',
    label: 'A',
    settings: SerialSettings.parse({}),
    device,
    clock,
    port,
    openPort: ports.openPort,
    listPorts: ports.listPorts,
    ...more,
  });
  const events: SourceEvent[] = [];
  source.start((event) => events.push(event));
  ports.tries.length = 0;
  const kinds = () => events.map((event) => (event.kind === 'lost' ? `lost ${event.problem.code}` : event.kind));
  return { clock, ports, source, events, kinds };
};

describe('serial source', () => {
  it('tries again after 0.5, 1, 2, 5 and 5 seconds, says it once, and goes on when the device is back', async () => {
    const { clock, ports, kinds, events } = await start(usb('1'));
    ports.send('A', 'x\n');
    ports.unplug('A');
    for (const [ms, tries] of [
      [499, 0],
      [1, 1],
      [1000, 2],
      [2000, 3],
      [5000, 4],
      [5000, 5],
    ] as const) {
      await clock.advance(ms);
      expect(ports.tries).toHaveLength(tries);
    }
    expect(kinds()).toEqual(['opened', 'bytes', 'lost port-lost']);
    ports.plug('A', usb('1'));
    await clock.advance(5000);
    ports.send('A', 'y\n');
    expect(kinds().slice(3)).toEqual(['opened', 'bytes']);
    expect(events.at(-1)?.atMs).toBe(clock.nowMs());
  });

  it('follows the same device to another name', async () => {
    const { clock, ports, source } = await start(usb('1'));
    ports.unplug('A');
    ports.plug('B', usb('1', '1-9'));
    await clock.advance(600);
    expect(ports.isOpen('B')).toBe(true);
    expect(source.info).toMatchObject({ path: 'B' });
  });

  it('leaves another device at that name alone until the user agrees', async () => {
    const { clock, ports, source, kinds } = await start(usb('1'));
    ports.unplug('A');
    ports.plug('A', usb('2'));
    await clock.advance(20_000);
    expect(ports.tries).toEqual([]);
    expect(kinds()).toEqual(['opened', 'lost port-lost', 'lost port-other-device']);
    source.reconnect();
    await clock.advance(0);
    expect(ports.isOpen('A')).toBe(true);
  });

  it('is there at once when the name comes back, and is patient with a system that is still setting it up', async () => {
    const names = new Set<string>();
    const { clock, ports, kinds } = await start(usb('1'), { isThere: (path) => Promise.resolve(names.has(path)) });
    ports.unplug('A');
    await clock.advance(20_000);
    ports.plug('A', usb('1'), problem('port-no-permission', 'A'));
    names.add('A');
    await clock.advance(100);
    expect(kinds()).toEqual(['opened', 'lost port-lost']);
    ports.plug('A', usb('1'));
    await clock.advance(100);
    expect(kinds()).toEqual(['opened', 'lost port-lost', 'opened']);
  });

  it('says why when the port is there but refuses', async () => {
    const { clock, ports, kinds } = await start(usb('1'));
    ports.unplug('A');
    ports.plug('A', usb('1'), problem('port-busy', 'A'));
    await clock.advance(600);
    ports.plug('A', usb('1'), problem('port-no-permission', 'A'));
    await clock.advance(1100);
    expect(kinds()).toEqual(['opened', 'lost port-lost', 'lost port-busy', 'lost port-no-permission']);
  });

  it('changes to another port when asked to, and closes the old one', async () => {
    const { clock, ports, source, kinds } = await start(usb('1'));
    ports.plug('B', usb('7'));
    source.reconnect('B');
    await clock.advance(0);
    expect([ports.isOpen('A'), ports.isOpen('B')]).toEqual([false, true]);
    expect(kinds()).toEqual(['opened', 'lost port-lost', 'opened']);
  });

  it('opens a port anew that is open but brings nothing, when told to watch', async () => {
    const { clock, ports, kinds } = await start(usb('1'), { watchdogMs: 10_000 });
    await clock.advance(9000);
    ports.send('A', 'x');
    await clock.advance(10_000);
    expect(kinds()).toEqual(['opened', 'bytes']);
    await clock.advance(2000);
    expect(kinds()).toEqual(['opened', 'bytes', 'lost source-silent', 'opened']);
  });

  it('stops for good', async () => {
    const { clock, ports, source, kinds } = await start(usb('1'));
    ports.unplug('A');
    await source.stop();
    ports.plug('A', usb('1'));
    await clock.advance(60_000);
    expect(ports.tries).toEqual([]);
    expect(kinds()).toEqual(['opened', 'lost port-lost']);
  });
});

describe('the same device', () => {
  it('is told by serial number, else by the socket it is in', () => {
    const { serialNumber, ...bare } = usb('1');
    expect(serialNumber).toBe('1');
    expect(isSameDevice(usb('1', '1-1'), usb('1', '2-2'))).toBe(true);
    expect(isSameDevice(usb('1'), usb('2'))).toBe(false);
    expect(isSameDevice(bare, bare)).toBe(true);
    expect(isSameDevice(bare, { ...bare, location: '9' })).toBe(false);
    expect(isSameDevice({}, {})).toBe(false);
  });

  it('is simply the name when nothing else is known, as with a typed path', () => {
    expect(choosePort({ path: 'X', device: undefined }, [])).toEqual({ kind: 'same', path: 'X' });
    expect(choosePort({ path: 'X', device: {} }, [])).toEqual({ kind: 'same', path: 'X' });
    expect(choosePort({ path: 'X', device: usb('1') }, [])).toEqual({ kind: 'same', path: 'X' });
  });
});
