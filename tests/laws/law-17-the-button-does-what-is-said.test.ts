import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { BenchTest } from '../../shared/bench/bench-test.ts';
import type { PlanStep } from '../../shared/bench/plan.ts';
import type { BenchColumn } from '../../shared/ipc/bench-commands.ts';
import type { AdviceReason } from '../../shared/tuning/advise.ts';
import { limitsInForce } from '../../shared/tuning/limits-in-force.ts';
import { reasonWords } from '../../shared/words/advice.ts';
import { plainFormats } from '../../shared/words/tune-formats.ts';
import { warmUp } from '../../shared/words/warm-up.ts';
import { runDeed, runSays } from '../../renderer/views/bench/run-says.ts';
import { curveDeedOf, type CurveDeed } from '../../renderer/views/visit/curve-deed.ts';
import { stepIds, type StepId } from '../../shared/tuning/step-names.ts';
import { newVisit, type Visit } from '../../shared/tuning/visit.ts';
import { channelRows } from '../../renderer/state/channels.ts';
import { headlineOf } from '../../renderer/state/readiness.ts';
import type { RunRecord } from '../../renderer/state/run-record.ts';
import { mainDeedOf } from '../../renderer/views/tune/main-deed.ts';
import { wayOutOf } from '../../renderer/views/visit/way-out.ts';
import { type infoOf, readingOf, recordWith, stateOf } from '../renderer/helpers/records.ts';
import { makeTrial } from '../shared/tuning/make-trial.ts';

const visit = (more: Partial<Visit> = {}): Visit => ({
  ...newVisit({ id: 'v', number: 1, kind: 'service', startedWallMs: 0, zoneMinutes: 0, unitPreset: 'us', adjusters: [] }),
  ...more,
});
const room = (ppm: number): Partial<Visit> => ({ roomCo: [{ wallMs: 1, ppm }] });
const oily: Partial<Visit> = {
  trials: [{ ...makeTrial({ id: 'a', o2: 5, co: 10, shutter: 4 }), smoke: { spots: [{ number: 0, oilTrace: true }] } }],
};
const smoking: Partial<Visit> = { trials: [makeTrial({ id: 'a', o2: 3, co: 900, shutter: 3, smoke: 0 })] };

const roomSays = 'Shut the burner off, open up, get people out of the room.';
const oilSays = 'Oil on the paper. Take the probe out. Find the cause before another reading.';
const coSays = 'Open the air or stop the burner, and find out why.';
const flame: readonly StepId[] = ['as-found', 'warm-up', 'air-curve', 'as-left'];

/** state -> sentence -> button, and at which steps */
const table: readonly [state: string, more: Partial<Visit>, live: boolean, steps: readonly StepId[], says: string, button: string][] = [
  ['35 ppm in the room', room(35), false, stepIds, roomSays, 'Read the room again'],
  ['120 ppm in the room, and oil', { ...room(120), ...oily }, true, stepIds, roomSays, 'Read the room again'],
  ['oil on the paper', oily, false, flame, oilSays, 'Enter the cause found'],
  ['oil on the paper and a CO alarm', oily, true, flame, oilSays, 'Enter the cause found'],
  ['a CO alarm at the instrument', {}, true, ['as-found', 'warm-up', 'as-left'], coSays, 'Go to the air curve'],
  ['a CO alarm in the newest reading', smoking, false, ['as-found', 'warm-up', 'as-left'], coSays, 'Go to the air curve'],
];

describe('law 17: the main button does what the sentence beside it says', () => {
  it.each(table)('%s', (_, more, live, steps, says, button) => {
    for (const step of stepIds) {
      const out = wayOutOf(step, visit(more), live);
      if (steps.includes(step)) expect(out).toMatchObject({ says, button });
      else expect(out).toBeUndefined();
    }
  });
  it.each([
    ['34 ppm in the room', room(34)],
    ['oil whose cause was entered', { ...oily, oilCauses: [{ wallMs: 5, text: 'nozzle loose' }] }],
    ['nothing at all', {}],
  ])('%s leaves each step its own sentence and button', (_, more) => {
    for (const step of stepIds) expect(wayOutOf(step, visit(more), false)).toBeUndefined();
  });
});

