/** Questions for practice: smoke papers, and times of a control. */
import type { SmokeSpot } from '../measurement/mark.ts';
import type { PracticeAnswer, PracticeKind, PracticeQuestion } from '../tuning/training/practice.ts';
import { PROBE_SMOKE_MOST } from '../tuning/trial/probe-gate.ts';
import { formatNumber, formatSmoke } from '../format/quantity.ts';
import { controlWords, safetyWords, timingMissing } from './visit/safety-tests.ts';
import { whenDefined } from '../defined.ts';

export const practiceWords = {
  about: 'Questions without a burner, new ones each time. They are not saved in a visit.',
  kinds: { smoke: 'Smoke papers', times: 'Times of a control' } satisfies Record<PracticeKind, string>,
  begin: 'Practise',
  place: (at: number, of: number): string => `question ${at} of ${of}`,
  score: (right: number, told: number): string => `${right} of ${told} right`,
  asks: {
    smoke: 'The paper before the probe goes in. What now?',
    times: 'Rated time against the watch. What is the verdict?',
  } satisfies Record<PracticeKind, string>,
  spot: ({ number, flaw, oilTrace }: SmokeSpot): string =>
    [`smoke ${formatSmoke(number)}`, flaw, oilTrace === true ? 'oil' : undefined].filter((part) => part !== undefined).join(', '),
  answers: {
    'probe-in': 'The probe may go in',
    'probe-out': 'Too dark: the probe stays out',
    oil: 'Oil: the probe stays out, find the cause',
    'another-spot': 'No usable spot: take another',
    pass: 'Pass',
    fail: 'Fail',
    cannot: 'No verdict yet: something is missing',
  } satisfies Record<PracticeAnswer, string>,
  right: 'Right.',
  wrong: (answer: string): string => `Not so: ${answer.charAt(0).toLowerCase()}${answer.slice(1)}.`,
  next: 'Next question',
  again: 'New questions',
  over: (right: number, of: number): string => `Done: ${right} of ${of} right.`,
} as const;

/** What is known of a control, line by line. */
export function practiceFacts(question: Extract<PracticeQuestion, { kind: 'times' }>): string[] {
  const { test, seconds, ratedS, control, startedFrom, restartS } = question.facts;
  const s = (value: number): string => `${formatNumber(value, 1)} s`;
  const recycles = control?.onFlameLoss === 'recycles';
  return [
    safetyWords[test].title,
    `${controlWords.startedFrom}: ${controlWords.startedFroms[startedFrom]}`,
    ...whenDefined(control?.onFlameLoss, (onFlameLoss) => `${controlWords.onFlameLoss} ${controlWords.onFlameLosses[onFlameLoss]}`),
    `Locked out after ${s(seconds)} on the watch`,
    ...whenDefined(restartS, (restartS) => controlWords.lapAt(formatNumber(restartS, 1))),
    ...whenDefined(control?.valveOnDelayS, (valveOnDelayS) => `${controlWords.valveOnDelay}: ${s(valveOnDelayS)}`),
    ratedS === undefined ? 'No time can be read on the control' : `${controlWords.rated[recycles ? 'recycling' : test].us}: ${s(ratedS)}`,
  ];
}

/** Why the right answer is right. */
export function practiceWhy(question: PracticeQuestion): string {
  if (question.kind === 'times') {
    const { missing, countedS } = question.judged;
    if (missing !== undefined) return timingMissing[missing];
    return countedS === undefined
      ? ''
      : `${controlWords.counted(formatNumber(countedS, 1))}, ${formatNumber(question.facts.ratedS ?? NaN, 0)} s on the control.`;
  }
  switch (question.right) {
    case 'oil':
      return 'Oil on any spot counts, wet or not: oil mist ruins filter and cells.';
    case 'another-spot':
      return 'Wet and uneven spots say nothing of the smoke.';
    case 'probe-in':
    case 'probe-out':
      return `The darkest usable spot counts: smoke ${formatSmoke(question.counts ?? NaN)}. Above ${PROBE_SMOKE_MOST} the probe stays out.`;
  }
}
