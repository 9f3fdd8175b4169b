/** Changing one setting changes one setting: every key, one after the other, through the wire. */
import { describe, expect, it } from 'vitest';
import { OfficeChoice } from '../../../shared/ipc/office-commands.ts';
import { Settings, type SettingsPatch } from '../../../shared/ipc/settings.ts';
import { openApp, openWindow, toldTo } from './app-fixture.ts';

/** one patch for each key, with a value that is not the default */
const patches: readonly SettingsPatch[] = [
  { theme: 'light' },
  { units: 'metric' },
  { fuelId: 'b20' },
  { smokeScaleHalves: false },
  { settlingMode: 'lab' },
  { bands: { o2Percent: 0.5 } },
  { bands: { coPpm: 33 } },
  { bands: { coShare: 0.25 } },
  { bands: { stackK: 7 } },
  { bands: { airK: 3 } },
  { tolerances: { o2Percent: 0.7 } },
  { tolerances: { coPpm: 17 } },
  { tolerances: { coShare: 0.12 } },
  { tolerances: { stackK: 5 } },
  { tolerances: { airK: 4 } },
  { tolerances: { fuelPoints: 0.75 } },
  { sound: { volume: 0.1 } },
  { sound: { muted: true } },
  { sound: { off: ['mark'] } },
  { csv: { separator: 'semicolon' } },
  { keys: { mark: 'x' } },
  { cautionsReadWallMs: 1 },
  { tourSeenWallMs: 2 },
  { technician: { name: 'A. Tester' } },
  { technician: { licence: 'T-1' } },
  { speech: true },
  { foot: { key: 'PageDown' } },
  { foot: { action: 'smoke' } },
  { office: OfficeChoice.parse({ takesAll: true }) },
  { adjusters: [{ name: 'Damper', coarse: true, step: 1 }] },
];

/** 'part.key' -> value, for the parts that are changed figure by figure; else the key itself */
function leaves(settings: object): Record<string, unknown> {
  const groups = ['bands', 'tolerances', 'sound', 'foot', 'csv', 'technician'];
  return Object.fromEntries(
    Object.entries(settings).flatMap(([key, value]) =>
      groups.includes(key) ? Object.entries(value as object).map(([part, figure]) => [`${key}.${part}`, figure]) : [[key, value]],
    ),
  );
}

async function open() {
  const { app } = openApp();
  const [window, other] = [openWindow(app), openWindow(app, 'viewer')];
  await window.client.call('session.hello', {});
  await other.client.call('session.hello', {});
  return {
    other,
    change: async (patch: SettingsPatch): Promise<Settings> => {
      const changed = await window.client.call('settings.change', { patch });
      if (!changed.ok) throw new Error(changed.error.detail ?? changed.error.code);
      return changed.value;
    },
  };
}

describe('changing one setting', () => {
  it('has a case here for every setting there is', () => {
    const named = patches.flatMap((patch) => Object.keys(leaves(patch)));
    const there = Object.entries(Settings.shape).flatMap(([key]) => {
      const value = (Settings.parse({}) as Record<string, unknown>)[key];
      return Object.keys(leaves({ [key]: value }));
    });
    expect(named.toSorted()).toEqual(there.toSorted());
  });

  it('changes that one and no other, whichever was changed before it', async () => {
    const { change, other } = await open();
    let before = leaves(Settings.parse({}));
    for (const patch of patches) {
      const after = leaves(await change(patch));
      expect(after).toEqual({ ...before, ...leaves(patch) });
      before = after;
    }
    // all of them are away from the defaults by now: a default that comes back would show
    for (const [name, value] of Object.entries(leaves(Settings.parse({})))) expect(before[name], name).not.toEqual(value);
    for (const patch of patches.toReversed()) expect(leaves(await change(patch))).toEqual(before);
    expect(leaves(toldTo(other, 'settings.changed').at(-1) as object)).toEqual(before);
  });

  it('refuses a figure outside its limits, and a key that is none, and changes nothing then', async () => {
    const { change } = await open();
    await change({ fuelId: 'b5' });
    await expect(change({ bands: { o2Percent: 50 } })).rejects.toThrow();
    await expect(change({ sound: { loudness: 1 } } as SettingsPatch)).rejects.toThrow();
    await expect(change({ colour: 'red' } as SettingsPatch)).rejects.toThrow();
    expect(await change({})).toEqual({ ...Settings.parse({}), fuelId: 'b5' });
  });
});
