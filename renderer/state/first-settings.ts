/** The settings until the host's hello: the presets of `Settings`, without its schema. A test compares the two. */
import type { Settings } from '../../shared/ipc/settings.ts';

export const firstSettings: Settings = {
  theme: 'system',
  units: 'us',
  fuelId: 'no2',
  smokeScaleHalves: true,
  settlingMode: 'own',
  bands: { o2Percent: 0.2, coPpm: 10, coShare: 0.1, stackK: 2, airK: 1 },
  tolerances: { o2Percent: 0.3, coPpm: 20, coShare: 0.05, stackK: 2, airK: 1, fuelPoints: 0.25 },
  sound: { volume: 0.6, muted: false, off: [] },
  speech: false,
  foot: { key: '', action: 'main' },
  csv: { separator: 'comma' },
  keys: {},
  technician: { name: '', licence: '' },
  office: {
    kind: 'none',
    folder: '',
    host: '',
    port: 5432,
    database: 'flueside',
    user: '',
    certificateFile: '',
    withoutTls: false,
    takesAll: false,
  },
  adjusters: [
    { name: 'Shutter', coarse: false, min: 0, max: 10, step: 0.25 },
    { name: 'Band', coarse: true, min: 0, max: 10, step: 0.5 },
  ],
};
