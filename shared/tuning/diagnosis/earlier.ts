import { draftDropPa } from '../trial/draft.ts';
import { figureOf } from '../trial/trial-figures.ts';
import type { Visit } from '../visit/visit.ts';
import type { EarlierVisit } from './trial-patterns.ts';
import { defined } from '../../defined.ts';

/** What one earlier visit left at this stage of the appliance; undefined when it left nothing that can be compared. */
export function earlierOf(visit: Visit, stageName: string): EarlierVisit | undefined {
  const stage = visit.stages.find(({ name }) => name === stageName);
  const left = visit.trials.find(({ id }) => id === stage?.asLeftTrialId);
  if (left === undefined) return undefined;
  const [stack, air] = [figureOf(left, 'stackTemperature')?.mean, figureOf(left, 'airTemperature')?.mean ?? visit.airTypedC];
  const dropPa = left.draft === undefined ? undefined : draftDropPa(left.draft);
  if ((stack === undefined || air === undefined) && dropPa === undefined) return undefined;
  return {
    ...defined({ netStackK: stack !== undefined && air !== undefined ? stack - air : undefined, draftDropPa: dropPa }),
  };
}
