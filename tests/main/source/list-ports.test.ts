import { describe, expect, it } from 'vitest';
import { createPortList, type SystemPort } from '../../../main/source/list-ports.ts';

/** A list over a device folder that the test fills. */
function portList() {
  const world = { now: 0, names: ['ttyS0'] as string[] | undefined, lists: 0, fails: false };
  const list = createPortList({
    list() {
      world.lists += 1;
      if (world.fails) return Promise.reject(new Error('busy'));
      return Promise.resolve((world.names ?? ['COM3']).map((path): SystemPort => ({ path })));
    },
    seen: () => Promise.resolve(world.names?.join()),
    nowMs: () => world.now,
  });
  return { world, look: async (atMs: number) => ((world.now = atMs), (await list()).map(({ path }) => path)) };
}

describe('the list of ports', () => {
  it('is made anew while what the system knows of a port may be incomplete, then only when a port comes or goes', async () => {
    const { world, look } = portList();
    await look(0);
    await look(5_000);
    await look(10_000);
    expect(world.lists).toBe(3);
    await look(12_000);
    await look(600_000);
    expect(world.lists).toBe(3);
    world.names = ['ttyS0', 'ttyUSB0'];
    expect(await look(602_000)).toEqual(['ttyS0', 'ttyUSB0']);
    world.names = ['ttyS0'];
    expect(await look(604_000)).toEqual(['ttyS0']);
  });

  it('is made once a second at most, however often it is asked for', async () => {
    const { world, look } = portList();
    for (const at of [0, 1, 400, 999]) expect(await look(at)).toEqual(['ttyS0']);
    expect(world.lists).toBe(1);
    await look(1000);
    expect(world.lists).toBe(2);
    world.names = ['ttyS0', 'ttyUSB0'];
    expect(await look(1001)).toEqual(['ttyS0', 'ttyUSB0']);
  });

  it('is made anew each time where nothing cheaper tells what came', async () => {
    const { world, look } = portList();
    world.names = undefined;
    for (const at of [0, 20_000, 40_000]) expect(await look(at)).toEqual(['COM3']);
    expect(world.lists).toBe(3);
  });

  it('is asked for again after a failure', async () => {
    const { world, look } = portList();
    await look(0);
    world.fails = true;
    await expect(look(20_000)).rejects.toThrow('busy');
    world.fails = false;
    expect(await look(22_000)).toEqual(['ttyS0']);
  });
});
