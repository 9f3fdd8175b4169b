/** Law 17 room by room: at the air curve, on the bench, at as-found, on the set-up sheet, at the safety tests, at the report. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { BenchTest } from '../../shared/bench/bench-test.ts';
import type { PlanStep } from '../../shared/bench/plan.ts';
import type { BenchColumn } from '../../shared/ipc/bench-commands.ts';
import type { AdviceReason } from '../../shared/tuning/advice/advice.ts';
import { limitsInForce } from '../../shared/tuning/advice/limits-in-force.ts';
import { reasonWords } from '../../shared/words/tune/advice.ts';
import { plainFormats } from '../../shared/words/tune/tune-formats.ts';
import { runDeed, runSays } from '../../renderer/views/bench/run/run-says.ts';
import { curveDeedOf, type CurveDeed } from '../../renderer/views/visit/steps/curve-deed.ts';
import type { Visit } from '../../shared/tuning/visit/visit.ts';
import type { RunRecord } from '../../renderer/state/run-record.ts';
import { recordWith, stateOf } from '../renderer/helpers/records.ts';
import { leadSaysOf } from '../../renderer/views/geometry/lead-says.ts';
import { certificateDeedOf, type CertificateFacts } from '../../renderer/views/bench/certificate/certificate-deed.ts';
import { foundDeedOf, type FoundFacts } from '../../renderer/views/visit/steps/found-deed.ts';
import { reportDeedOf } from '../../renderer/views/visit/steps/report-deed.ts';
import { safetySays } from '../../renderer/views/visit/safety/safety-says.ts';
import { warmUpDeedOf } from '../../renderer/views/warm-up/warm-up-deed.ts';
import type { Next } from '../../shared/geometry/lead.ts';
import { cautionKeys } from '../../shared/tuning/advice/cautions.ts';
import { stepsOf } from '../../shared/tuning/visit/steps.ts';
import { warmUpWords } from '../../shared/words/tune/trade.ts';
import { missingWords } from '../../shared/words/visit/steps.ts';
import { visitWords } from '../../shared/words/visit/visit-thread.ts';
import { visit, fullReady, inPhase } from './law-17-records.ts';

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
  'direction-not-known': [/Move one adjuster one small step, mark it/, 'other', 'read'],
  'too-few-trials': [/Take one more trial/, 'other', 'read'],
  'not-monotone': [/repeat a trial/, 'other', 'read'],
  'against-what-was-said': [/Repeat a trial/, 'other', 'read'],
  'smoke-against-air': [/repeat it/, 'other', 'read'],
  'scale-ends': [/scale .* ends/, 'other', 'read'],
  'too-far-beyond-trials': [/too far/, 'other', 'read'],
  flat: [/did not change O2/, 'other', 'read'],
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
/** As-found: what is there -> sentence -> button; a dash: the button goes on, and the sentence is what is missing. */
const found = { gate: { state: 'open' }, hasRun: true, isSkipped: false, candidate: undefined } as const;
const trial = (isChosen: boolean) => ({ number: 3, isChosen });
const foundTable: readonly [state: string, facts: Partial<FoundFacts>, says: string, button: string][] = [
  ['no spot yet', { gate: { state: 'needed' } }, 'Take a smoke spot before the probe goes in.', 'Type smoke spot'],
  ['smoke 4', { gate: { state: 'too-dark', smoke: 4 } }, 'Smoke 4: the probe stays out.', 'Type another spot'],
  [
    'smoke 4 after a reading',
    { gate: { state: 'too-dark', smoke: 4 }, candidate: trial(false) },
    'then take another spot.',
    'Type another spot',
  ],
  ['oil on that spot', { gate: { state: 'oil' } }, 'Oil on the paper: the probe stays out.', 'Type another spot'],
  ['no trial', {}, 'Take the as-found reading on the live view', 'Live view'],
  ['a trial', { candidate: trial(false) }, 'Trial 3 can be as-found.', 'Use trial 3 as found'],
  ['a trial, without a run', { candidate: trial(false), hasRun: false }, 'Trial 3 can be as-found.', 'Use trial 3 as found'],
  ['no instrument', { hasRun: false }, 'Connect the instrument for the as-found reading', 'Connect the instrument'],
  ['no instrument, no spot', { hasRun: false, gate: { state: 'needed' } }, 'Connect the instrument', 'Connect the instrument'],
  ['chosen', { candidate: trial(true) }, '–', '–'],
  ['skipped', { isSkipped: true, candidate: trial(false), gate: { state: 'oil' } }, '–', '–'],
];
/** The set-up sheet: what comes next under the hands -> sentence -> button */
const leadTable: readonly [next: Next, says: string, button: string][] = [
  [{ key: 'measure' }, 'Type what you measure.', 'Next: measure'],
  [{ key: 'measure-again' }, 'Bend the tips down by 1/16. Then measure again.', 'Next: measure again'],
  [{ key: 'tighten', part: 'leftElectrodeClamp' }, 'One part is loose: tighten it.', 'Tight: left electrode clamp'],
  [{ key: 'go-to-stale', to: 'gap' }, 'To be measured again', 'Again: electrode gap'],
  [{ key: 'go-on', to: 'gap' }, '', 'Next: electrode gap'],
  [{ key: 'finish' }, 'The geometry is set. Nothing is loose.', 'On to Warm up and draft'],
];
/** The report: state of the visit -> sentence -> button */
const bypassed: Partial<Visit> = { bypasses: [{ what: 'limit bridged', openedWallMs: 1 }] };
const reportTable: readonly [state: string, more: Partial<Visit>, isUnsafe: boolean, name: string, says: RegExp, button: string][] = [
  ['ready', {}, false, 'A. Sample', /^Signing locks the visit\./, 'Sign'],
  ['nobody named', {}, false, ' ', /^Type your name to sign\.$/, 'Type your name'],
  ['not safe', {}, true, 'A. Sample', /^Switch the burner off and red-tag it. Then enter that here/, 'Enter what was done'],
  ['a bypass in place', bypassed, false, 'A. Sample', /^Remove the bypass first: limit bridged\.$/, 'Enter that it is removed'],
  ['a bypass in place, and not safe', bypassed, true, '', /^Remove the bypass first/, 'Enter that it is removed'],
  ['training', { kind: 'training' }, true, '', /cannot be signed\. Closing/, 'Close as training'],
  ['training with a bypass', { kind: 'training', ...bypassed }, false, '', /^Remove the bypass first/, 'Enter that it is removed'],
  ['signed', { signature: { name: 'A. Sample', wallMs: 1, hash: 'h' } as Visit['signature'] }, true, '', /^Signed by/, 'Leave the visit'],
];
/** The bench certificate: state of the test -> sentence -> button */
const signature = { name: 'B. Tester', wallMs: 1, hash: 'h' } as BenchTest['signature'];
const certificate = { test: {}, altered: false, may: true, name: 'B. Tester' } as CertificateFacts;
const certificateTable: readonly [state: string, facts: Partial<CertificateFacts>, says: RegExp, button: string][] = [
  ['not signed', {}, /^Not signed yet\. Look it over, then sign/, 'Sign'],
  ['nobody named', { name: '' }, /^Not signed yet\. Type the name/, 'Type the name'],
  ['not signed, in a window that looks on', { may: false }, /the PDF says that it is not signed\.$/, 'Certificate, PDF'],
  ['signed', { test: { signature } }, /^Signed by B\. Tester/, 'Certificate, PDF'],
  ['changed afterwards', { test: { signature }, altered: true }, /^Changed after it was signed/, 'Certificate, PDF'],
  ['practice', { test: { watermark: 'simulated' } }, /^Simulated, for practice/, 'Certificate, PDF'],
];

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

