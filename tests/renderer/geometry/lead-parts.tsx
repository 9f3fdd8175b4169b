/** The set-up sheet in a window, as its tests open and use it. */
import { cleanup, fireEvent } from '@testing-library/react';
import { afterEach } from 'vitest';
import { GeometryLead } from '../../../renderer/views/geometry/GeometryLead.tsx';
import { useLead, type Lead } from '../../../renderer/views/geometry/use-lead.ts';
import type { AppState } from '../../../renderer/state/store.ts';
import type { GeometryRecord } from '../../../shared/geometry/record.ts';
import type { HandStepId } from '../../../shared/geometry/steps.ts';
import { trainingCards } from '../../../shared/geometry/training-cards.ts';
import type { Visit } from '../../../shared/tuning/visit/visit.ts';
import { inWindow, oilVisit } from '../helpers/in-window.tsx';

export const [metricCard, inchCard] = trainingCards;
export let lead: Lead;
export const finished: string[] = [];
function Page() {
  lead = useLead({ name: 'On to As-found', run: () => void finished.push('yes') });
  return <GeometryLead lead={lead} toTable={() => undefined} />;
}
type Start = { visit?: Partial<Visit>; setUp?: Partial<Visit['setUp']>; state?: Partial<AppState> };
export function show(step: HandStepId, geometry: Partial<GeometryRecord> = {}, { visit = {}, setUp = {}, state = {} }: Start = {}) {
  finished.length = 0;
  const at = geometry.at ?? { step, side: 'asFound' as const };
  const sheet: Visit['setUp'] = {
    lengthUnit: 'mm',
    rows: {},
    ...setUp,
    geometry: { card: metricCard, tubeEnd: 'straight', ...geometry, at },
  };
  return inWindow(<Page />, { visit: oilVisit({ setUp: sheet, unitPreset: 'metric', ...visit }), ...state });
}
export const input = (): HTMLInputElement => document.querySelector<HTMLInputElement>('.fraction-field input')!;
export const type = (value: string): void => void fireEvent.change(input(), { target: { value } });
export const main = (): HTMLButtonElement => document.querySelector<HTMLButtonElement>('.button.main')!;
export const said = (): string => document.querySelector('.says')?.textContent ?? '';
export const at = (step: HandStepId, side: 'asFound' | 'asLeft' = 'asFound') => ({
  path: ['setUp', 'geometry', 'at'],
  after: { step, side },
});

export function inAFreshSheet(): void {
  afterEach(cleanup);
}
