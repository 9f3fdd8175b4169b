/** Unplugs that come with the last byte: how many does the port miss? */
import { SerialSettings } from '../../shared/measurement/run.ts';
import { openSerialPort } from '../../main/source/open-port.ts';
import { startPty } from '../helpers/ports/pty.ts';

export async function soakRace(rounds: number) {
  const pty = await startPty('pty-race.py');
  let stuck = 0;
  for (let round = 0; round < rounds; round++) {
    await pty.ask('', 'ready');
    const opened = await openSerialPort(pty.path, SerialSettings.parse({}));
    if (!opened.ok) throw new Error(opened.error.detail);
    opened.value.onBytes(() => undefined);
    const closed = new Promise<boolean>((resolve) => {
      const timer = setTimeout(() => resolve(false), 5000);
      opened.value.onClose(() => {
        clearTimeout(timer);
        resolve(true);
      });
    });
    await pty.ask('', 'gone');
    if (!(await closed)) stuck++;
    await opened.value.close();
  }
  await pty.stop();
  return { rounds, stuck };
}
