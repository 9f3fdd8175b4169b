/** Applications of gas -> results per channel: errors with budgets and verdicts, linearity, repeatability, drift, cross-effect, response. */
import { accept, readingBudget, type Acceptance, type Budget } from './budget.ts';
import type { BenchChannel } from '../instrument.ts';
import { errorLimit, type BenchLimits, type ChannelLimits } from '../limits.ts';
import { linearityOf, type Linearity } from './linearity.ts';
import type { Application } from '../session/recognise.ts';
import { whenDefined } from '../../defined.ts';

/** What a gas of the plan holds: certified value and expanded uncertainty; `hydrogenPpm` where it is the interferent. */
export type Reference = {
  readonly key: string;
  readonly components: Partial<Record<BenchChannel, { value: number; expanded: number }>>;
  readonly hydrogenPpm?: number | undefined;
  readonly freshAir?: boolean | undefined;
};

export type ErrorRow = {
  readonly level: string;
  readonly atMs: number;
  readonly reference: number;
  readonly reading: number;
  readonly error: number;
  readonly budget: Budget;
  readonly limit: number | undefined;
  readonly verdict: Acceptance | 'not-judged';
};
export type Judged = {
  readonly value: number;
  readonly expanded?: number | undefined;
  readonly limit: number | undefined;
  readonly verdict: Acceptance | 'not-judged';
};
export type ResponseRow = {
  readonly from: string;
  readonly to: string;
  readonly direction: 'up' | 'down';
  readonly t90S: number;
  readonly expandedS: number;
  readonly deadS: number;
  readonly riseS: number;
  readonly fromMark: boolean;
  readonly limit: number | undefined;
  readonly verdict: Acceptance | 'not-judged';
};

export type ChannelResult = {
  readonly channel: BenchChannel;
  readonly errors: readonly ErrorRow[];
  readonly repeatability: (Judged & { readonly n: number; readonly level: string }) | undefined;
  readonly linearity: (Linearity & { readonly limit: number | undefined; readonly verdict: Acceptance | 'not-judged' }) | undefined;
  /** change from the first to the last time the same gas was at the inlet */
  readonly drifts: readonly (Judged & { readonly level: string; readonly hours: number; readonly perHour: number })[];
  readonly crossEffect: (Judged & { readonly level: string; readonly perHydrogenPpm: number }) | undefined;
  readonly responses: readonly ResponseRow[];
  /** readings after the stated warm-up: `value` is the error */
  readonly warmUp?: readonly (Judged & { readonly afterMin: number; readonly reading: number })[] | undefined;
};

/** Gas at the inlet may stand this far from the pressure of the room, as a part of it: 750 Pa of 101 325 Pa. @source OIML R 144-2 */
export const INLET_PRESSURE_PART = 750 / 101_325;

export type Evaluation = {
  readonly channels: readonly ChannelResult[];
  readonly rule: BenchLimits['decisionRule'] | undefined;
  readonly verdict: Acceptance | 'not-judged';
  /** gases of the plan, in the range of a cell that has limits, that were never read: nothing is known of the channel there */
  readonly unmeasured?: readonly { readonly channel: BenchChannel; readonly reference: number }[] | undefined;
};

export function evaluate({
  applications,
  references,
  limits,
}: {
  applications: readonly Application[];
  references: readonly Reference[];
  limits: BenchLimits | undefined;
}): Evaluation {
  const byKey = new Map(references.map((reference) => [reference.key, reference]));
  const present = [...new Set(applications.flatMap(({ channels }) => Object.keys(channels) as BenchChannel[]))];
  const channels = present.map((channel) => evaluateChannel(channel, applications, byKey, limits));
  const verdicts = channels.flatMap((result) => [
    ...result.errors.map(({ verdict }) => verdict),
    ...whenDefined(result.repeatability, (repeatability) => repeatability.verdict),
    ...whenDefined(result.linearity, (linearity) => linearity.verdict),
    ...result.drifts.map(({ verdict }) => verdict),
    ...whenDefined(result.crossEffect, (crossEffect) => crossEffect.verdict),
    ...result.responses.map(({ verdict }) => verdict),
  ]);
  const judged = verdicts.filter((verdict) => verdict !== 'not-judged');
  const verdict = judged.includes('fail')
    ? 'fail'
    : judged.includes('conditional')
      ? 'conditional'
      : judged.length > 0
        ? 'pass'
        : 'not-judged';
  return { channels, rule: limits?.decisionRule, verdict };
}

