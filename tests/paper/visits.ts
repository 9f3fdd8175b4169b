/** Invented visits for looking at the report on paper: an everyday one, and those that strain its pages. */
import { cautionKeys } from '../../shared/tuning/advice/cautions.ts';
import type { ReportInput } from '../../shared/report/report-input.ts';
import type { Trial } from '../../shared/tuning/trial/trial.ts';
import { editVisit, type Edit, type Visit } from '../../shared/tuning/visit/visit.ts';
import { gatherRun } from '../../shared/report/gather-run.ts';
import { START_WALL_MS, fullVisit, type FullVisit } from '../helpers/visits/full-visit.ts';
import { signVisit } from '../../shared/tuning/visit/sign-visit.ts';

const at = (minutes: number): number => START_WALL_MS + minutes * 60_000;

/** The run read through the chain. */
function reportInputOf({ header, entries, visit, appliance, instrument }: FullVisit): ReportInput {
  const gatherer = gatherRun(header, {});
  for (const entry of entries) gatherer.push(entry);
  return {
    visit,
    appliance,
    instrument: { instrument, benchTest: { wallMs: START_WALL_MS - 20 * 86_400_000, verdict: 'pass' } },
    runs: [gatherer.finish('7f3a91c2'.padEnd(64, '0'))],
    appVersion: '0.1.0',
  };
}

/** What a person writes down in an everyday visit: every first entry is an edit, too. */
const everydayEdits: readonly Edit[] = Array.from({ length: 44 }, (_, index) => ({
  wallMs: at(-4 + Math.floor(index / 6) * 9),
  by: 'A. Sample',
  path: ['setUp', 'rows', ['electrodeGapMm', 'heightAboveCentrelineMm', 'aheadOfNozzleMm', 'pumpPressurePa'][index % 4] ?? '', 'asLeft'],
  before: undefined,
  after: 3 + (index % 7) / 10,
}));

const everyday = (visit: Visit): Visit => ({
  ...visit,
  edits: [...everydayEdits, ...visit.edits],
  cautions: cautionKeys.map((key) => ({ key, wallMs: at(-5) })),
});

function signed(visit: Visit): Visit {
  const done = signVisit(visit, { name: 'A. Sample', wallMs: visit.endedWallMs ?? at(90), hash: '5d8a0f3a'.repeat(8) });
  if (!done.ok) throw new Error(`not signed: ${done.error.key}`);
  return done.value;
}

function routine(): ReportInput {
  const input = reportInputOf(fullVisit({ source: 'port' }));
  return { ...input, visit: signed(everyday(input.visit)), units: 'us' };
}

const longNote =
  'The chamber was cleaned, the door was sealed and the draft regulator was freed, then the air was set anew from too much to too little. ';

