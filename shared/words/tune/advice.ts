/** What to do with the air, and whether the burner may be left running, in words. Open and close are said of the air only. */
import { roomUnsafe } from './alarms.ts';
import { ventName, ventWords } from '../visit/venting.ts';
import type { Advice, AdviceReason } from '../../tuning/advice/advice.ts';
import type { LimitsInForce } from '../../tuning/advice/limits-in-force.ts';
import type { SafeJudgement, UnknownReason, UnsafeReason } from '../../tuning/advice/safe.ts';
import type { Formats } from './tune-formats.ts';

export const oilStops = 'Oil on the paper. Take the probe out. Find the cause before another reading.';
export const alarmStops = 'Open the air or stop the burner, and find out why.';

/** One sentence for each reason; with a limit where it names one. */
export function reasonWords(
  reason: AdviceReason,
  { limits, adjuster = 'the adjuster' }: { limits: LimitsInForce; adjuster?: string | undefined },
  f: Formats,
): string {
  switch (reason) {
    case 'room-co':
      return 'CO in the room is 35\u2009ppm or more.';
    case 'oil':
      return 'No next setting while oil is on the paper.';
    case 'oil-cause-known':
      return 'The cause was entered. Take a smoke spot: the paper must be free of oil.';
    case 'flue-co-alarm':
      return `CO air-free is at the alarm, ${f.ppm(limits.coAlarmAirFreePpm)} or more.`;
    case 'live-co-alarm':
      return `The instrument shows CO at the alarm, ${f.ppm(limits.coAlarmAirFreePpm)} air-free or more.`;
    case 'back-to-clean':
      return 'At that setting CO was read below the alarm.';
    case 'co-falls-towards-less-air':
      return 'CO was measured to fall with less air: the flame is chilled by air. One small step, then read CO again.';
    case 'smoke-over-limit':
      return `Smoke is above ${f.smoke(limits.smokeLimit)}.`;
    case 'smoke-with-much-air':
      return 'Check oil pressure, nozzle and head: with this much air, more air will not stop the smoke.';
    case 'o2-at-floor':
      return `O2 is at or below ${f.o2(limits.o2FloorPercent)}.`;
    case 'no-smoke-by-floor':
      return `No smoke by ${f
        .o2(limits.o2FloorPercent)
        .replace(/\u2009%$/, '')
        .replace(/\.0$/, '')} % O2. Check smoke pump and paper, or set by the maker’s CO2 or O2.`;
    case 'floor-is-near':
      return `No definite smoke so far, and another step could go below ${f.o2(limits.o2FloorPercent)}. Check smoke pump and paper, or set by the maker’s CO2 or O2.`;
    case 'closed-end':
      return 'No definite smoke so far, and the scale ends here. Check smoke pump and paper, or set by the maker’s CO2 or O2.';
    case 'co-before-smoke':
      return 'Check nozzle and head for poor mixing: CO reaches the alarm before smoke shows.';
    case 'set-by-co':
      return 'Keep away from the O2 at which CO was high.';
    case 'smoke-and-co-disagree':
      return 'Check the paper and the CO cell: dark smoke without any CO is unlikely.';
    case 'gas-fuel':
      return 'For pressure-atomizing oil burners only.';
    case 'fuel-not-known':
      return 'Choose the fuel.';
    case 'no-trials':
      return 'Each setting with reading and smoke number becomes a point here.';
    case 'read-first':
      return 'This setting has no reading yet.';
    case 'not-settled':
      return 'Read this setting again: the newest reading was taken before it had settled.';
    case 'smoke-first':
      return 'This setting has no smoke number yet.';
    case 'no-o2':
      return 'The newest reading has no O2.';
    case 'no-co':
      return 'The newest reading has no CO: less air is not advised without it.';
    case 'o2-not-possible':
      return 'Check the instrument in fresh air: the O2 of the newest reading is not possible.';
    case 'diluted':
      return 'Check probe, cone and hose: O2 above 15 % is mostly room air.';
    case 'no-air-adjuster':
      return 'This burner has no air adjuster named.';
    case 'kind-not-said':
      return 'Say what each adjuster moves: air, head, draft or something else.';
    case 'direction-not-known':
      return 'Move one adjuster one small step, mark it and take a reading. That shows which way gives more air.';
    case 'small-step':
      return 'A small step, then read again.';
    case 'find-smoke':
      return 'No definite smoke yet: a step towards it.';
    case 'find-clean':
      return 'A step away from the smoke.';
    case 'narrow-onset':
      return 'One more trial between the smoky and the clean one.';
    case 'as-left':
      return 'This is where the air should be.';
    case 'part-way':
      return 'Part of the way, then read and look again.';
    case 'nearest-step':
      return 'No other step of the adjuster comes nearer to the target.';
    case 'too-few-trials':
      return `Take one more trial with only ${adjuster} moved: two are needed to see what it does.`;
    case 'too-far-beyond-trials':
      return `The target is too far from every position tried with ${adjuster}.`;
    case 'flat':
      return `Moving ${adjuster} did not change O2.`;
    case 'not-monotone':
      return `Check draft and screws, then repeat a trial: O2 did not follow ${adjuster} in one direction, so something else changed.`;
    case 'no-setting':
      return 'Mark where the adjusters are first.';
    case 'scale-ends':
      return `The scale of ${adjuster} ends before the target.`;
    case 'against-what-was-said':
      return `Repeat a trial, or correct which end of the scale gives more air: moving ${adjuster} changed O2 the other way.`;
    case 'co-not-possible':
      return 'Zero the CO cell in fresh air and read again: the CO of the newest reading is not possible.';
    case 'smoke-against-air':
      return 'This spot is not used. Check paper and smoke pump, or repeat it: it showed smoke with as much air as a clean setting, or more.';
    case 'reserve-and-limit-conflict':
      return 'Reserve and upper limit conflict: look for leaks, and check nozzle, pressure and head, before choosing less reserve.';
  }
}

