/** A visit made by hand from round numbers, so that what a report says of it can be checked against tables and by hand. */
import type { Reading } from '../../../shared/measurement/state.ts';
import { exampleCards } from '../../../shared/tuning/card/example-cards.ts';
import type { Trial } from '../../../shared/tuning/trial/trial.ts';
import { newVisit, type Visit } from '../../../shared/tuning/visit/visit.ts';
import { passedSafety } from '../../helpers/visits/left-off.ts';
import type { ReportInput } from '../../../shared/report/report-input.ts';

export const START = Date.UTC(2026, 10, 24, 13, 0);
const K_PER_F = 1 / 1.8;
const AIR_C = 25;

const channel = (mean: number, u: number) => ({ mean, sd: 0, n: 60, nEff: 20, u });

/** @param netF net stack temperature, degF, as the tables have it */
export function trial(
  id: string,
  minutes: number,
  { o2, co, netF, smoke, position }: { o2: number; co: number; netF: number; smoke: number; position: number },
): Trial {
  const fromMs = minutes * 60_000;
  const reading: Reading = {
    id: `reading-${id}`,
    scope: 'full',
    settled: true,
    fromMs,
    toMs: fromMs + 60_000,
    takenMs: fromMs,
    final: true,
    channels: {
      o2: channel(o2, 0.3 / Math.sqrt(3)),
      co: channel(co, 10 / Math.sqrt(3)),
      stackTemperature: channel(AIR_C + netF * K_PER_F, 2 / Math.sqrt(3)),
      airTemperature: channel(AIR_C, 1 / Math.sqrt(3)),
    },
  };
  return {
    id,
    runId: 'run-1',
    fromMs,
    takenWallMs: START + fromMs,
    setting: { stage: '1', positions: [{ name: 'shutter', value: position }] },
    reading,
    smoke: { spots: [{ number: smoke }] },
    draft: { overFirePa: -5, breechPa: -12 },
    notes: [],
  };
}

export const trials: readonly Trial[] = [
  trial('a', 5, { o2: 8, co: 40, netF: 500, smoke: 0, position: 7 }),
  trial('b', 15, { o2: 6, co: 20, netF: 450, smoke: 0, position: 5 }),
  trial('c', 25, { o2: 3, co: 60, netF: 400, smoke: 2, position: 3 }),
  trial('d', 35, { o2: 5, co: 15, netF: 400, smoke: 0, position: 4 }),
];

export function smallVisit(more: Partial<Visit> = {}): Visit {
  const card = exampleCards.find(({ id }) => id === 'example-training-retention');
  if (card === undefined) throw new Error('the example card is gone');
  return {
    ...newVisit({
      id: 'visit-1',
      number: 42,
      kind: 'service',
      startedWallMs: START,
      zoneMinutes: 60,
      unitPreset: 'us',
      adjusters: [{ name: 'shutter', unit: '', min: 0, max: 10, step: 0.25, role: 'fine', kind: 'air' }],
    }),
    fuelId: 'no2',
    runs: [{ id: 'run-1', startWallMs: START, source: 'port' }],
    people: [{ role: 'technician', name: 'A. Sample', licence: 'T-100' }],
    stages: [{ name: '1', asFoundTrialId: 'a', asLeftTrialId: 'd', reserveCo2Points: 1 }],
    trials: [...trials],
    targetCard: card,
    annualFuelGal: 700,
    roomCo: [{ wallMs: START, ppm: 1 }],
    safety: passedSafety(START),
    ...more,
  };
}

export const inputOf = (visit: Visit, more: Partial<ReportInput> = {}): ReportInput => ({ visit, runs: [], appVersion: '0.1.0', ...more });
