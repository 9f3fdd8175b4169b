/**
 * One instrument going through the plan: which gas is expected, whether it has arrived, how long it has been held, and what the step gave.
 * No timers: the samples carry the time. Several columns run side by side over one manifold; who leads them decides when the next step begins.
 */
import type { Sample } from '../../measurement/sample.ts';
import type { ChannelId } from '../../measurement/channel.ts';
import type { DoneStep } from '../bench-test.ts';
import type { BenchChannel } from '../instrument.ts';
import { nearestLevel, type Level } from './nearest-level.ts';
import { isTimed, type PlanStep } from '../plan.ts';
import { createRecogniser } from './recognise.ts';
import { type Point, storedApplication, ofPurpose } from './step-results.ts';

export type ColumnPhase =
  /** the gas of the step has not been switched yet */
  | 'switch'
  /** on the way */
  | 'arriving'
  /** switched a while ago, and nothing moved */
  | 'no-change'
  /** steady at another gas of the plan, or at none */
  | 'other-gas'
  | 'holding'
  | 'closed';

export type ColumnState = {
  readonly phase: ColumnPhase;
  /** s of rest so far, and still needed */
  readonly heldS: number;
  readonly leftS: number;
  /** key of the gas it looks like; undefined: none of the plan */
  readonly looksLike: string | undefined;
  readonly absent: readonly BenchChannel[];
  readonly latest: Partial<Record<BenchChannel, number>>;
};

export interface Column {
  /** @param keepsGas the gas of this step is at the inlet already */
  begin(step: PlanStep, timeMs: number, keepsGas: boolean): void;
  /** the gas was switched at this time */
  mark(timeMs: number): void;
  push(sample: Sample): void;
  /** lines went missing: the rest is counted anew */
  gap(): void;
  /** the person says that it is the gas of the step although it reads otherwise */
  acceptGas(): void;
  state(): ColumnState;
  /** what the step gave so far; `zeroMs`: run time at which the test's own time begins */
  take(zeroMs: number): Omit<DoneStep, 'end' | 'why'> | undefined;
  /** all points since the switch, for the picture of the way */
  curve(): Partial<Record<BenchChannel, [number, number][]>>;
}

/** nothing moved for so long after the switch: said */
const NO_CHANGE_MS = 75_000;
/** steady at the gas of the step, but since before the press: so long after it, it counts */
const LATE_MS = 30_000;
const MOST_POINTS = 20_000;
const BEFORE_MS = 5000;
const CURVE_MS = 180_000;
const CURVE_POINTS = 160;
/** no line for so long, or for so many of the usual intervals, is a gap: what was steady may have moved and come back */
const SILENCE_MS = 5000;
const SILENT_INTERVALS = 5;