/** What to do, in one sentence. */
export function adviceHeadline({ advice, because, adjuster, from, to, direction, o2 }: Advice, f: Formats): string {
  if (advice === 'stop') return because.includes('room-co') ? roomUnsafe : because.includes('oil') ? oilStops : alarmStops;
  if (advice === 'leave') return o2 === undefined ? 'Leave it.' : `Leave it. O2 ${f.o2(o2)} is where it should be.`;
  if (advice === 'none') return 'No next setting yet.';
  const air = advice === 'less-air' ? 'Less air' : 'More air';
  if (adjuster === undefined || to === undefined) return `${air}, one small step.`;
  const [at, goes] = [from === undefined ? '' : `from ${f.figure(from)} `, f.figure(to)];
  return direction === undefined ? `${air}: ${adjuster} ${at}to ${goes}.` : `${air}: ${direction} ${adjuster} ${at}to ${goes}.`;
}

export function adviceText(advice: Advice, limits: LimitsInForce, f: Formats): string {
  const why = advice.because.map((reason) =>
    // the room comes first, and the oil is not passed over
    reason === 'oil' && advice.because[0] !== 'oil' ? oilStops : reasonWords(reason, { limits, adjuster: advice.adjuster }, f),
  );
  return [adviceHeadline(advice, f), ...why].join(' ');
}

// safe to leave running

const atStage = (stage: string, stages: number): string => (stages > 1 ? ` at stage ${stage}` : '');
const asLeft = (isAsLeft: boolean): string => (isAsLeft ? ' as left' : ' at the newest reading');
const joined = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;