const settled = [stateOf('o2', 'settled'), stateOf('co', 'settled', { value: 13 }), stateOf('airTemperature', 'settled', { value: 21 })];
const stack = stateOf('stackTemperature', 'settling', { value: 211, band: 2, secondsLeft: { value: 260, low: 200, high: 330 } });
const gasReady = recordWith({ states: [...settled, stack], openReading: readingOf('open') });
const fullReady = recordWith({ states: settled, openReading: readingOf('open', { scope: 'full' }) });
const taken: RunRecord = { ...gasReady, taken: [{ id: 'mine', ready: 'gas', timeMs: 60_000 }] };
const typed: RunRecord = {
  ...taken,
  marks: [{ id: 'm', timeMs: 61_000, body: { kind: 'smoke', spots: [{ number: 0 }] } } as unknown as RunRecord['marks'][number]],
};
const inPhase = (phase: ReturnType<typeof infoOf>['phase']): RunRecord => recordWith({ states: settled }, { phase });

/** The live view: state -> what the one sentence says -> what the main button says */
const liveTable: readonly [state: string, record: RunRecord, says: string, button: string, under?: string][] = [
  ['the full reading is ready', fullReady, 'Full reading is ready. Take it', 'Take reading'],
  ['the gas reading is ready', gasReady, 'Gas reading is ready.', 'Take gas reading'],
  ['a reading was taken, the smoke is missing', taken, 'Pump a smoke spot', 'Type smoke'],
  [
    'O2 is still moving',
    recordWith({ states: [...settled.slice(1), stateOf('o2', 'moving')] }),
    'Waiting for O2: still moving, no forecast yet.',
    'Take reading',
    'by hand',
  ],
  [
    'CO is over its range',
    recordWith({ states: [stateOf('o2', 'settled'), stateOf('co', 'absent', { reason: 'over-range' })] }),
    'or take a reading by hand',
    'Take reading',
    'by hand',
  ],
  ['everything was taken and typed', typed, 'Turn the air and mark it, or take it again by hand.', 'Take again', 'by hand'],
  [
    'everything was typed off an instrument without a port',
    {
      ...typed,
      info: { ...typed.info, source: { kind: 'typed' } },
      readings: [readingOf('mine', { fromMs: 59_500, toMs: 59_500 })],
    },
    'Turn the air and mark it, or type readings again.',
    'Type readings',
    'again',
  ],
  ['the run has ended', inPhase('ended'), 'Open a source to measure again.', 'Open a source'],
  ['the port is lost', inPhase('lost'), 'All figures are blank until lines come back.', 'Pick another port'],
];

describe('law 17 on the live view', () => {
  it.each(liveTable)('%s', (_, record, says, button, under) => {
    const { strong, rest } = headlineOf(
      record,
      channelRows(record, () => undefined),
      'metric',
    );
    expect(`${strong} ${rest}`).toContain(says);
    expect(mainDeedOf(record)).toMatchObject({ text: button, under });
  });
  it('while lines are learned or the run is paused nothing can be pressed', () => {
    for (const phase of ['learning', 'connecting', 'paused'] as const) expect(mainDeedOf(inPhase(phase)).off).toBe(true);
  });
  it.each(liveTable)('%s, and an alarm: the button is the way out of it', (_, record) => {
    expect(mainDeedOf(record, 'room').text).toBe('Read the room again');
    if (record.info.phase === 'running') expect(mainDeedOf(record, 'flue').text).toBe('Mark more air');
  });
});