describe('law 17 on the bench', () => {
  it.each(benchTable)('%s', (_, columns, step, says, button) => {
    const facts = { columns, step, stepIndex: 0, gasName: (slot: string) => (slot === 'air' ? 'fresh air' : 'Span gas'), same: false };
    expect(runSays(facts)).toMatch(says);
    const { text, off } = runDeed(facts);
    expect(`${off ? '– ' : ''}${text}`).toBe(button);
  });
});

describe('law 17 at as-found', () => {
  it.each(foundTable)('%s', (_, facts, says, button) => {
    const deed = foundDeedOf({ ...found, ...facts });
    expect(deed?.says ?? '–').toContain(says);
    expect(deed?.text ?? '–').toBe(button);
  });
});

describe('law 17 on the set-up sheet', () => {
  it.each(leadTable)('%o', (next, says, button) => {
    const name = () => 'Electrode gap';
    const order = 'Bend the tips down by 1/16.';
    const said = leadSaysOf({ next, order, looseCount: 1, nameOf: name, titleOf: name, finish: visitWords.onTo('Warm up and draft') });
    expect([said.says, said.button]).toEqual([says, button]);
  });
  it('a figure that cannot be read is corrected first, whatever the one before it says', () => {
    const name = () => 'Electrode gap';
    const facts = { next: { key: 'measure' }, order: undefined, looseCount: 0, nameOf: name, titleOf: name, finish: '' } as const;
    const said = leadSaysOf({ ...facts, wrong: { saved: '5/32' } });
    expect([said.says, said.button]).toEqual(['Correct the figure. 5/32 counts until then.', 'Next: correct it']);
    expect(leadSaysOf({ ...facts, wrong: { saved: '' } }).says).toBe('Correct the figure: it cannot be read.');
  });
  it('warm up and draft: the gauge is zeroed first, as the sentence asks', () => {
    const bare = visit({ job: 'service', cautions: cautionKeys.map((key) => ({ key, wallMs: 1 })) });
    const facts = { onsetFound: {}, safetyTests: [] };
    const first = (of: Visit) => stepsOf(of, facts).find(({ id }) => id === 'warm-up')?.missing[0];
    expect([missingWords(first(bare)!), warmUpWords.gaugeDone]).toEqual(['Zero the draft gauge, hose off.', 'The gauge reads zero']);
    expect(first({ ...bare, warmUp: { gaugeZeroedWallMs: 1 } })).toEqual({ key: 'draft-set' });
  });
});

