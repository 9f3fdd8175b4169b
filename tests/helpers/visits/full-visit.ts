/** One whole visit at the simulated burner, from as found to as left: the run's entries, and the visit that follows from them. */
import { createBurner } from '../../../shared/burner/burner.ts';
import { findScenario } from '../../../shared/burner/scenarios/catalogue.ts';
import type { Instrument } from '../../../shared/bench/instrument.ts';
import type { Setting } from '../../../shared/measurement/mark.ts';
import type { RunEntry, RunHeader } from '../../../shared/measurement/run.ts';
import { createRunFold } from '../../../shared/pipeline/fold-run.ts';
import type { Appliance } from '../../../shared/tuning/visit/appliance.ts';
import { exampleCards } from '../../../shared/tuning/card/example-cards.ts';
import { trialsOf } from '../../../shared/tuning/trial/trials.ts';
import { Visit, newVisit } from '../../../shared/tuning/visit/visit.ts';
import { columnsRecipe, runHeader } from '../ports/run-lines.ts';

export const START_WALL_MS = Date.UTC(2026, 10, 24, 12, 2);
const ZONE = 60;
const RUN_ID = 'run-full';

export type FullVisit = { header: RunHeader; entries: RunEntry[]; visit: Visit; appliance: Appliance; instrument: Instrument };

/** @param source 'port': the same lines as if they had come from an instrument, for what only a true record may do */
export function fullVisit({ source = 'simulated', seed = 3 }: { source?: 'simulated' | 'port'; seed?: number } = {}): FullVisit {
  const scenario = findScenario('tune-up');
  if (!scenario.ok) throw new Error('no such scenario');
  const burner = createBurner({ scenario: scenario.value, seed, shape: 'columns' });
  const entries: RunEntry[] = [];
  let nowMs = 0;
  let marks = 0;
  const wait = (seconds: number): void => {
    nowMs += seconds * 1000;
    for (const { timeMs, text } of burner.advanceTo(nowMs)) entries.push({ kind: 'line', timeMs, bytes: text });
  };
  const mark = (body: Extract<RunEntry, { kind: 'mark' }>['mark']['body']): void => {
    entries.push({ kind: 'mark', timeMs: nowMs, mark: { id: `mark-${(marks += 1)}`, timeMs: nowMs, body } });
  };
  const present = (): Setting => ({ stage: '1', positions: burner.adjusters().map(({ name, value }) => ({ name, value })) });
  const look = (): void => {
    mark({ kind: 'smoke', spots: [burner.smokeSpot(nowMs)] });
    const { overFirePa, breechPa } = burner.gauges(nowMs);
    mark({ kind: 'draft', overFirePa: Math.round(overFirePa * 10) / 10, breechPa: Math.round(breechPa * 10) / 10 });
  };
  burner.setAdjuster('shutter', 7.2, 0);
  const found = { stage: '1', positions: present().positions.map((one) => (one.name === 'shutter' ? { ...one, value: 7.2 } : one)) };
  wait(1500);
  look();
  const positions = [6, 5, 4, 3.2, 2.6, 2.2];
  for (const position of [...positions, 4.4]) {
    burner.setAdjuster('shutter', position, nowMs);
    wait(1);
    mark({ kind: 'adjustment', setting: present() });
    wait(position === 4.4 ? 1200 : 330);
    look();
    wait(20);
  }
  entries.push({ kind: 'end', timeMs: nowMs });

  const header = runHeader({
    runId: RUN_ID,
    startWallMs: START_WALL_MS,
    zoneMinutes: ZONE,
    recipe: columnsRecipe,
    visitId: 'visit-full',
    setting: found,
    ...(source === 'port' ? { source: { kind: 'serial', path: 'port', label: 'USB serial 2', settings: serialSettings } } : {}),
  });
  const fold = createRunFold(header, {});
  for (const entry of entries) fold.push(entry);
  const trials = trialsOf({
    runId: RUN_ID,
    startWallMs: START_WALL_MS,
    startSetting: found,
    marks: fold.marks,
    edits: [],
    readings: fold.readings(),
  });
  return { header, entries, visit: wholeVisit(trials, found, source, nowMs), appliance, instrument };
}

const serialSettings = {
  baud: 9600,
  dataBits: 8,
  parity: 'none',
  stopBits: 1,
  flow: 'none',
  dtr: true,
  rts: true,
  hangUpOnClose: true,
} as const;