/** The air curve: what the advice waits for -> its sentence -> the one button. Complete: the setting has its reading and its smoke. */
const curveTable: Record<AdviceReason, [says: RegExp, complete: CurveDeed, incomplete: CurveDeed]> = {
  'fuel-not-known': [/^Choose the fuel/, 'fuel', 'fuel'],
  'gas-fuel': [/oil burners only/, 'fuel', 'fuel'],
  'kind-not-said': [/^Say what each adjuster moves/, 'kinds', 'kinds'],
  'no-air-adjuster': [/no air adjuster named/, 'adjusters', 'adjusters'],
  'oil-cause-known': [/Take a smoke spot/, 'smoke', 'read'],
  'smoke-first': [/no smoke number yet/, 'smoke', 'read'],
  'read-first': [/no reading yet/, 'read', 'read'],
  'not-settled': [/Read this setting again/, 'read', 'read'],
  'no-o2': [/no O2/, 'read', 'read'],
  'no-co': [/no CO/, 'read', 'read'],
  'o2-not-possible': [/not possible/, 'read', 'read'],
  'co-not-possible': [/read again/, 'read', 'read'],
  diluted: [/Check probe/, 'read', 'read'],
  'no-trials': [/becomes a point/, 'other', 'read'],
  'no-setting': [/Mark where the adjusters are/, 'other', 'read'],
  'direction-not-known': [/move one adjuster one small step, mark it/, 'other', 'read'],
  'too-few-trials': [/Two trials/, 'other', 'read'],
  'not-monotone': [/repeat a trial/, 'other', 'read'],
  'against-what-was-said': [/Repeat a trial/, 'other', 'read'],
  'smoke-against-air': [/repeat it/, 'other', 'read'],
  'scale-ends': [/scale .* ends/, 'other', 'read'],
  'too-far-beyond-trials': [/too far/, 'other', 'read'],
  flat: [/did not move O2/, 'other', 'read'],
  'smoke-with-much-air': [/Check oil pressure/, 'other', 'read'],
  'co-before-smoke': [/nozzle and head/, 'other', 'read'],
  // these stand beside another answer than "none", or beside one of the above
  ...besides('room-co', 'oil', 'flue-co-alarm', 'live-co-alarm', 'back-to-clean', 'co-falls-towards-less-air', 'smoke-over-limit'),
  ...besides('o2-at-floor', 'no-smoke-by-floor', 'floor-is-near', 'closed-end', 'set-by-co', 'smoke-and-co-disagree', 'small-step'),
  ...besides('find-smoke', 'find-clean', 'narrow-onset', 'as-left', 'part-way', 'nearest-step', 'reserve-and-limit-conflict'),
};
function besides<K extends AdviceReason>(...keys: K[]): Record<K, [RegExp, CurveDeed, CurveDeed]> {
  return Object.fromEntries(keys.map((key) => [key, [/./, 'other', 'read']])) as Record<K, [RegExp, CurveDeed, CurveDeed]>;
}

describe('law 17 at the air curve', () => {
  const here = { hasRecord: true, isDone: false, isComplete: true, isKindUnsaid: true };
  it.each(Object.entries(curveTable) as [AdviceReason, (typeof curveTable)[AdviceReason]][])(
    '%s',
    (reason, [says, complete, incomplete]) => {
      expect(reasonWords(reason, { limits: limitsInForce({}) }, plainFormats)).toMatch(says);
      const advice = { advice: 'none' as const, because: [reason] };
      expect(curveDeedOf({ ...here, advice })).toBe(complete);
      expect(curveDeedOf({ ...here, advice, isComplete: false })).toBe(incomplete);
      // without an instrument: what it waits for, or a source
      expect(curveDeedOf({ ...here, advice, hasRecord: false })).toBe(complete === 'fuel' ? 'fuel' : 'connect');
    },
  );
  it.each([
    ['stop', undefined, 'other-air'],
    ['less-air', 'a setting', 'mark'],
    ['more-air', 'a setting', 'mark'],
    ['more-air', undefined, 'other'],
    ['leave', undefined, 'use'],
  ] as const)('%s with %s: %s', (kind, setting, deed) => {
    const asked = setting === undefined ? {} : { setting: { stage: '1', positions: [] } };
    expect(curveDeedOf({ ...here, advice: { advice: kind, because: [], ...asked } })).toBe(deed);
  });
  it('nothing is missing and no instrument is there: on to the next step', () => {
    expect(curveDeedOf({ ...here, advice: undefined, hasRecord: false, isDone: true })).toBe('next');
  });
});

