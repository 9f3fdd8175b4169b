/** The part that is killed: edits one visit without a pause, and says on standard output what was acknowledged. */
import { v7 as newId } from 'uuid';
import type { Caller } from '../../shared/ipc/contract.ts';
import { Settings } from '../../shared/ipc/settings.ts';
import { createRecords } from '../../main/store/records.ts';
import { systemClock } from '../../main/system-clock.ts';

const [, , folder = ''] = process.argv;
const caller: Caller = { clientId: 'crash', role: 'operator' };
const say = (text: string): void => void process.stdout.write(`${text}\n`);

const records = createRecords({
  clock: systemClock,
  dataFolder: folder,
  appVersion: 'crash test',
  settings: () => Settings.parse({}),
  newId,
  publish: () => undefined,
  hashRun: () => Promise.resolve(undefined),
  takeUpload: () => undefined,
  offerDownload: () => '',
});
for (const found of await records.problems()) say(`problem ${JSON.stringify(found)}`);

const list = await records.handlers['visit.list']({ search: '', limit: 1, offset: 0 }, caller);
const known = list.ok ? list.value.visits[0]?.id : undefined;
const visit =
  known === undefined
    ? await records.handlers['visit.create']({ kind: 'service' }, caller)
    : await records.handlers['visit.get']({ id: known }, caller);
if (!visit.ok) {
  say(`problem ${JSON.stringify(visit.error)}`);
  process.exit(1);
}
const { id, edits } = visit.value.visit;
say(`visit ${id}`);
// each edit writes a larger number than the one before: what is found afterwards tells which was the last
for (let n = edits.length + 1; ; n++) {
  const edited = await records.handlers['visit.edit']({ id, changes: [{ path: ['annualFuelGal'], after: n }] }, caller);
  say(edited.ok ? `edited ${n}` : `problem ${JSON.stringify(edited.error)}`);
  // a list of edits that grows for ever would only measure its own length
  if (n % 400 === 0) process.exit(0);
}
