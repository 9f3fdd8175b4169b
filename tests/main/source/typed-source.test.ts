import { expect, it } from 'vitest';
import { createTypedSource } from '../../../main/source/typed-source.ts';
import type { SourceEvent } from '../../../main/source/source.ts';
import { createFakeClock } from '../../helpers/host/fake-clock.ts';

it('what is typed is a line at the time it was typed, from the start to the stop and not before or after', async () => {
  const clock = createFakeClock();
  const source = createTypedSource(clock);
  const told: SourceEvent[] = [];
  source.type({ o2: 1 });
  const startMs = clock.nowMs();
  source.start((event) => told.push(event));
  await clock.advance(1500);
  source.type({ stackTemperature: 210, o2: 4.5 });
  await source.stop();
  source.type({ o2: 2 });
  expect(told).toEqual([
    { kind: 'opened', atMs: startMs },
    { kind: 'bytes', atMs: startMs + 1500, bytes: new TextEncoder().encode('o2=4.5 stackTemperature=210\n') },
  ]);
});