const appliance: Appliance = {
  format: 1,
  name: 'Boiler in Training house B',
  kind: 'boiler-water',
  maker: 'Invented Works',
  model: 'Type 7',
  serial: 'B-0042',
  year: 2011,
  ratedInputKw: 29.3,
  fuelId: 'no2',
  tank: 'indoor',
  nextDue: '2027-11-30',
};
const instrument: Instrument = {
  format: 1,
  name: 'Instrument 3',
  serial: '0147',
  cells: [
    { channel: 'o2', rangeLow: 0, rangeHigh: 25, installed: '2025-03-01' },
    { channel: 'co', rangeLow: 0, rangeHigh: 4000, installed: '2025-03-01' },
  ],
  certificateUntil: '2027-03-01',
};

function wholeVisit(trials: Visit['trials'], found: Setting, source: 'simulated' | 'port', endMs: number): Visit {
  const at = (minutes: number): number => START_WALL_MS + minutes * 60_000;
  const card = exampleCards.find(({ id }) => id === 'example-training-retention');
  if (card === undefined) throw new Error('the example card is gone');
  const pass = (test: string, minutes: number, more: object = {}) => ({ test, result: 'pass' as const, wallMs: at(minutes), ...more });
  return Visit.parse({
    ...newVisit({
      id: 'visit-full',
      number: 42,
      kind: source === 'simulated' ? 'training' : 'service',
      startedWallMs: START_WALL_MS - 300_000,
      zoneMinutes: ZONE,
      unitPreset: 'metric',
      adjusters: [
        { name: 'shutter', unit: '', min: 0, max: 10, step: 0.1, role: 'fine', kind: 'air' },
        { name: 'band', unit: '', min: 0, max: 10, step: 0.5, role: 'coarse', kind: 'air' },
      ],
    }),
    applianceId: 'appliance-1',
    instrumentId: 'instrument-1',
    instrumentName: 'Instrument 3',
    fuelId: 'no2',
    endedWallMs: START_WALL_MS + endMs + 900_000,
    people: [{ role: 'technician', name: 'A. Sample', licence: 'T-100' }],
    runs: [{ id: RUN_ID, startWallMs: START_WALL_MS, source }],
    setUp: {
      lengthUnit: 'mm',
      rows: {
        electrodeGapMm: { maker: { nominal: 3.5, tolerance: 0.5 }, asFound: 4.4, asLeft: 3.6 },
        heightAboveCentrelineMm: { maker: { nominal: 8, tolerance: 1 }, asFound: 8.2 },
        aheadOfNozzleMm: { maker: { nominal: 3, tolerance: 1 }, asFound: 3 },
        nozzleToHeadMm: { asFound: 5 },
        headSetting: { asFound: 2 },
        nozzleFlowLh: { asFound: 2.46 },
        nozzleAngleDeg: { asFound: 60 },
        pumpPressurePa: { maker: { low: 900_000, high: 1_000_000 }, asFound: 965_266 },
      },
      nozzlePattern: { asFound: 'hollow' },
    },
    settingFound: found,
    stages: [{ name: '1', asFoundTrialId: trials[0]?.id, asLeftTrialId: trials.at(-1)?.id, reserveCo2Points: 1 }],
    trials,
    changes: [{ wallMs: START_WALL_MS - 120_000, kind: 'electrodes', note: 'gap set to the sheet' }],
    zeroed: { wallMs: START_WALL_MS - 240_000, place: 'outdoors' },
    roomCo: [
      { wallMs: at(-4), ppm: 0, place: 'boiler room' },
      { wallMs: at(70), ppm: 1, place: 'boiler room' },
    ],
    annualFuelGal: 700,
    targetCard: { ...card, id: 'card-1', example: undefined },
    safety: [
      pass('room-co-before', -3),
      pass('lockout-no-ignition', 62, { seconds: 13.4, markedSeconds: 15 }),
      pass('manual-reset', 63),
      pass('flame-failure', 65, { seconds: 14.1, markedSeconds: 15, note: 'no recycle' }),
      pass('false-light', 66),
      pass('flame-signal', 67, { note: '540 ohm, dark above 1 Mohm' }),
      pass('high-limit', 68),
      { test: 'low-water', result: 'not-applicable', wallMs: at(68) },
      pass('relief-valve', 69),
      pass('switches', 69),
      pass('oil-valves', 70),
      pass('restarts', 72),
      pass('leaks-covers-room-co', 73),
    ],
    bypasses: [{ what: 'detector unplugged for the lockout test', openedWallMs: at(61), closedWallMs: at(62.5) }],
    cautions: [
      { key: 'trained-people', wallMs: at(-5) },
      { key: 'room-co', wallMs: at(-5) },
      { key: 'oil-in-chamber', wallMs: at(-4) },
    ],
    notes: [{ wallMs: at(30), text: 'CO rose when the band was touched; back where it was.' }],
    edits: [
      {
        wallMs: at(20),
        by: 'A. Sample',
        path: ['setUp', 'rows', 'electrodeGapMm', 'asLeft'],
        before: 3.9,
        after: 3.6,
        reason: 'read again',
      },
    ],
  });
}