function evaluateChannel(
  channel: BenchChannel,
  applications: readonly Application[],
  byKey: ReadonlyMap<string, Reference>,
  limits: BenchLimits | undefined,
): ChannelResult {
  const line = limits?.lines.find((candidate) => candidate.channel === channel);
  const rule = limits?.decisionRule ?? 'simple';
  const judge = (error: number, expanded: number, limit: number | undefined): Acceptance | 'not-judged' =>
    limit === undefined ? 'not-judged' : accept({ error, expanded, limit, rule }).verdict;
  const known = applications.flatMap((application) => {
    const reference = application.level === undefined ? undefined : byKey.get(application.level);
    const component = reference?.components[channel];
    const measured = application.channels[channel];
    return reference === undefined || component === undefined || measured === undefined
      ? []
      : [{ application, reference, component, measured }];
  });
  const calibrating = known.filter(({ reference }) => reference.hydrogenPpm === undefined);

  const span = Math.max(0, ...calibrating.map(({ component }) => component.value));
  const drifts = driftsOf(calibrating, span, line, judge);
  // a shift of the zero moves every reading; a gas that came back has its own
  const zeroShift = shiftOf(
    drifts.find(({ level }) => calibrating.some(({ reference, component }) => reference.key === level && component.value === 0)),
  );

  const errors = calibrating.map(({ application, reference, component, measured }): ErrorRow => {
    const { plateau, resolution } = measured;
    const ownDrift = drifts.find(({ level }) => level === reference.key);
    const budget = readingBudget({
      gasExpanded: component.expanded,
      resolution,
      sd: plateau.sd,
      n: plateau.nEff,
      drift: (ownDrift === undefined ? zeroShift : shiftOf(ownDrift)) / 2,
      pressureHalfWidth: reference.freshAir === true ? 0 : INLET_PRESSURE_PART * component.value,
    });
    const error = plateau.mean - component.value;
    const limit = line === undefined ? undefined : errorLimit(line, component.value);
    return {
      level: reference.key,
      atMs: application.fromMs,
      reference: component.value,
      reading: plateau.mean,
      error,
      budget,
      limit,
      verdict: judge(error, budget.expanded, limit),
    };
  });

  const linearity = linearityOf(
    calibrating.map(({ component, measured }) => ({ reference: component.value, reading: measured.plateau.mean })),
  );
  const linearityLimit = line?.linearityPercentOfSpan;

  return {
    channel,
    errors,
    repeatability: repeatabilityOf(calibrating, line, judge),
    linearity:
      linearity === undefined
        ? undefined
        : {
            ...linearity,
            limit: linearityLimit,
            verdict:
              linearityLimit === undefined
                ? 'not-judged'
                : accept({ error: linearity.worstPercentOfSpan, expanded: 0, limit: linearityLimit, rule: 'simple' }).verdict,
          },
    drifts,
    crossEffect: crossEffectOf(known, line, judge),
    responses: responsesOf(channel, applications, byKey, line, judge),
  };
}

type Known = {
  readonly application: Application;
  readonly reference: Reference;
  readonly component: { value: number; expanded: number };
  readonly measured: NonNullable<Application['channels'][BenchChannel]>;
};
type Judge = (error: number, expanded: number, limit: number | undefined) => Acceptance | 'not-judged';

/** Scatter of repeated applications of one gas, n - 1; at least three are needed, twenty is what R 144-2 no. 1.4 asks. */
function repeatabilityOf(known: readonly Known[], line: ChannelLimits | undefined, judge: Judge): ChannelResult['repeatability'] {
  let best: { level: string; values: number[]; reference: number } | undefined;
  for (const { reference, component, measured } of known) {
    const values = known.filter((other) => other.reference.key === reference.key).map((other) => other.measured.plateau.mean);
    if (values.length >= 3 && measured !== undefined && (best === undefined || values.length > best.values.length))
      best = { level: reference.key, values, reference: component.value };
  }
  if (best === undefined) return undefined;
  const n = best.values.length;
  const mean = best.values.reduce((sum, value) => sum + value, 0) / n;
  const sd = Math.sqrt(best.values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1));
  const errorAllowed = line === undefined ? undefined : errorLimit(line, best.reference);
  const limit = errorAllowed === undefined || line?.repeatabilityPart === undefined ? undefined : errorAllowed * line.repeatabilityPart;
  return { value: sd, limit, verdict: judge(sd, 0, limit), n, level: best.level };
}

