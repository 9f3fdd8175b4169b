/**
 * The safety run-through: which tests there are, what each measures, and what its times say. Words are in shared/words/visit/safety-tests.ts.
 * A time taken from the gas data is only ever a hint: a cell's lag is longer than the tolerance of these times.
 *
 * @source order and kinds of test: NORA Oilheat Technicians Manual p 229-241 and the Massachusetts FP-056 checklist (facts only); limits are the marked ones
 */
import type { Appliance } from '../visit/appliance.ts';
import type { z } from 'zod';
import type { Bypass, SafetyResult } from './safety-result.ts';

export const safetyTestIds = [
  'room-co-before',
  'lockout-no-ignition',
  'manual-reset',
  'flame-failure',
  'false-light',
  'flame-signal',
  'high-limit',
  'low-water',
  'relief-valve',
  'switches',
  'blocked-vent',
  'oil-valves',
  'switch-over',
  'restarts',
  'leaks-covers-room-co',
] as const;
export type SafetyTestId = (typeof safetyTestIds)[number];

export type SafetyTest = {
  readonly id: SafetyTestId;
  /** `stopwatch`: timed by hand against the time marked on the control */
  readonly kind: 'stopwatch' | 'figure' | 'question';
  readonly unit?: 's' | 'ohm' | 'ppm' | '°C';
  /** only for some appliances: offered as not applicable first */
  readonly optional?: 'boiler' | 'steam' | 'power-vent' | 'two-stage';
  /** a jumper or an unplugged detector is usual in this test: the bypass register is offered */
  readonly bypassLikely?: true;
};

export const safetyTests: readonly SafetyTest[] = [
  { id: 'room-co-before', kind: 'figure', unit: 'ppm' },
  { id: 'lockout-no-ignition', kind: 'stopwatch', unit: 's', bypassLikely: true },
  { id: 'manual-reset', kind: 'question' },
  { id: 'flame-failure', kind: 'stopwatch', unit: 's', bypassLikely: true },
  { id: 'false-light', kind: 'question', bypassLikely: true },
  { id: 'flame-signal', kind: 'figure', unit: 'ohm' },
  { id: 'high-limit', kind: 'question', bypassLikely: true },
  { id: 'low-water', kind: 'question', optional: 'steam' },
  { id: 'relief-valve', kind: 'question', optional: 'boiler' },
  { id: 'switches', kind: 'question' },
  { id: 'blocked-vent', kind: 'question', optional: 'power-vent' },
  { id: 'oil-valves', kind: 'question' },
  { id: 'switch-over', kind: 'question', optional: 'two-stage' },
  { id: 'restarts', kind: 'question' },
  { id: 'leaks-covers-room-co', kind: 'figure', unit: 'ppm' },
];

/** Tests that this appliance needs; the others are offered and may stay open: low water at hot water only where it is fitted. */
export const testsNeeded = (appliance: Pick<Appliance, 'kind'> | undefined, stages = 1): readonly SafetyTest[] =>
  safetyTests.filter(({ optional }) => {
    if (optional === undefined) return true;
    if (optional === 'two-stage') return stages > 1;
    if (optional === 'boiler') return appliance?.kind === 'boiler-water' || appliance?.kind === 'boiler-steam';
    return optional === 'steam' && appliance?.kind === 'boiler-steam';
  });

/** Of a visit: by the kind of appliance that was signed, else by the kind of now. */
export const testsOfVisit = (
  { stages, applianceSigned }: { readonly stages: readonly unknown[]; readonly applianceSigned?: Pick<Appliance, 'kind'> | undefined },
  appliance: Pick<Appliance, 'kind'> | undefined,
): readonly SafetyTest[] => testsNeeded(applianceSigned ?? appliance, stages.length);

/** Doubt of a time taken by hand, s: starting and stopping together. @source common practice */
export const HAND_TIMING_EXPANDED_S = 0.3;

export type TimingVerdict = 'pass' | 'fail' | 'too-close' | 'no-mark';
export type TimingNote = 'far-below-mark' | 'differs-from-last-visit';

