/** Patterns in a bench test: what is seen, what may cause it, what to check next. Never 'the cause is'. */
import type { ChannelResult, Evaluation } from './evaluate.ts';
import type { BenchChannel } from '../instrument.ts';

const faultPatterns = [
  'low-span',
  'high-span',
  'zero-off',
  'drifting-zero',
  'drifting-span',
  'non-linear',
  'cross-sensitive',
  'slow-cell',
  'slow-hose',
  'noisy',
] as const;
export type FaultPattern = (typeof faultPatterns)[number];
export type Fault = { readonly pattern: FaultPattern; readonly channel: BenchChannel; readonly size: number; readonly strength: number };

/** What is usual for an instrument in good order; used only to rank patterns, never as a verdict. @source sizes: common practice */
const usual: Partial<
  Record<
    BenchChannel,
    { zero: number; spanPart: number; driftPerHour: number; linearityPercent: number; perHydrogen: number; riseS: number }
  >
> = {
  o2: { zero: 0.2, spanPart: 0.02, driftPerHour: 0.15, linearityPercent: 2, perHydrogen: 0.01, riseS: 36 },
  co: { zero: 4, spanPart: 0.05, driftPerHour: 6, linearityPercent: 2.5, perHydrogen: 0.06, riseS: 70 },
};

export function faultsOf(evaluation: Evaluation, { firstT90S }: { firstT90S?: Partial<Record<BenchChannel, number>> } = {}): Fault[] {
  return evaluation.channels
    .flatMap((result) => channelFaults(result, firstT90S?.[result.channel]))
    .sort((a, b) => b.strength - a.strength);
}

function channelFaults(result: ChannelResult, firstT90S: number | undefined): Fault[] {
  const { channel } = result;
  const good = usual[channel];
  if (good === undefined) return [];
  const faults: Fault[] = [];
  const add = (pattern: FaultPattern, size: number, ordinary: number): void => {
    if (Math.abs(size) > ordinary) faults.push({ pattern, channel, size, strength: Math.abs(size) / ordinary });
  };
  const zero = result.errors.filter(({ reference }) => Math.abs(reference) < 1e-9);
  const spans = result.errors.filter(({ reference }) => reference > 0);
  const zeroError = mean(zero.slice(0, 2).map(({ error }) => error)) ?? 0;
  // drift first: a zero that climbs makes every later error, and must not be taken for the span
  const drift = result.drifts.filter(
    ({ level, hours, expanded, value }) => hours > 0.2 && Math.abs(value) > (expanded ?? 0) && zero.some((row) => row.level === level),
  );
  const zeroDrift = mean(drift.map(({ perHour }) => perHour)) ?? 0;
  if (channel === 'co') add('drifting-zero', zeroDrift, good.driftPerHour);
  add('zero-off', zeroError, good.zero);
  const startMs = result.errors[0]?.atMs ?? 0;
  const sensitivities = spans.map(({ reading, reference, atMs }) => ({
    reference,
    part: (reading - zeroError - (zeroDrift * (atMs - startMs)) / 3_600_000) / reference - 1,
  }));
  const spanPart = mean(sensitivities.map(({ part }) => part)) ?? 0;
  const bent = result.linearity === undefined ? 0 : result.linearity.worstPercentOfSpan;
  const steady = Math.abs(zeroDrift) <= good.driftPerHour;
  if (steady) add('non-linear', bent, good.linearityPercent);
  // a weak cell is weak at every gas; one that is right at the lower ones is bent
  const low = sensitivities.filter(({ reference }) => reference <= 0.5 * Math.max(...sensitivities.map((entry) => entry.reference)));
  const lowPart = mean(low.map(({ part }) => part)) ?? spanPart;
  if (Math.abs(lowPart) > good.spanPart || low.length === 0) add(spanPart < 0 ? 'low-span' : 'high-span', spanPart, good.spanPart);
  if (result.crossEffect !== undefined) add('cross-sensitive', result.crossEffect.perHydrogenPpm, good.perHydrogen);
  const rise = mean(result.responses.map(({ riseS }) => riseS));
  const dead = mean(result.responses.filter(({ fromMark }) => fromMark).map(({ deadS }) => deadS));
  if (rise !== undefined) add('slow-cell', rise, good.riseS);
  if (dead !== undefined) add('slow-hose', dead, 12);
  const t90 = mean(result.responses.map(({ t90S }) => t90S));
  // R 144 names no ageing figure; half as long again as when new: common practice
  if (t90 !== undefined && firstT90S !== undefined)
    add(dead !== undefined && dead > 12 ? 'slow-hose' : 'slow-cell', t90 / firstT90S - 1, 0.5);
  // scatter between applications is noise only where nothing drifts, and where a slow tail was not cut off
  if (steady && (rise === undefined || rise <= good.riseS) && result.repeatability?.limit !== undefined)
    add('noisy', result.repeatability.value, result.repeatability.limit);
  return faults;
}

const mean = (values: readonly number[]): number | undefined =>
  values.length === 0 ? undefined : values.reduce((sum, value) => sum + value, 0) / values.length;
