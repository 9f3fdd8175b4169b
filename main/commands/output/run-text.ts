/** A run's facts as plain lines for a person. */
import type { ChannelId } from '../../../shared/measurement/channel.ts';
import type { Sample } from '../../../shared/measurement/sample.ts';
import type { ChannelState, Reading } from '../../../shared/measurement/state.ts';
import { deriveReading } from '../../../shared/pipeline/derive-now.ts';
import type { ComputedWith, RunFold } from '../../../shared/pipeline/run-fold.ts';
import type { LoggedLine } from '../../../shared/pipeline/line-log.ts';
import { quantities } from '../../../shared/units/quantities.ts';
import { formatDuration } from '../../../shared/format/duration.ts';
import { recipeWords } from '../../../shared/words/lines/lines.ts';
import type { UsedRecipe } from '../read-run.ts';
import type { SummaryFacts } from './run-json.ts';
import { runTextTexts } from '../../../shared/words/commands/runs.ts';
import { whenDefined } from '../../../shared/defined.ts';

/** @param originMs run time that the command line calls 0 */
export function createRunText(originMs: () => number) {
  const at = (timeMs: number): string => `${((timeMs - originMs()) / 1000).toFixed(1).padStart(8)} s`;
  const written = (channel: ChannelId, value: number): string => {
    const { label, unit, decimals } = quantities[channel];
    return `${label} ${value.toFixed(decimals)}${unit === '' ? '' : ` ${unit}`}`;
  };
  const values = (of: Partial<Record<ChannelId, number>>): string =>
    Object.entries(of)
      .map(([channel, value]) => written(channel as ChannelId, value))
      .join('  ');
  const simulated = (isSimulated: boolean): string => (isSimulated ? 'SIMULATED DATA. ' : '');
  return {
    recipe: ({ recipe, assumed, confidence, toCompare = '', alternatives = [] }: UsedRecipe, isSimulated: boolean): string =>
      `${simulated(isSimulated)}Recipe: ${recipe.name}${assumed ? ` (assumed, ${Math.round((confidence ?? 0) * 100)} % sure${alternatives.length > 0 ? `; else ${alternatives.map((other) => other.recipe.name).join(', ')}` : ''})` : ''}${toCompare === '' ? '' : `\n${toCompare}`}`,
    sample: (sample: Sample): string =>
      `${at(sample.timeMs)}  ${values(sample.values)}${Object.entries(sample.absent ?? {})
        .map(([channel, why]) => `  ${quantities[channel as ChannelId].label} absent (${why})`)
        .join('')}`,
    state(state: ChannelState): string {
      const heading =
        state.headingFor === undefined || state.state === 'settled'
          ? ''
          : `, heading for ${written(state.channel, state.headingFor.value)}`;
      const unrest =
        state.perMinute !== undefined
          ? `, ${written(state.channel, Math.abs(state.perMinute))} a minute ${state.perMinute > 0 ? 'up' : 'down'}`
          : state.swing !== undefined
            ? `, ${state.swing.periodS === undefined ? '' : `every ${Math.round(state.swing.periodS)} s, `}${written(state.channel, state.swing.low)} to ${written(state.channel, state.swing.high)}`
            : '';
      const left = state.secondsLeft === undefined ? '' : `, about ${Math.round(state.secondsLeft.value)} s to go`;
      return `${at(state.timeMs)}  ${quantities[state.channel].label} ${state.state}${state.reason === undefined ? '' : ` (${state.reason})`}${heading}${unrest}${left}`;
    },
    reading(reading: Reading, computedWith: ComputedWith): string {
      const means = Object.fromEntries(
        Object.entries(reading.channels).map(([channel, { mean }]) => [channel, reading.first?.[channel as ChannelId] ?? mean]),
      );
      const derived = deriveReading({ reading, ...computedWith, atFirst: true });
      const { efficiencyHhvPercent: efficiency, excessAirPercent: excess } = derived.values;
      const u = derived.expanded.efficiencyHhvPercent;
      return [
        `${at(reading.takenMs)}  ${reading.scope === 'full' ? 'READING' : 'GAS READING'}${reading.settled ? '' : ' (by hand, not settled)'}  ${values(means)}`,
        ...whenDefined(excess, (excess) => `excess air ${excess.toFixed(0)} %`),
        ...(efficiency === undefined || u === undefined ? [] : [`efficiency ${efficiency.toFixed(1)} ± ${u.toFixed(1)} % (HHV)`]),
        `from ${at(reading.fromMs).trim()} to ${at(reading.toMs).trim()}`,
      ].join('  ');
    },
    clockSet: (atMs: number, byMs: number): string => `${at(atMs)}  ${recipeWords.clockSetInFile(formatDuration(byMs))}`,
    rejected: ({ number, line, read }: LoggedLine): string =>
      `${at(line.timeMs)}  line ${number} not understood: ${read?.kind === 'rejected' ? read.detail : ''}`,
    summary(fold: RunFold, { damagedLines, isSimulated }: SummaryFacts): string {
      const { lines, understood, rejected, ignored } = fold.counters;
      const readings = fold.readings().filter(({ scope }) => scope === 'full').length;
      return runTextTexts.total(
        simulated(isSimulated),
        lines,
        understood,
        rejected,
        ignored,
        readings,
        damagedLines > 0 ? `; ${damagedLines} damaged entries left out` : '',
      );
    },
  };
}
