/** A stored test -> its results per round, the pattern behind them, and the short verdict that stands at the top. */
import { accept, readingBudget, type Acceptance } from './budget.ts';
import { evaluate, type ChannelResult, type ErrorRow, type Evaluation, type Reference } from './evaluate.ts';
import { faultsOf, type Fault } from './faults.ts';
import type { BenchTest, Round } from '../bench-test.ts';
import { errorLimit, type BenchLimits } from '../limits.ts';
import type { BenchChannel } from '../instrument.ts';
import { linesAreMissing } from './missing-lines.ts';
import { bestAveraging, type AllanPoint } from './noise.ts';
import { channelsOf, outsideRange, referencesOf } from '../references.ts';
import type { Application } from '../session/recognise.ts';

export type RoundResult = {
  readonly kind: Round['kind'];
  readonly evaluation: Evaluation;
  readonly faults: readonly Fault[];
  readonly noise: readonly {
    readonly channel: BenchChannel;
    readonly points: readonly AllanPoint[];
    readonly best: AllanPoint | undefined;
  }[];
  /** the answers of a channel to steps of gas, for the picture */
  readonly curves: readonly {
    readonly channel: BenchChannel;
    readonly from: string;
    readonly to: string;
    readonly points: readonly (readonly [number, number])[];
  }[];
  /** no response time from this step: lines were missing on the way */
  readonly linesMissing: readonly { readonly channel: BenchChannel; readonly to: string; readonly stepId: string }[];
  readonly notJudged: readonly { readonly channel: BenchChannel; readonly slot: string }[];
};

export function roundResult(test: BenchTest, round: Round, firstT90S?: Partial<Record<BenchChannel, number>>): RoundResult {
  const slotOf = (stepId: string): string | undefined => test.plan.steps.find(({ id }) => id === stepId)?.slot;
  // a test that an earlier version stored may have a time taken across a hole; what was signed stays as it was signed
  const holes = round.steps.map(({ linesMissing = [], curve, application }): readonly BenchChannel[] =>
    test.signature !== undefined
      ? linesMissing
      : channelsIn(application?.channels ?? {}).filter(
          (channel) =>
            linesMissing.includes(channel) ||
            linesAreMissing(
              (curve?.[channel] ?? []).map(([time]) => time),
              0,
              application?.channels[channel]?.response?.t90.value ?? 0,
            ),
        ),
  );
  const applications = round.steps.flatMap(({ stepId, application }, i): Application[] => {
    const level = slotOf(stepId);
    if (application === undefined || level === undefined) return [];
    const channels = Object.fromEntries(
      Object.entries(application.channels).map(([channel, { plateau, response, resolution }]) => [
        channel,
        // a display that never changed tells nothing about its step; the instrument's sheet does
        {
          plateau,
          response: holes[i]?.includes(channel as BenchChannel) === true ? undefined : response,
          resolution: resolution > 0 ? resolution : (stepOfDisplay(test, channel as BenchChannel) ?? resolution),
        },
      ]),
    );
    return [{ level, markMs: application.markMs, fromMs: application.fromMs, toMs: application.toMs, channels, open: false }];
  });
  const references = referencesOf(test);
  const evaluated = evaluate({ applications, references, limits: test.limits });
  const timed = withWarmUp(withReadings(evaluated, round, test.limits, slotOf), round, references, test);
  const judged = { ...timed, unmeasured: unmeasuredIn(timed, references, test) };
  return {
    kind: round.kind,
    evaluation: judged,
    faults: faultsOf(judged, firstT90S === undefined ? {} : { firstT90S }),
    noise: round.steps.flatMap(({ noise }) =>
      Object.entries(noise ?? {}).map(([channel, points]) => ({ channel: channel as BenchChannel, points, best: bestAveraging(points) })),
    ),
    curves: round.steps.flatMap(({ stepId, curve }, i) => {
      const [from, to] = [slotOf(round.steps[i - 1]?.stepId ?? ''), slotOf(stepId)];
      return from === undefined || to === undefined
        ? []
        : Object.entries(curve ?? {}).map(([channel, points]) => ({ channel: channel as BenchChannel, from, to, points }));
    }),
    linesMissing: round.steps.flatMap(({ stepId }, i) =>
      (holes[i] ?? []).map((channel) => ({ channel, to: slotOf(stepId) ?? '', stepId })),
    ),
    notJudged: test.gases.flatMap(({ slot, gas }) => outsideRange(test.instrument.cells, gas).map((channel) => ({ channel, slot }))),
  };
}

