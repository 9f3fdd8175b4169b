/**
 * Every command by name. Loaded only when asked for, so that starting stays quick; add one row per command.
 */
import type { Command } from './command.ts';

export const commands: Readonly<Record<string, () => Promise<{ command: Command }>>> = {
  compute: () => import('./compute.ts'),
  fuel: () => import('./fuel.ts'),
  learn: () => import('./learn.ts'),
  advise: () => import('./advise.ts'),
  capture: () => import('./capture.ts'),
  ports: () => import('./ports.ts'),
  read: () => import('./read.ts'),
  replay: () => import('./replay.ts'),
  geometry: () => import('./geometry.ts'),
  nozzle: () => import('./nozzle.ts'),
  saving: () => import('./saving.ts'),
  simulate: () => import('./simulate.ts'),
  report: () => import('./report.ts'),
  office: () => import('./office.ts'),
};