/** Everything long at once: words, names, notes, trials, figures. */
function worst(): ReportInput {
  const input = reportInputOf(fullVisit({ source: 'port' }));
  const { visit } = input;
  const trials: Trial[] = Array.from({ length: 40 }, (_, index): Trial => {
    const model = visit.trials[index % visit.trials.length];
    if (model === undefined) throw new Error('no trial');
    const trial = { ...model, id: `trial-${index}`, takenWallMs: model.takenWallMs + index, notes: index % 9 === 0 ? [longNote] : [] };
    // some were read of the gas alone, some by hand before they were settled
    if (model.reading === undefined || index % 3 === 0) return trial;
    return { ...trial, reading: { ...model.reading, scope: 'gas', settled: index % 3 === 1 } };
  });
  const card = visit.targetCard;
  const corrected = editVisit(
    signed({
      ...everyday(visit),
      unitPreset: 'us',
      trials,
      stages: [{ ...visit.stages[0]!, name: '1', asFoundTrialId: 'trial-0', asLeftTrialId: 'trial-39' }],
      people: [
        { role: 'technician', name: 'Αλεξάνδρα Δοκιμοπαραδειγματοπούλου-Самплеевская', licence: 'T-100-200-300-400-500-600' },
        { role: 'apprentice', name: '測試學徒 見本太郎' },
        { role: 'witness', name: 'Ñandú Żółć Þórður Ïñtërnâtiônàlizætiøn' },
      ],
      notes: [{ wallMs: at(30), text: longNote.repeat(16).slice(0, 2000) }],
      targetCard: card && {
        ...card,
        name: 'Everything that was ever asked of a retention-head burner in a training house',
        lines: card.lines.map((line) => ({
          ...line,
          source: `${line.source}; burner sheet, edition of the year, page 153, table of the retention heads of all sizes`,
        })),
      },
    }),
    { wallMs: at(120), by: 'A. Sample', path: ['annualFuelGal'], after: 650, reason: 'told wrongly on the telephone' },
  );
  if (!corrected.ok) throw new Error('not corrected');
  return {
    ...input,
    visit: corrected.value,
    units: 'us',
    appliance: {
      ...input.appliance!,
      name: 'Dampfkesselanlagenwärmeerzeuger in Training house B, second cellar behind the oil tank, door on the left',
      maker: 'Invented Works',
      model: 'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-ABCDEFGHIJKLMNOPQRSTUVWXYZ',
    },
  };
}

function twoStage(): ReportInput {
  const input = reportInputOf(fullVisit({ source: 'port' }));
  const { visit } = input;
  const second = visit.trials.map((trial) => ({ ...trial, id: `${trial.id}-2`, setting: { ...trial.setting, stage: '2' } }));
  const [first] = visit.stages;
  return {
    ...input,
    units: 'metric',
    visit: signed({
      ...everyday(visit),
      trials: [...visit.trials, ...second],
      safety: [...visit.safety, { test: 'switch-over', result: 'pass', wallMs: at(74) }],
      setUp: {
        ...visit.setUp,
        // one nozzle, two pressures
        stages: [{ stage: '2', pumpPa: 2_000_000 }],
      },
      stages: [first!, { ...first!, name: '2', asFoundTrialId: second[0]?.id, asLeftTrialId: second.at(-1)?.id }],
    }),
  };
}

function training(): ReportInput {
  const input = reportInputOf(fullVisit());
  return { ...input, visit: everyday(input.visit), units: 'us' };
}

function leftOff(): ReportInput {
  const input = reportInputOf(fullVisit({ source: 'port' }));
  const { visit } = input;
  const safety = visit.safety
    .filter(({ test }) => !['high-limit', 'restarts'].includes(test))
    .map((one) => (one.test === 'flame-failure' ? { ...one, result: 'fail' as const, seconds: 21.4 } : one));
  const [stage] = visit.stages;
  return {
    ...input,
    units: 'us',
    visit: signed({
      ...everyday(visit),
      safety,
      stages: [{ ...stage!, asLeftTrialId: undefined }],
      roomCo: [...visit.roomCo, { wallMs: at(74), ppm: 60, place: 'boiler room, burner running' }],
      notLeftRunning: { wallMs: at(76), leftOff: true, redTagged: true, ownerTold: 'M. Sample, owner, in person' },
    }),
  };
}

/** Begun and left: not one line of an instrument. */
function empty(): ReportInput {
  const { visit } = fullVisit({ source: 'port' });
  return {
    appVersion: '0.1.0',
    runs: [],
    visit: { ...visit, trials: [], runs: [], safety: [], roomCo: [], notes: [], edits: [], stages: [{ name: '1' }] },
  };
}

/** The burner is simulated once for each: every visit of it is the same. */
const once = (make: () => ReportInput): (() => ReportInput) => {
  let made: ReportInput | undefined;
  return () => (made ??= make());
};

export const inventedVisits = {
  routine: once(routine),
  worst: once(worst),
  'two-stage': once(twoStage),
  training: once(training),
  'left-off': once(leftOff),
  empty: once(empty),
} as const;
export type InventedVisit = keyof typeof inventedVisits;