export function createColumn({ channels, levels }: { channels: readonly BenchChannel[]; levels: readonly Level[] }): Column {
  const recogniser = createRecogniser({ channels, levels });
  let step: PlanStep | undefined;
  let beginMs = 0;
  let markMs: number | undefined;
  /** the gas was switched, and then lines went missing before the step was done */
  let wayBroken = false;
  let sameGas = false;
  /** since when it was steady at the press; undefined: nothing was steady, so no departure is waited for */
  let restAtPressMs: number | undefined;
  let accepted = false;
  let brokenMs = 0;
  let points: Point[] = [];
  let absent: BenchChannel[] = [];
  let latest: Partial<Record<BenchChannel, number>> = {};
  let lastMs = 0;

  /** where the rest that counts for this step began */
  const restFrom = (): number | undefined => {
    if (step === undefined) return undefined;
    // drift is what happens while nobody looks: lines that went missing do not begin it anew
    if (isTimed(step) && (sameGas || markMs !== undefined))
      return Math.max(markMs ?? beginMs, step.purpose === 'drift' ? -Infinity : brokenMs);
    const { phase, sinceMs } = recogniser.now();
    if (phase !== 'at-rest') return undefined;
    if (sameGas) return Math.max(sinceMs, beginMs, brokenMs);
    if (markMs !== undefined) {
      // another rest than the one at the press; it may have begun a moment before it, when hand and gas came together
      if (sinceMs !== restAtPressMs) return Math.max(sinceMs, markMs);
      // pressed late: the gas of the step, or another one, had arrived before
      return (sinceMs > beginMs || looksRight(seen())) && lastMs - markMs > LATE_MS ? markMs + LATE_MS : undefined;
    }
    // without a mark: came to rest after the step began, at its gas
    return sinceMs > beginMs && looksRight(seen()) ? sinceMs : undefined;
  };

  /** an interferent moves the very channel that is tested for it: there the figure says nothing about the gas */
  const telling = (): readonly BenchChannel[] =>
    step?.purpose === 'cross-effect' ? channels.filter((channel) => channel !== 'co') : channels;
  const seen = (): string | undefined => {
    const recent = points.slice(-20);
    const means = telling().map((channel) => {
      const values = recent.flatMap(({ values: row }) => row[channel] ?? []);
      return values.length === 0 ? undefined : values.reduce((sum, value) => sum + value, 0) / values.length;
    });
    return nearestLevel(telling(), levels, means);
  };
  const expected = (): Level | undefined => levels.find(({ key }) => key === step?.slot);
  /** two bottles may read alike on these channels */
  const looksRight = (key: string | undefined): boolean => {
    const [own, other] = [expected(), levels.find((level) => level.key === key)];
    if (key === step?.slot || telling().length === 0) return true;
    return own !== undefined && other !== undefined && telling().every((channel) => own.values[channel] === other.values[channel]);
  };

  const state = (): ColumnState => {
    const looksLike = seen();
    const base = { heldS: 0, leftS: step?.holdS ?? 0, looksLike, absent, latest };
    if (step === undefined) return { ...base, phase: 'switch' };
    const from = restFrom();
    if (from === undefined) {
      if (markMs === undefined && !sameGas) return { ...base, phase: 'switch' };
      const { phase, sinceMs } = recogniser.now();
      const still = markMs !== undefined && phase === 'at-rest' && sinceMs < markMs && lastMs - markMs > NO_CHANGE_MS;
      return { ...base, phase: still ? 'no-change' : 'arriving' };
    }
    if (!isTimed(step) && !accepted && !looksRight(looksLike)) return { ...base, phase: 'other-gas' };
    const heldS = Math.max(0, (lastMs - from) / 1000);
    return { ...base, phase: heldS >= step.holdS ? 'closed' : 'holding', heldS, leftS: Math.max(0, step.holdS - heldS) };
  };

  const curve = (): Partial<Record<BenchChannel, [number, number][]>> => {
    const origin = markMs;
    if (origin === undefined) return {};
    const way = points.filter(({ timeMs }) => timeMs >= origin - BEFORE_MS && timeMs <= origin + CURVE_MS);
    const every = Math.max(1, Math.ceil(way.length / CURVE_POINTS));
    return Object.fromEntries(
      channels.map((channel) => [
        channel,
        way.flatMap(({ timeMs, values }, i): [number, number][] =>
          values[channel] === undefined || i % every !== 0 ? [] : [[Math.round((timeMs - origin) / 10) / 100, values[channel]]],
        ),
      ]),
    );
  };

  const silenceMs = (): number => {
    const recent = points.slice(-20);
    const usual = ((recent.at(-1)?.timeMs ?? 0) - (recent[0]?.timeMs ?? 0)) / Math.max(1, recent.length - 1);
    return Math.max(SILENCE_MS, SILENT_INTERVALS * usual);
  };
  const gap = (): void => {
    recogniser.gap();
    brokenMs = lastMs;
    // after a gap the way cannot be timed any more; the gas itself may be there all the same
    if (markMs !== undefined) {
      markMs = undefined;
      sameGas = true;
      wayBroken = true;
    }
  };
  /** channels that get no response time, because the way to the gas was not seen whole */
  const linesMissing = (): readonly BenchChannel[] => {
    if (wayBroken) return channels;
    if (markMs === undefined || sameGas || step === undefined || isTimed(step)) return [];
    const described = recogniser.applications().at(-1)?.channels;
    return channels.filter((channel) => described?.[channel]?.noResponse === 'missing-lines');
  };

  return {
    begin(next, timeMs, keepsGas) {
      step = next;
      beginMs = timeMs;
      markMs = undefined;
      wayBroken = false;
      sameGas = keepsGas;
      restAtPressMs = undefined;
      accepted = false;
      brokenMs = 0;
      points = points.filter((point) => point.timeMs >= timeMs - 30_000);
    },
    mark(timeMs) {
      if (step === undefined) return;
      markMs = timeMs;
      wayBroken = false;
      const { phase, sinceMs } = recogniser.now();
      restAtPressMs = phase === 'at-rest' ? sinceMs : undefined;
      recogniser.mark(timeMs, step.slot);
    },
    push(sample) {
      // what the instrument itself says is no measurement is none
      if (sample.state !== undefined && sample.state !== 'measuring') return;
      if (sample.timeMs <= lastMs) return;
      if (points.length > 0 && sample.timeMs - lastMs > silenceMs()) gap();
      lastMs = sample.timeMs;
      recogniser.push(sample);
      const values: Point['values'] = {};
      for (const channel of channels) {
        const value = sample.absent?.[channel as ChannelId] === undefined ? sample.values[channel as ChannelId] : undefined;
        if (value !== undefined) values[channel] = value;
      }
      absent = channels.filter((channel) => values[channel] === undefined);
      latest = values;
      points.push({ timeMs: sample.timeMs, values });
      if (points.length > MOST_POINTS) points = points.filter((_, i) => i % 2 === 0);
    },
    gap,
    acceptGas() {
      accepted = true;
    },
    state,
    take(zeroMs) {
      if (step === undefined) return undefined;
      const from = restFrom();
      const result: Omit<DoneStep, 'end' | 'why'> = { stepId: step.id, atMs: Math.round(lastMs - zeroMs) };
      if (absent.length > 0) result.absent = [...absent];
      const application = recogniser.applications().at(-1);
      if (application?.open === true && from !== undefined) {
        const stored = storedApplication(application, {
          zeroMs,
          fromMs: from,
          withResponse: !sameGas && (markMs === undefined || application.markMs === markMs),
        });
        if (Object.keys(stored.channels).length > 0) result.application = stored;
      }
      if (markMs !== undefined && !sameGas) result.curve = curve();
      const missing = linesMissing();
      if (missing.length > 0) result.linesMissing = [...missing];
      if (from !== undefined)
        Object.assign(
          result,
          ofPurpose(
            step,
            points.filter(({ timeMs }) => timeMs >= from),
            channels,
            from,
          ),
        );
      return result;
    },
    curve,
  };
}
