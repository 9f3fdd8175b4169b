import type { StateCreator } from 'zustand/vanilla';
import type { HostInfo, Role } from '../../shared/ipc/session-commands.ts';
import type { Settings } from '../../shared/ipc/settings.ts';
import { firstSettings } from './first-settings.ts';

export type Wire = { phase: 'connecting' } | { phase: 'open' } | { phase: 'refused'; reason: string } | { phase: 'closed'; reason: string };

/** Who serves this window, and the settings that all windows share. */
export type HostSlice = {
  wire: Wire;
  host: Pick<HostInfo, 'host' | 'version' | 'platform' | 'dataFolder' | 'otherWindows' | 'newcomer'> | undefined;
  role: Role;
  settings: Settings;
  welcomed: (info: HostInfo) => void;
  wireRefused: (reason: string) => void;
  wireClosed: (reason: string) => void;
  roleChanged: (role: Role, otherWindows: number) => void;
  settingsChanged: (settings: Settings) => void;
};

export const createHostSlice: StateCreator<HostSlice> = (set) => ({
  wire: { phase: 'connecting' },
  host: undefined,
  role: 'operator',
  settings: firstSettings,
  welcomed: ({ host, version, platform, dataFolder, otherWindows, newcomer, role, settings }) =>
    set({ wire: { phase: 'open' }, host: { host, version, platform, dataFolder, otherWindows, newcomer }, role, settings }),
  wireRefused: (reason) => set({ wire: { phase: 'refused', reason } }),
  wireClosed: (reason) => set(({ wire }) => (wire.phase === 'refused' ? {} : { wire: { phase: 'closed', reason } })),
  roleChanged: (role, otherWindows) => set(({ host }) => ({ role, host: host === undefined ? undefined : { ...host, otherWindows } })),
  settingsChanged: (settings) => set({ settings }),
});