describe('law 17 at the safety tests', () => {
  const needed = ['flame-failure', 'high-limit'];
  const judged = (...results: string[]) => new Map(results.map((result, at) => [needed[at]!, { result }]));
  it.each([
    ['none judged', judged(), true, 'You decide.', false],
    ['one judged', judged('pass'), true, 'You decide.', false],
    ['all passed', judged('pass', 'not-applicable'), true, 'Every test has a result.', true],
    ['one failed', judged('pass', 'fail'), true, 'Every test has a result. Failed: High limit.', true],
    ['one is taken again, the watch runs', judged('pass', 'pass'), false, 'You decide.', true],
  ])('%s', (_, results, isIdle, says, isDone) => {
    expect(safetySays({ needed, results, isIdle, ofTest: 'You decide.' })).toEqual({ says, isDone });
  });
});

describe('law 17 at the report', () => {
  it.each(reportTable)('%s', (_, more, isUnsafe, name, says, button) => {
    const deed = reportDeedOf(visit(more), isUnsafe, name, () => 'today');
    expect(deed.says).toMatch(says);
    expect(deed.text).toBe(button);
  });
});

describe('law 17 at the bench certificate', () => {
  it.each(certificateTable)('%s', (_, facts, says, button) => {
    const deed = certificateDeedOf({ ...certificate, ...facts });
    expect(deed.says).toMatch(says);
    expect(deed.text).toBe(button);
  });
});

describe('law 17 in Warm-up and Records', () => {
  it.each([
    ['no run', { hasRun: false, hasLightOff: false }, 'Practise when a reading may be taken.', 'Choose an exercise'],
    ['before light-off', { hasRun: true, hasLightOff: false }, '“Call it” may start before light-off.', 'Call it'],
    ['after light-off', { hasRun: true, hasLightOff: true }, 'In “Call it” the states are hidden', 'Call it'],
  ])('Warm-up, %s', (_, facts, says, button) => {
    const deed = warmUpDeedOf(facts);
    expect(deed.says).toContain(says);
    expect(deed.text).toContain(button);
  });
  it('Records: a main button stands in a dialog only, and does what its title says', () => {
    const folder = new URL('../../renderer/views/records/', import.meta.url);
    const sources = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.tsx'));
    expect(sources.length).toBeGreaterThan(10);
    for (const name of sources) {
      const source = readFileSync(new URL(name, folder), 'utf8');
      const mains = source.match(/<button[^>]*className="button main"[^>]*>/g) ?? [];
      for (const main of mains) expect([name, main]).toEqual([name, expect.stringContaining('type="submit"')]);
      if (mains.length > 0) expect(source).toContain('<Dialog');
    }
  });
});
