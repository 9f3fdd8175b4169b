import { writeFileSync } from 'node:fs';
import { join, dirname } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { SerialSettings } from '../../../shared/measurement/run.ts';
import { describePorts } from '../../../main/source/list-ports.ts';
import { openSerialPort } from '../../../main/source/open-port.ts';
import { portProblem } from '../../../main/source/port-problem.ts';
import type { SerialPortHandle } from '../../../main/source/serial-port.ts';
import { codeOf, value } from '../../helpers/ports/run-service.ts';
import { until } from '../../helpers/host/fake-clock.ts';
import { noPty, startPty, type Pty } from '../../helpers/ports/pty.ts';

const settings = SerialSettings.parse({});
const handles: SerialPortHandle[] = [];
const ptys: Pty[] = [];
afterEach(async () => {
  for (const handle of handles.splice(0)) await handle.close();
  for (const pty of ptys.splice(0)) await pty.stop();
});
const open = async (path: string) => {
  const handle = value(await openSerialPort(path, settings));
  handles.push(handle);
  let text = '';
  let closed: string | undefined;
  handle.onBytes((bytes) => (text += Buffer.from(bytes).toString('latin1')));
  handle.onClose((why) => (closed = why));
  return { handle, text: () => text, closed: () => closed };
};
const instrument = async () => {
  const pty = await startPty();
  ptys.push(pty);
  return pty;
};

describe.skipIf(noPty !== undefined)('a real port', () => {
  it('brings bytes, sends bytes, and tells an unplug from a close', async () => {
    const pty = await instrument();
    const port = await open(pty.path);
    await pty.ask('send 1,4.2,12', 'sent');
    await until(() => port.text() === '1,4.2,12\r\n');
    const heard = pty.ask('', 'received');
    expect(codeOf(await port.handle.write(Buffer.from('?\r\n')))).toBe('ok');
    expect(await heard).toBe('received 3f');
    await pty.ask('unplug', 'unplugged');
    await until(() => port.closed() !== undefined);
    expect(port.closed()).toBe('unplugged');
    await pty.ask('replug', 'replugged');
    const again = await open(pty.path);
    await again.handle.close();
    await until(() => again.closed() !== undefined);
    expect(again.closed()).toBe('closed');
    expect(codeOf(await again.handle.write(Buffer.from('x')))).toBe('port-lost');
  });

  it('tells busy, not there, and no port at all apart', async () => {
    const pty = await instrument();
    await open(pty.path);
    expect(codeOf(await openSerialPort(pty.path, settings))).toBe('port-busy');
    expect(codeOf(await openSerialPort(`${pty.path}-none`, settings))).toBe('port-not-found');
    const file = join(dirname(pty.path), 'plain.txt');
    writeFileSync(file, 'x');
    expect(codeOf(await openSerialPort(file, settings))).toBe('port-settings');
    expect(codeOf(await openSerialPort(pty.path, { ...settings, stopBits: 1.5 }))).toBe('port-settings');
  });

  it('takes odd speeds and framings', async () => {
    const pty = await instrument();
    for (const odd of [
      { baud: 123_456 },
      { baud: 921_600, parity: 'even', dataBits: 7 },
      { flow: 'rts-cts' },
      { flow: 'xon-xoff', stopBits: 2 },
      { hangUpOnClose: false, dtr: false, rts: false },
    ]) {
      const handle = value(await openSerialPort(pty.path, SerialSettings.parse(odd)));
      await handle.close();
    }
  });

  // Short form; `npm run soak` runs 150. Without the guard this fails every time it is tried.
  it('never misses an unplug that comes with the last byte', async () => {
    const pty = await startPty('pty-race.py');
    ptys.push(pty);
    for (let round = 0; round < 25; round++) {
      await pty.ask('', 'ready');
      const port = await open(pty.path);
      await pty.ask('', 'gone');
      await until(() => port.closed() === 'unplugged', 3000);
    }
  });
});

describe('what the system says about ports', () => {
  it.each([
    ['Error: Resource temporarily unavailable Cannot lock port', 'linux', 'port-busy'],
    ['Error: Resource busy, cannot open P', 'darwin', 'port-busy'],
    ['Opening P: Access denied', 'win32', 'port-busy'],
    ['Error: Permission denied, cannot open P', 'linux', 'port-no-permission'],
    ['Error: No such file or directory, cannot open P', 'linux', 'port-not-found'],
    ['Opening P: File not found', 'win32', 'port-not-found'],
    ['Error: Inappropriate ioctl for device setting custom baud rate of 5', 'linux', 'port-settings'],
    ['Opening P: Unknown error code 31', 'win32', 'port-lost'],
  ])('%s on %s is %s', (text, platform, code) => {
    expect(portProblem(new Error(text), 'P', platform).code).toBe(code);
  });

  it('gives names that a person recognises, USB first', () => {
    const ports = describePorts([
      { path: '/dev/ttyS0' },
      {
        path: '/dev/ttyUSB1',
        vendorId: 'ABCD',
        productId: '0001',
        pnpId: 'usb-Maker_Serial_adapter_1234-if00-port0',
        manufacturer: 'Maker',
        serialNumber: '1234',
        locationId: '1-2',
      },
      { path: '/dev/tty.usbserial-1', vendorId: '0403', productId: '6001' },
    ]);
    expect(ports.map(({ path }) => path)).toEqual(['/dev/cu.usbserial-1', '/dev/ttyUSB1', '/dev/ttyS0']);
    expect(ports[1]).toMatchObject({
      label: 'Maker Serial adapter 1234 (ttyUSB1)',
      device: { vendorId: 'abcd', serialNumber: '1234', location: '1-2' },
    });
  });
});