/**
 * A lockout time against the time marked on the control: slower than marked fails. Much quicker than marked, or far from the last visit, is noted.
 *
 * @source fail above the marking: NORA p 241; notes below 50 % and beyond 20 %: common practice
 */
export function judgeTiming({
  seconds,
  markedSeconds,
  lastVisitSeconds,
}: {
  seconds: number;
  markedSeconds?: number | undefined;
  lastVisitSeconds?: number | undefined;
}): {
  verdict: TimingVerdict;
  notes: TimingNote[];
} {
  const notes: TimingNote[] = [];
  if (markedSeconds !== undefined && seconds < 0.5 * markedSeconds) notes.push('far-below-mark');
  if (lastVisitSeconds !== undefined && Math.abs(seconds - lastVisitSeconds) > 0.2 * lastVisitSeconds)
    notes.push('differs-from-last-visit');
  if (markedSeconds === undefined) return { verdict: 'no-mark', notes };
  // 15.3 less 15 is a little over 0.3 in floating point
  const off = Number(Math.abs(seconds - markedSeconds).toFixed(6));
  if (off <= HAND_TIMING_EXPANDED_S) return { verdict: 'too-close', notes };
  return { verdict: seconds <= markedSeconds ? 'pass' : 'fail', notes };
}

export type FlameSignalVerdict = 'usual' | 'weak' | 'too-weak' | 'shorted';

/**
 * Resistance of a photo-resistive flame detector, looking at the flame.
 *
 * @source 300 to 1000 ohm usual, the control needs less than 1600 ohm: public training article, read in excerpt; the control's own sheet comes first
 */
export function judgeFlameOhm(ohm: number): FlameSignalVerdict {
  if (ohm < 50) return 'shorted';
  if (ohm <= 1000) return 'usual';
  return ohm < 1600 ? 'weak' : 'too-weak';
}

/** A photo-resistive detector in the dark: at least 100 kilo-ohm, usually a megaohm or more. @source as above */
export const isDarkEnough = (ohm: number): boolean => ohm >= 100_000;

/** What a flame detector gives: a resistance, a current, or nothing that a meter reads. */
export const flameDetectors = ['resistance', 'current', 'other'] as const;
export type FlameDetector = (typeof flameDetectors)[number];

/** Less than this many times the least current is weak. Own choice. */
const WEAK_CURRENT_SHARE = 1.5;

/** A flame current against the least that the control's sheet gives. Without that figure nothing is said: it differs from control to control. */
export function judgeFlameMicroamps(microamps: number, least: number | undefined): 'enough' | 'weak' | 'too-weak' | undefined {
  if (least === undefined || least <= 0) return undefined;
  if (microamps < least) return 'too-weak';
  return microamps < WEAK_CURRENT_SHARE * least ? 'weak' : 'enough';
}

export type SafetyState = {
  readonly done: readonly SafetyTestId[];
  readonly failed: readonly SafetyTestId[];
  readonly open: readonly SafetyTestId[];
  readonly notApplicable: readonly SafetyTestId[];
  readonly bypassesOpen: readonly string[];
  /** everything is judged, nothing failed, no bypass is open */
  readonly complete: boolean;
};

/** Where the run-through stands; the latest result of a test counts, earlier ones stay in the record. */
export function safetyState(results: readonly SafetyResult[], bypasses: readonly z.infer<typeof Bypass>[]): SafetyState {
  const latest = new Map(results.map((result) => [result.test, result]));
  const having = (result: SafetyResult['result']): SafetyTestId[] => safetyTestIds.filter((id) => latest.get(id)?.result === result);
  const open = safetyTestIds.filter((id) => !latest.has(id));
  const failed = having('fail');
  const bypassesOpen = bypasses.filter(({ closedWallMs }) => closedWallMs === undefined).map(({ what }) => what);
  return {
    done: having('pass'),
    failed,
    open,
    notApplicable: having('not-applicable'),
    bypassesOpen,
    complete: open.length === 0 && failed.length === 0 && bypassesOpen.length === 0,
  };
}
