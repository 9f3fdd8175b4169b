/** The part that is killed: captures a port and writes to the records, and says on standard output what was acknowledged. */
import { v7 as newId } from 'uuid';
import type { Caller, Payload } from '../../shared/ipc/contract.ts';
import { Settings } from '../../shared/ipc/settings.ts';
import { SerialSettings } from '../../shared/measurement/run.ts';
import { createRunService } from '../../main/runs/run-service.ts';
import { openSerialPort } from '../../main/source/open-port.ts';
import { createRecords } from '../../main/store/records.ts';
import { systemClock } from '../../main/system-clock.ts';
import { commaRecipe } from '../helpers/comma-recipe.ts';

const [, , folder = '', port = ''] = process.argv;
const caller: Caller = { clientId: 'crash', role: 'operator' };
const say = (text: string): void => void process.stdout.write(`${text}\n`);
let hasCaptured = false;
const settings = (): Settings => Settings.parse({});

const runService = createRunService({
  clock: systemClock,
  dataFolder: folder,
  appVersion: 'crash test',
  settings,
  listPorts: () => Promise.resolve([]),
  openPort: openSerialPort,
  publish(name, payload) {
    if (name === 'problem.raised' && !JSON.stringify(payload).includes('port-lost')) say(`problem ${JSON.stringify(payload)}`);
    if (name !== 'live.batch' || hasCaptured) return;
    hasCaptured = (payload as Payload<'live.batch'>).samples.length > 0;
    if (hasCaptured) say('captured');
  },
  newId,
  fallbackFolder: folder,
});
const records = createRecords({
  clock: systemClock,
  dataFolder: folder,
  appVersion: 'crash test',
  settings,
  newId,
  publish: () => undefined,
  hashRun: () => Promise.resolve(undefined),
  takeUpload: () => undefined,
  offerDownload: () => '',
});
for (const found of await records.problems()) say(`problem ${JSON.stringify(found)}`);

const recipe = commaRecipe('numbered', ['aux1', 'o2']);
const [cutOff] = await runService.interrupted();
const started =
  cutOff === undefined
    ? await runService.handlers['run.start']({ source: { kind: 'serial', path: port, settings: SerialSettings.parse({}) }, recipe }, caller)
    : await runService.handlers['run.continue']({ runId: cutOff.runId }, caller);
if (started.ok && cutOff === undefined)
  await runService.handlers['run.compareDisplay']({ runId: started.value.runId, agrees: true }, caller);
say(started.ok ? `run ${started.value.runId}` : `problem ${JSON.stringify(started.error)}`);

for (let n = 0; ; n++) {
  const saved = await records.handlers['appliance.save'](
    { appliance: { format: 1, name: `Boiler ${process.pid} ${n}`, kind: 'boiler-water' } },
    caller,
  );
  say(saved.ok ? `saved ${saved.value.id}` : `problem ${JSON.stringify(saved.error)}`);
  await systemClock.sleep(20);
}