/** First against last application of the same gas; what both share (the gas, the display) cancels, the scatter stays. */
function driftsOf(known: readonly Known[], span: number, line: ChannelLimits | undefined, judge: Judge): ChannelResult['drifts'] {
  const levels = [...new Set(known.map(({ reference }) => reference.key))];
  return levels.flatMap((level) => {
    const same = known.filter(({ reference }) => reference.key === level);
    const first = same[0];
    const last = same.at(-1);
    if (first === undefined || last === undefined || same.length < 2) return [];
    const hours = (last.application.fromMs - first.application.fromMs) / 3_600_000;
    const change = last.measured.plateau.mean - first.measured.plateau.mean;
    const expanded =
      2 *
      Math.hypot(
        first.measured.plateau.sd / Math.sqrt(first.measured.plateau.nEff),
        last.measured.plateau.sd / Math.sqrt(last.measured.plateau.nEff),
        last.measured.resolution / Math.sqrt(6),
      );
    const limit = line?.stabilityPercentOfSpan === undefined || span === 0 ? undefined : (line.stabilityPercentOfSpan / 100) * span;
    return [
      { level, value: change, expanded, limit, verdict: judge(change, expanded, limit), hours, perHour: hours > 0 ? change / hours : 0 },
    ];
  });
}

/** What stands out of the scatter; the scatter itself is in the budget already. */
const shiftOf = (drift: ChannelResult['drifts'][number] | undefined): number =>
  drift === undefined || Math.abs(drift.value) <= (drift.expanded ?? 0) ? 0 : Math.abs(drift.value);

/** What the interferent alone makes the channel show. */
function crossEffectOf(known: readonly Known[], line: ChannelLimits | undefined, judge: Judge): ChannelResult['crossEffect'] {
  const found = known.find(({ reference }) => (reference.hydrogenPpm ?? 0) > 0);
  if (found === undefined) return undefined;
  const { plateau, resolution } = found.measured;
  const value = plateau.mean - found.component.value;
  const expanded = readingBudget({ gasExpanded: found.component.expanded, resolution, sd: plateau.sd, n: plateau.nEff }).expanded;
  const allowed = line === undefined ? undefined : errorLimit(line, found.component.value);
  const limit = allowed === undefined || line?.crossEffectPart === undefined ? undefined : allowed * line.crossEffectPart;
  return {
    value,
    expanded,
    limit,
    verdict: judge(value, expanded, limit),
    level: found.reference.key,
    perHydrogenPpm: value / (found.reference.hydrogenPpm ?? 1),
  };
}

function responsesOf(
  channel: BenchChannel,
  applications: readonly Application[],
  byKey: ReadonlyMap<string, Reference>,
  line: ChannelLimits | undefined,
  judge: Judge,
): ResponseRow[] {
  return applications.flatMap((application, i) => {
    const response = application.channels[channel]?.response;
    const before = applications[i - 1];
    if (response === undefined || before?.level === undefined || application.level === undefined) return [];
    const from = byKey.get(before.level)?.components[channel]?.value;
    const to = byKey.get(application.level)?.components[channel]?.value;
    if (from === undefined || to === undefined || from === to) return [];
    // an acceptance from above only: quicker is never a fault
    const verdict = judge(response.t90.value, response.t90.expanded, line?.t90S);
    return [
      {
        from: before.level,
        to: application.level,
        direction: to > from ? ('up' as const) : ('down' as const),
        t90S: response.t90.value,
        expandedS: response.t90.expanded,
        deadS: response.dead.value,
        riseS: response.rise.value,
        fromMark: application.markMs !== undefined,
        limit: line?.t90S,
        verdict,
      },
    ];
  });
}
