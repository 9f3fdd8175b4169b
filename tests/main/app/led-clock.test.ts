import { EventEmitter } from 'node:events';
import { expect, it } from 'vitest';
import { clockLedByParent, LED_BY_PARENT } from '../../../main/led-clock.ts';
import { createFakeClock, until } from '../../helpers/host/fake-clock.ts';

const parentWith = (heard: unknown[]) => Object.assign(new EventEmitter(), { send: (message: unknown) => void heard.push(message) });

it('is led only where it was asked for and where there is somebody who leads', () => {
  const real = createFakeClock();
  expect(clockLedByParent(parentWith([]), {}, real)).toBeUndefined();
  expect(clockLedByParent(new EventEmitter(), { [LED_BY_PARENT]: '1' }, real)).toBeUndefined();
  expect(clockLedByParent(parentWith([]), { [LED_BY_PARENT]: '1' }, real)).toBeDefined();
});

it('does not move until told to, then goes from one due event to the next and says when it arrives', async () => {
  const real = createFakeClock();
  const heard: unknown[] = [];
  const parent = parentWith(heard);
  const clock = clockLedByParent(parent, { [LED_BY_PARENT]: '1' }, real);
  if (clock === undefined) throw new Error('not led');
  const [startMs, startWallMs] = [clock.nowMs(), clock.wallMs()];
  const fired: [string, number][] = [];
  clock.every(400, () => fired.push(['every', clock.nowMs() - startMs]));
  clock.after(500, () => fired.push(['after', clock.nowMs() - startMs]));
  const cancel = clock.after(600, () => fired.push(['cancelled', 0]));
  cancel();
  void clock.sleep(900).then(() => fired.push(['sleep', clock.nowMs() - startMs]));
  await real.advance(60_000);
  expect([clock.nowMs() - startMs, clock.wallMs() - startWallMs, fired]).toEqual([0, 0, []]);

  parent.emit('message', { kind: 'something else' });
  parent.emit('message', { kind: 'forward', id: 1, ms: 700 });
  parent.emit('message', { kind: 'forward', id: 2, ms: 300 });
  await until(() => heard.length === 2);
  expect(heard).toEqual([
    { kind: 'forward-done', id: 1 },
    { kind: 'forward-done', id: 2 },
  ]);
  expect([clock.nowMs() - startMs, clock.wallMs() - startWallMs]).toEqual([1000, 1000]);
  expect(fired).toEqual([
    ['every', 400],
    ['after', 500],
    ['every', 800],
    ['sleep', 900],
  ]);
});