/** The bench, while a plan runs: state of an instrument -> sentence -> button; a dash: it can be seen and not pressed. */
const benchTest = { instrument: { name: 'Analyser A' }, rounds: [{ kind: 'as-found', steps: [] }] } as unknown as BenchTest;
const gas = (purpose: 'span' | 'warm-up' = 'span', slot: 'span' | 'air' = 'span'): PlanStep =>
  ({ id: 's', slot, purpose, holdS: 60 }) as unknown as PlanStep;
const column = (phase: BenchColumn['phase'], more: Partial<BenchColumn> = {}, record: RunRecord | undefined = fullReady) => ({
  id: 'a',
  test: benchTest,
  record,
  state: { testId: 'a', phase, heldS: 0, leftS: 30, absent: [], latest: {}, ...more },
});
const benchTable: readonly [
  state: string,
  columns: readonly ReturnType<typeof column>[],
  step: PlanStep | undefined,
  says: RegExp,
  button: string,
][] = [
  ['the gas is to be switched', [column('switch')], gas(), /^Switch to Span gas, then press Space/, 'Gas switched'],
  ['fresh air comes next', [column('switch')], gas('span', 'air'), /^Put the hose into fresh air, then press Space/, 'Gas switched'],
  ['it warms up', [column('switch')], gas('warm-up', 'air'), /^Let it warm up/, 'It has warmed up'],
  ['it has not moved', [column('no-change')], gas(), /has not moved/, 'Gas switched'],
  ['it reads another gas', [column('other-gas', { looksLike: 'air' })], gas(), /reads like/, 'Gas switched'],
  ['the gas is on its way', [column('arriving')], gas(), /^Span gas is on its way/, '– Gas switched'],
  ['it is held', [column('holding')], gas(), /^Leave it as it is/, '– Gas switched'],
  ['it is unplugged', [column('switch', {}, inPhase('lost'))], gas(), /^Plug Analyser A back in/, 'Pick another port'],
  ['one of two is unplugged', [column('holding'), column('switch', {}, inPhase('lost'))], gas(), /^Plug/, 'Pick another port'],
  ['it is silent', [column('switch', {}, silentRecord())], gas(), /sends nothing/, '– Gas switched'],
  ['the round is done', [column('closed')], undefined, /Look at the result/, 'Look at the result'],
];
function silentRecord(): RunRecord {
  return recordWith({ states: [stateOf('o2', 'silent'), stateOf('co', 'silent')] });
}

describe('law 17 on the bench', () => {
  it.each(benchTable)('%s', (_, columns, step, says, button) => {
    const facts = { columns, step, stepIndex: 0, gasName: (slot: string) => (slot === 'air' ? 'fresh air' : 'Span gas'), same: false };
    expect(runSays(facts)).toMatch(says);
    const { text, off } = runDeed(facts);
    expect(`${off ? '– ' : ''}${text}`).toBe(button);
  });
});

describe('law 17 in Warm-up and Records', () => {
  it('Warm-up: the sentence speaks of what its main button begins', () => {
    expect([warmUp.says.nothing, warmUp.chooseExercise]).toEqual(['Practise when a reading may be taken.', 'Choose an exercise']);
    for (const says of [warmUp.says.cold, warmUp.says.running]) expect(says.startsWith('Call it')).toBe(true);
    expect(warmUp.startCall).toContain('Call it');
  });
  it('Records: a main button stands in a dialog only, and does what its title says', () => {
    const folder = new URL('../../renderer/views/records/', import.meta.url);
    const sources = readdirSync(folder).filter((name) => name.endsWith('.tsx'));
    expect(sources.length).toBeGreaterThan(10);
    for (const name of sources) {
      const source = readFileSync(new URL(name, folder), 'utf8');
      const mains = source.match(/<button[^>]*className="button main"[^>]*>/g) ?? [];
      for (const main of mains) expect([name, main]).toEqual([name, expect.stringContaining('type="submit"')]);
      if (mains.length > 0) expect(source).toContain('<Dialog');
    }
  });
});