export function unsafeWords(reason: UnsafeReason, f: Formats, titleOf: (test: string) => string, stages = 1): string {
  switch (reason.key) {
    case 'room-co':
      return `CO in the room ${f.ppm(reason.ppm)}`;
    case 'flue-co':
      return `CO in the flue${asLeft(reason.isAsLeft)}${atStage(reason.stage, stages)} ${reason.airFreePpm === undefined ? `${f.ppm(reason.ppm)} as measured` : `${f.ppm(reason.airFreePpm)} air-free`}`;
    case 'oil':
      return 'oil on the smoke paper';
    case 'bypass':
      return `bypass in place (${reason.what})`;
    case 'safety-failed':
      return `failed test: ${joined(reason.tests.map((test) => titleOf(test).replace(/^[A-Z](?=[a-z])/, (first) => first.toLowerCase())))}`;
    case 'venting':
      return ventWords.unsafe(reason.items.map(ventName));
    case 'defect':
      return `defect left: ${reason.what}`;
    case 'smoke':
      return `smoke ${f.smoke(reason.smoke)}${asLeft(reason.isAsLeft)}${atStage(reason.stage, stages)}, limit ${f.smoke(reason.limit)}`;
    case 'safety-open':
      return reason.tests.length === 1
        ? `safety test not done: ${titleOf(reason.tests[0] ?? '').replace(/^[A-Z](?=[a-z])/, (first) => first.toLowerCase())}`
        : `${reason.tests.length} safety tests not done`;
  }
}

export function unknownWords(reason: UnknownReason, f: Formats, stages = 1): string {
  switch (reason.key) {
    case 'room-co-not-read':
      return 'CO in the room was not read';
    case 'room-co-notice':
      return `CO in the room ${f.ppm(reason.ppm)}: its source was not found`;
    case 'as-left-not-read':
      return `no as-left reading${atStage(reason.stage, stages)}`;
    case 'as-left-stale':
      return `something was changed after the as-left reading${atStage(reason.stage, stages)}`;
    case 'as-left-moved':
      return `the burner was set elsewhere after the as-left reading${atStage(reason.stage, stages)}, and no mark says that it was put back`;
    case 'as-left-not-settled':
      return `the as-left reading${atStage(reason.stage, stages)} had not settled`;
    case 'flue-co-not-known':
      return `CO in the flue as left${atStage(reason.stage, stages)} was not read`;
    case 'flue-co-diluted':
      return `the as-left sample${atStage(reason.stage, stages)} was mostly room air`;
    case 'o2-not-possible':
      return `the O2 read as left${atStage(reason.stage, stages)} is not possible`;
    case 'co-not-possible':
      return `the CO read as left${atStage(reason.stage, stages)} is not possible`;
    case 'fuel-not-known':
      return 'the fuel is not known';
    case 'unsafe-since':
      return `the newest reading${atStage(reason.stage, stages)}, at another setting, was over the limit, and the setting as left was not read since`;
    case 'o2-at-floor':
      return `O2 as left${atStage(reason.stage, stages)} is ${f.o2(reason.o2)}: no reserve of air`;
    case 'smoke-not-known':
      return `no smoke number as left${atStage(reason.stage, stages)}`;
    case 'oil-not-cleared':
      return 'no clean paper since oil was on it';
    case 'oil-not-known':
      return 'whether oil is on the smoke paper is not known';
    case 'bypass-not-known':
      return 'whether a bypass is in place is not known';
    case 'not-an-oil-burner':
      return 'only pressure-atomizing oil burners are judged here';
    case 'safety-not-known':
      return 'the safety tests were not made';
    case 'instrument-overdue':
      return `the instrument’s certificate ran out on ${reason.until}`;
  }
}

/** 'Not safe to leave running: oil on the smoke paper; 2 safety tests not done.' */
export function safeHeadline(judgement: SafeJudgement, f: Formats, titleOf: (test: string) => string, stages = 1): string | undefined {
  if (judgement.safe === 'no')
    return `Not safe to leave running: ${judgement.unsafe.map((reason) => unsafeWords(reason, f, titleOf, stages)).join('; ')}.`;
  if (judgement.safe === 'unknown')
    return `Not known whether it is safe to leave running: ${judgement.unknown.map((reason) => unknownWords(reason, f, stages)).join('; ')}.`;
  return undefined;
}

export const leftOffWords = {
  title: 'Not safe to leave running',
  asks: 'Switch the burner off and red-tag it. Then enter that here, and who was told.',
  leftOff: 'The burner is left off',
  redTagged: 'It is red-tagged',
  ownerTold: 'Who was told, by name',
  save: 'Save',
  change: 'Enter what was done',
  said: (owner: string): string => `Left off, red-tagged. Told: ${owner}.`,
  missing: 'Enter that the burner is off and red-tagged, and who was told.',
} as const;
