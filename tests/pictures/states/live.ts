import { PORT, type PictureHost } from '../host.ts';
import { key, heading, escape, dialog, withSettings, connect, type Screen, type States } from './parts.ts';

/** Turns the shutter at the burner and marks it, as a technician does. */
async function turnShutter(host: PictureHost, runId: string, value: number): Promise<void> {
  host.instrument.burner.setAdjuster('shutter', value, host.clock.nowMs());
  await host.ask('run.mark', {
    runId,
    body: {
      kind: 'adjustment',
      setting: {
        stage: '1',
        positions: [
          { name: 'Shutter', value },
          { name: 'Band', value: 3 },
        ],
      },
    },
  });
}

/** Turns the shutter, waits, and enters the smoke spot. */
async function turn(host: PictureHost, runId: string, value: number, seconds: number): Promise<void> {
  await turnShutter(host, runId, value);
  await host.pass(seconds);
  await host.ask('run.mark', { runId, body: { kind: 'smoke', spots: [host.instrument.burner.smokeSpot(host.clock.nowMs())] } });
}

async function tuned(host: PictureHost): Promise<void> {
  host.instrument.burner.setAdjuster('shutter', 7, 0);
  const runId = await connect(host);
  await host.pass(1260);
  await host.ask('run.takeReading', { runId });
  await host.ask('run.mark', { runId, body: { kind: 'smoke', spots: [{ number: 0 }] } });
  await turn(host, runId, 5.5, 300);
  await turn(host, runId, 4.5, 300);
  await turnShutter(host, runId, 4.75);
  await host.pass(45);
}

const measuring: readonly Screen[] = [
  { name: 'settling', open: (page) => page.getByRole('group', { name: /^O2 / }).waitFor() },
  { name: 'gas-ready', open: (_, host) => host.pass(150) },
  { name: 'computed', open: (page) => page.locator('.derived button, .derived-row button').first().click() },
  { name: 'smoke', open: async (page) => [await escape(page), await key(page, 's'), await dialog(page)] },
  { name: 'draft', open: async (page) => [await escape(page), await key(page, 'd'), await dialog(page)] },
  { name: 'pressure', open: async (page) => [await escape(page), await key(page, 'p'), await dialog(page)] },
  { name: 'note', open: async (page) => [await escape(page), await key(page, 'n'), await dialog(page)] },
  { name: 'table', open: async (page) => [await escape(page), await key(page, 'b'), await dialog(page)] },
  { name: 'far', open: async (page) => [await escape(page), await key(page, 'v')] },
  {
    name: 'lines',
    open: async (page, host) => [await key(page, 'v'), await key(page, 'l'), await heading(page, 'Line view'), await host.pass(15)],
  },
  { name: 'source', open: async (page) => [await escape(page), await key(page, 'o')] },
  { name: 'full-ready', open: async (page, host) => [await escape(page), await host.pass(900)] },
  {
    name: 'fresh-air',
    open: async (_, host) => [(host.instrument.lineOf = (text) => text.replace(/^([^,]*),[^,]*,[^,]*/, '$1,20.9,0')), await host.pass(40)],
  },
  {
    name: 'silent',
    open: async (_, host) => [
      (host.instrument.lineOf = (text) => text),
      await host.pass(120),
      (host.instrument.isHeld = true),
      await host.pass(14),
    ],
  },
  { name: 'unplugged', open: async (_, host) => [host.ports.unplug(PORT), await host.pass(6)] },
];

/** O2 falls on a steady slope, CO goes to and fro: what the instrument sends from now on. */
function unrest(host: PictureHost): void {
  const fromMs = host.clock.nowMs();
  host.instrument.lineOf = (text) => {
    const seconds = (host.clock.nowMs() - fromMs) / 1000;
    const [time, o2, , ...others] = text.split(',');
    const co = 55 + 35 * Math.sin((2 * Math.PI * seconds) / 45);
    return [time, (Number(o2) - (0.5 * seconds) / 60).toFixed(1), co.toFixed(0), ...others].join(',');
  };
}

export const liveStates: States = {
  live: { options: { prepare: withSettings }, begin: tuned, screens: measuring },
  unrest: {
    options: { prepare: withSettings },
    begin: async (host) => {
      host.instrument.burner.setAdjuster('shutter', 5.5, 0);
      await connect(host);
      await host.pass(1260);
      unrest(host);
      await host.pass(200);
    },
    screens: [
      { name: 'live', open: (page) => page.getByText('drifting').first().waitFor() },
      { name: 'far', open: (page) => key(page, 'v') },
    ],
  },
};
