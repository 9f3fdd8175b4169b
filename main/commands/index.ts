/**
 * Every command by name, with one line for the list of commands. Loaded only when asked for, so that starting stays quick: the list itself
 * loads none. Add one row per command.
 */
import { computeTexts, fuelTexts, nozzleTexts, savingTexts } from '../../shared/words/commands/combustion.ts';
import { adviseTexts, geometryTexts, officeTexts, reportTexts } from '../../shared/words/commands/records.ts';
import { captureTexts, learnTexts, portsTexts, readTexts, replayTexts, simulateTexts } from '../../shared/words/commands/runs.ts';
import type { Command } from './command.ts';

type Row = { readonly summary: string; readonly load: () => Promise<{ command: Command }> };

export const commands: Readonly<Record<string, Row>> = {
  compute: { summary: computeTexts.summary, load: () => import('./compute.ts') },
  fuel: { summary: fuelTexts.summary, load: () => import('./fuel.ts') },
  learn: { summary: learnTexts.summary, load: () => import('./learn.ts') },
  advise: { summary: adviseTexts.summary, load: () => import('./advise.ts') },
  capture: { summary: captureTexts.summary, load: () => import('./capture.ts') },
  ports: { summary: portsTexts.summary, load: () => import('./ports.ts') },
  read: { summary: readTexts.summary, load: () => import('./read.ts') },
  replay: { summary: replayTexts.summary, load: () => import('./replay.ts') },
  geometry: { summary: geometryTexts.summary, load: () => import('./geometry.ts') },
  nozzle: { summary: nozzleTexts.summary, load: () => import('./nozzle.ts') },
  saving: { summary: savingTexts.summary, load: () => import('./saving.ts') },
  simulate: { summary: simulateTexts.summary, load: () => import('./simulate.ts') },
  report: { summary: reportTexts.summary, load: () => import('./report.ts') },
  office: { summary: officeTexts.summary, load: () => import('./office.ts') },
};