function unmeasuredIn({ channels }: Evaluation, references: readonly Reference[], test: BenchTest): NonNullable<Evaluation['unmeasured']> {
  const slots = new Set<string>(test.plan.steps.map(({ slot }) => slot));
  const planned = references.filter(({ key, hydrogenPpm }) => slots.has(key) && hydrogenPpm === undefined);
  return channelsOf(test.instrument.cells)
    .filter((channel) => test.limits?.lines.some((line) => line.channel === channel && errorLimit(line, 1) !== undefined) === true)
    .flatMap((channel) => {
      const read = channels.find((one) => one.channel === channel)?.errors ?? [];
      return planned.flatMap(({ key, components }) => {
        const reference = components[channel]?.value;
        return reference === undefined || read.some(({ level }) => level === key) ? [] : [{ channel, reference }];
      });
    });
}

const channelsIn = (channels: Partial<Record<BenchChannel, unknown>>): BenchChannel[] => Object.keys(channels) as BenchChannel[];

/** Twenty single readings of one gas stand before the scatter between applications: R 144-2 no. 1.4. */
function withReadings(
  evaluation: Evaluation,
  round: Round,
  limits: BenchLimits | undefined,
  slotOf: (stepId: string) => string | undefined,
): Evaluation {
  const step = round.steps.find(({ readings }) => readings !== undefined);
  if (step?.readings === undefined) return evaluation;
  const { readings } = step;
  const channels = evaluation.channels.map((result): ChannelResult => {
    const values = readings[result.channel];
    if (values === undefined || values.length < 3) return result;
    const level = slotOf(step.stepId) ?? '';
    const line = limits?.lines.find(({ channel }) => channel === result.channel);
    const reference = result.errors.find((row) => row.level === level)?.reference ?? 0;
    const allowed = line === undefined ? undefined : errorLimit(line, reference);
    const limit = allowed === undefined || line?.repeatabilityPart === undefined ? undefined : allowed * line.repeatabilityPart;
    const value = standardDeviation(values);
    const verdict = limit === undefined ? ('not-judged' as const) : accept({ error: value, expanded: 0, limit, rule: 'simple' }).verdict;
    return { ...result, repeatability: { value, limit, verdict, n: values.length, level } };
  });
  return { ...evaluation, channels, verdict: worst(channels.flatMap(verdictsOf)) };
}

const stepOfDisplay = ({ instrument }: Pick<BenchTest, 'instrument'>, channel: BenchChannel): number | undefined =>
  instrument.cells.find((cell) => cell.channel === channel)?.resolution;

/** Readings at once and 2, 5 and 15 min after the stated warm-up: all inside the limit. @source OIML R 144-2 no. 1.19 */
function withWarmUp(evaluation: Evaluation, round: Round, references: readonly Reference[], test: BenchTest): Evaluation {
  const rows = round.steps.flatMap(({ stepId, warmUp }) => {
    const slot = test.plan.steps.find(({ id }) => id === stepId)?.slot;
    const components = references.find(({ key }) => key === slot)?.components;
    return components === undefined ? [] : (warmUp ?? []).map((row) => ({ ...row, components }));
  });
  if (rows.length === 0) return evaluation;
  const channels = evaluation.channels.map((result): ChannelResult => {
    const line = test.limits?.lines.find(({ channel }) => channel === result.channel);
    const warmUp = rows.flatMap(({ afterMin, values, components }) => {
      const [reading, reference] = [values[result.channel], components[result.channel]];
      if (reading === undefined || reference === undefined) return [];
      const value = reading - reference.value;
      const { expanded } = readingBudget({
        gasExpanded: reference.expanded,
        resolution: stepOfDisplay(test, result.channel) ?? 0,
        sd: 0,
        n: 1,
      });
      const limit = line === undefined ? undefined : errorLimit(line, reference.value);
      const verdict =
        limit === undefined || test.limits === undefined
          ? ('not-judged' as const)
          : accept({ error: value, expanded, limit, rule: test.limits.decisionRule }).verdict;
      return [{ afterMin, reading, value, expanded, limit, verdict }];
    });
    return warmUp.length === 0 ? result : { ...result, warmUp };
  });
  return { ...evaluation, channels, verdict: worst(channels.flatMap(verdictsOf)) };
}

/** n - 1. @source any text on statistics */
function standardDeviation(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}

export type Verdict = Acceptance | 'not-judged';

export const verdictsOf = ({ errors, repeatability, linearity, drifts, crossEffect, responses, warmUp }: ChannelResult): Verdict[] => [
  ...errors.map(({ verdict }) => verdict),
  ...[repeatability, linearity, crossEffect].flatMap((one) => (one === undefined ? [] : [one.verdict])),
  ...drifts.map(({ verdict }) => verdict),
  ...responses.map(({ verdict }) => verdict),
  ...(warmUp ?? []).map(({ verdict }) => verdict),
];

export const worst = (verdicts: readonly Verdict[]): Verdict =>
  (['fail', 'conditional', 'pass'] as const).find((verdict) => verdicts.includes(verdict)) ?? 'not-judged';

/** One row per gas and channel: repeats of a gas stand together with the mean of their readings; where one of them is surely outside the limit, that one. */
export type GasRow = Omit<ErrorRow, 'atMs'> & { readonly channel: BenchChannel; readonly repeats: number };

