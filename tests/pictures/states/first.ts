import { PORT, plugIn } from '../host.ts';
import { press, pressLast, key, heading, workspace, readCautions, settings, withSettings, type States } from './parts.ts';

export const firstStates: States = {
  first: {
    options: {},
    screens: [
      { name: 'cautions', open: (page) => page.getByRole('button', { name: /I have read this/ }).waitFor() },
      { name: 'start', open: (page) => press(page, /I have read this/) },
      { name: 'source-port-none', open: async (page) => [await key(page, 'o'), await heading(page, /Serial port/i)] },
      { name: 'source-simulated', open: (page) => pressLast(page, /^Simulated burner/) },
      { name: 'source-replay', open: (page) => pressLast(page, /^Replay a run/) },
      { name: 'source-typed', open: (page) => pressLast(page, /^(Type|Typed)/) },
      { name: 'settings', open: async (page) => [await key(page, 'Escape'), await key(page, 'g')] },
      { name: 'keys', open: async (page) => [await key(page, 'Escape'), await workspace(page, 'Records'), await key(page, '?')] },
      { name: 'port-help', open: async (page) => [await key(page, 'Escape'), await workspace(page, 'Tune'), await key(page, '?')] },
      { name: 'bench-empty', open: async (page) => [await key(page, 'Escape'), await workspace(page, 'Bench')] },
      { name: 'warm-up-empty', open: (page) => workspace(page, 'Warm-up') },
      { name: 'records-empty', open: (page) => workspace(page, 'Records') },
    ],
  },
  port: {
    options: { prepare: withSettings },
    begin: (host) => Promise.resolve(plugIn(host)),
    screens: [
      { name: 'start-with-port', open: (page) => heading(page, /Where do the lines/) },
      { name: 'source-port', open: async (page) => [await key(page, 'o'), await page.getByText(PORT).first().waitFor()] },
    ],
  },
  tour: {
    options: { firstRun: 'newcomer', prepare: (folder) => Promise.resolve(settings(folder, readCautions)) },
    screens: [1, 2, 3, 4, 5, 6, 7, 8, 9].map((step) => ({
      name: `${step}`,
      open: async (page, host) => {
        if (step === 1) await host.pass(200);
        else await press(page, /^Next/);
        await page.getByText(`${step} of`, { exact: false }).first().waitFor();
      },
    })),
  },
  learning: {
    options: { prepare: withSettings },
    begin: async (host) => {
      plugIn(host);
      host.instrument.lineOf = (text) => {
        const [, o2, co, stack, air] = text.trim().split(',');
        return `${Number(o2).toFixed(1)},${(40 + Number(co) / 10).toFixed(0)},${(42 + Number(co) / 8).toFixed(0)},${stack},${air}`;
      };
      await host.ask('run.start', { source: { kind: 'serial', path: PORT }, fuelId: 'no2' });
      await host.pass(4);
    },
    screens: [
      { name: 'learning', open: (page) => page.getByRole('navigation', { name: 'Workspaces' }).waitFor() },
      { name: 'question-live', open: (_, host) => host.pass(40) },
      { name: 'question', open: async (page, host) => [await key(page, 'l'), await host.pass(3)] },
      { name: 'display', open: async (page, host) => [await key(page, 'Enter'), await host.pass(5), await key(page, 'Escape')] },
      { name: 'recipe', open: (page) => key(page, 'l') },
    ],
  },
};
