import { quantities } from '../../units/quantities.ts';
import { settlingChannels } from '../../measurement/channel.ts';
import type { Mark, Setting } from '../../measurement/mark.ts';
import { formatClock } from '../../format/duration.ts';
import { formatPosition, formatSmoke, formatWithUnit, shownAs, type UnitSystem } from '../../format/quantity.ts';
import { recordWords } from '../../words/paper/technical-record.ts';
import type { TrendPicture, TrendStrip } from '../drawings/TrendDrawing.tsx';
import type { Block, Section } from '../report-model.ts';
import type { ReportRun } from '../report-input.ts';
import type { Parts } from '../pages/page-parts.ts';

const inks = { o2: 'o2', co: 'co', stackTemperature: 'stack', airTemperature: 'air' } as const;
const steps = [1, 2, 5, 10, 15, 30, 60, 120, 240, 360, 720, 1440].map((minutes) => minutes * 60_000);
const MOST_TICKS = 9;

export function trendSection(parts: Parts): Section | undefined {
  const { input } = parts;
  const { visit } = parts;
  if (visit.runs.length === 0) return undefined;
  const runs = input.runs.filter(({ series }) => series.some(({ timeMs }) => timeMs.length > 1));
  if (runs.length === 0) return { title: recordWords.trend, blocks: [{ kind: 'text', text: recordWords.noTrend }] };
  const blocks = runs.flatMap((run, index): Block[] => {
    const clock = (timeMs: number): string => formatClock(run.startWallMs + timeMs, run.zoneMinutes, 'minutes');
    return [
      { kind: 'heading', text: recordWords.trendOf(index + 1, runs.length, clock(0), clock(run.endMs)) },
      { kind: 'trend', picture: trendPicture(run, parts) },
    ];
  });
  return { title: recordWords.trend, blocks: [...blocks, { kind: 'text', text: recordWords.trendNote, tone: 'note' }] };
}

function trendPicture(run: ReportRun, { units, main, simulated }: Parts): TrendPicture {
  const ending = (span: { fromMs: number; toMs?: number | undefined }) => ({ fromMs: span.fromMs, toMs: span.toMs ?? run.endMs });
  const asLeftId = main.asLeft?.runId === run.runId ? main.asLeft.reading?.id : undefined;
  const strips = settlingChannels.flatMap((channel): TrendStrip[] => {
    const columns = run.series.find((one) => one.channel === channel);
    if (columns === undefined || columns.timeMs.length < 2) return [];
    const { factor, offset, unit } = shownAs(channel, units);
    const shown = (value: number): number => value * factor + offset;
    return [
      {
        title: [quantities[channel].label, unit].filter(Boolean).join(' '),
        ink: inks[channel],
        timeMs: columns.timeMs,
        low: columns.low.map(shown),
        high: columns.high.map(shown),
        breaks: columns.breaks,
        settled: run.settled.filter((span) => span.channel === channel).map(ending),
        readings: run.readings.flatMap((reading) => {
          const mean = reading.channels[channel]?.mean;
          return mean === undefined ? [] : [{ timeMs: reading.takenMs, value: shown(mean), asLeft: reading.id === asLeftId }];
        }),
      },
    ];
  });
  const marks = run.marks.flatMap((mark, index): TrendPicture['marks'][number][] => {
    const text = markText(mark, run.marks.slice(0, index), run.startSetting, units);
    if (text === undefined) return [];
    // the figure alone, for where there is no room or the name stands before the row
    const short = text.replace(/^[^\d½]* /, '');
    return [{ timeMs: mark.timeMs, text, short: text.includes(', ') ? '' : short, kind: mark.body.kind === 'smoke' ? 'look' : 'change' }];
  });
  return {
    fromMs: 0,
    toMs: run.endMs,
    strips,
    marks,
    rowNames: { change: sharedName(marks, 'change'), look: sharedName(marks, 'look') },
    gaps: run.gaps.map(ending),
    excluded: run.excluded.map(ending),
    timeTicks: timeTicks(run),
    label: `${recordWords.trend}: ${strips.map(({ title }) => title).join(', ')}`,
    simulated,
  };
}

/** 'shutter' when every mark of the row is about the shutter; several smoke spots at once keep their texts, too. */
function sharedName(marks: TrendPicture['marks'], kind: 'change' | 'look'): string | undefined {
  const named = marks
    .filter((mark) => mark.kind === kind)
    .map(({ text, short }) => (short === '' ? '' : text.slice(0, -short.length).trim()));
  const [first] = named;
  return first !== undefined && first !== '' && named.every((name) => name === first) ? first : undefined;
}

/** What was changed, as few words as fit beside a line: only the adjusters that moved. */
function markText({ body }: Mark, before: readonly Mark[], start: Setting | undefined, units: UnitSystem): string | undefined {
  switch (body.kind) {
    case 'adjustment': {
      const last = before.findLast((mark) => mark.body.kind === 'adjustment');
      const was = (last?.body.kind === 'adjustment' ? last.body.setting : start)?.positions ?? [];
      const moved = body.setting.positions.filter(({ name, value }) => was.find((position) => position.name === name)?.value !== value);
      return (moved.length > 0 ? moved : body.setting.positions)
        .map(({ name, value }) => `${name.toLowerCase()} ${formatPosition(value)}`)
        .join(', ');
    }
    case 'smoke':
      return body.spots.length === 0 ? undefined : `smoke ${body.spots.map(({ number }) => formatSmoke(number)).join(', ')}`;
    case 'draft':
      return undefined; // in the table of trials; here it would stand on the smoke number
    case 'pressure':
      return formatWithUnit('pumpPressure', body.pumpPa, units);
    case 'note':
      return 'note';
    case 'pause':
      return body.on ? 'pause' : 'on';
  }
}

function timeTicks({ startWallMs, zoneMinutes, endMs }: ReportRun): TrendPicture['timeTicks'] {
  const step = steps.find((size) => endMs / size <= MOST_TICKS) ?? 24 * 3_600_000;
  // on the clock's own round times, not on those of the run
  const offset = startWallMs + zoneMinutes * 60_000;
  const ticks: { timeMs: number; text: string }[] = [];
  for (let wall = Math.ceil(offset / step) * step; wall - offset <= endMs; wall += step) {
    const timeMs = wall - offset;
    ticks.push({ timeMs, text: formatClock(startWallMs + timeMs, zoneMinutes, 'minutes') });
  }
  return ticks;
}