export function gasRows(evaluation: Evaluation, limits: BenchLimits | undefined): GasRow[] {
  return evaluation.channels.flatMap(({ channel, errors }) => {
    const levels = [...new Set(errors.map(({ level }) => level))];
    return levels
      .flatMap((level): GasRow[] => {
        const same = errors.filter((row) => row.level === level);
        const first = same[0];
        if (first === undefined) return [];
        const reading = same.reduce((sum, row) => sum + row.reading, 0) / same.length;
        const error = reading - first.reference;
        const budget = same.reduce((most, row) => (row.budget.expanded > most.expanded ? row.budget : most), first.budget);
        const line = limits?.lines.find((one) => one.channel === channel);
        const limit = line === undefined ? undefined : errorLimit(line, first.reference);
        const verdict =
          limit === undefined || limits === undefined
            ? ('not-judged' as const)
            : accept({ error, expanded: budget.expanded, limit, rule: limits.decisionRule }).verdict;
        const mean = { level, reference: first.reference, reading, error, budget, limit, verdict, channel, repeats: same.length };
        // too high once and too low once is no good mean
        const far = same.filter((row) => row.verdict === 'fail' && isSurelyOut(row));
        if (verdict === 'fail' || far.length === 0) return [mean];
        const bad = far.reduce((most, row) => (Math.abs(row.error) > Math.abs(most.error) ? row : most));
        return [{ ...mean, reading: bad.reading, error: bad.error, budget: bad.budget, verdict: bad.verdict }];
      })
      .sort((a, b) => (a.level === 'air' ? -1 : b.level === 'air' ? 1 : a.reference - b.reference));
  });
}

/** By more than its scatter and the step of its display, which averaging takes out; what the gas is in doubt by, all repeats share. */
function isSurelyOut({ error, limit, budget }: ErrorRow): boolean {
  const own = budget.contributions.filter(({ key }) => key === 'resolution' || key === 'repeatability').map(({ u }) => u);
  return limit !== undefined && Math.abs(error) > limit + 2 * Math.hypot(...own);
}

/** The sentence at the top, as facts. */
export type Headline =
  | { readonly kind: 'fit'; readonly channels: readonly BenchChannel[] }
  /** nothing failed, and gases of the plan were never read: no word about these channels */
  | { readonly kind: 'part'; readonly fit: readonly BenchChannel[]; readonly unmeasured: NonNullable<Evaluation['unmeasured']> }
  | { readonly kind: 'not-judged' }
  | { readonly kind: 'nothing' }
  | { readonly kind: 'conditional'; readonly channel: BenchChannel; readonly reference: number | undefined }
  /** `above`: gases up to here passed */
  | {
      readonly kind: 'not-fit';
      readonly channel: BenchChannel;
      readonly above: number | undefined;
      readonly others: readonly BenchChannel[];
    };

export function headlineOf(evaluation: Evaluation, limits: BenchLimits | undefined): Headline {
  if (evaluation.channels.length === 0) return { kind: 'nothing' };
  const rows = gasRows(evaluation, limits);
  const verdicts = evaluation.channels.map((result) => ({
    channel: result.channel,
    verdict: worst([
      ...rows.filter(({ channel }) => channel === result.channel).map(({ verdict }) => verdict),
      ...verdictsOf(result).filter((_, i) => i >= result.errors.length),
    ]),
  }));
  const failing = verdicts.filter(({ verdict }) => verdict === 'fail').map(({ channel }) => channel);
  const [first, ...others] = failing;
  if (first !== undefined) {
    const own = rows.filter(({ channel, reference }) => channel === first && reference > 0);
    const failed = own.filter(({ verdict }) => verdict === 'fail').map(({ reference }) => reference);
    const passed = own.filter(({ verdict, reference }) => verdict === 'pass' && failed.every((one) => reference < one));
    const zeroFails = rows.some(({ channel, reference, verdict }) => channel === first && reference === 0 && verdict === 'fail');
    const above = failed.length === 0 || zeroFails ? undefined : passed.map(({ reference }) => reference).sort((a, b) => b - a)[0];
    return { kind: 'not-fit', channel: first, above, others };
  }
  const close = verdicts.find(({ verdict }) => verdict === 'conditional');
  if (close !== undefined)
    return {
      kind: 'conditional',
      channel: close.channel,
      reference: rows.find(({ channel, verdict }) => channel === close.channel && verdict === 'conditional')?.reference,
    };
  const { unmeasured = [] } = evaluation;
  const fit = verdicts
    .filter(({ channel, verdict }) => verdict === 'pass' && unmeasured.every((one) => one.channel !== channel))
    .map(({ channel }) => channel);
  if (unmeasured.length > 0) return { kind: 'part', fit, unmeasured };
  return fit.length === 0 ? { kind: 'not-judged' } : { kind: 'fit', channels: fit };
}
