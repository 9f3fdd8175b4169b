import { formatDuration } from '../../format/duration.ts';
import { formatNumber } from '../../format/quantity.ts';
import { HAND_TIMING_EXPANDED_S, judgeTiming } from '../../tuning/safety/safety-plan.ts';
import { recordWords } from '../../words/paper/technical-record.ts';
import type { Block, Cell, Section } from '../report-model.ts';
import { testTitle } from '../safety-facts.ts';
import { timingNotes } from '../../words/visit/safety-tests.ts';
import { timesOf } from '../written.ts';
import type { Parts } from '../pages/page-parts.ts';
import type { SafetyResult } from '../../tuning/safety/safety-result.ts';
import { whenDefined } from '../../defined.ts';

/** Every result ever written down, repeated tests too: the last one counts, the earlier ones stay. */
export function safetySection(parts: Parts): Section {
  const { visit, safety } = parts;
  const times = timesOf(visit);
  const { columns } = recordWords;
  const made = visit.safety.map((result, index): Cell[] => {
    const repeated = visit.safety.slice(index + 1).some(({ test }) => test === result.test);
    const seconds = result.seconds === undefined ? recordWords.absent : formatNumber(result.seconds, 1);
    return [
      testTitle(result.test),
      { text: `${recordWords.safetyResults[result.result]}${repeated ? ', repeated' : ''}`, strong: result.result === 'fail' },
      seconds,
      result.markedSeconds === undefined ? recordWords.absent : formatNumber(result.markedSeconds, 1),
      times.clock(result.wallMs),
    ];
  });
  const notes = visit.safety.flatMap((result): string[] => {
    const said = [result.inferred === true ? recordWords.inferred : undefined, ...timingTexts(result), result.note].filter(Boolean);
    return said.length === 0 ? [] : [`${testTitle(result.test)}, ${times.clock(result.wallMs)}: ${said.join('; ')}`];
  });
  const open = safety.open.map(({ title }): Cell[] => [title, recordWords.safetyResults.open, recordWords.absent, recordWords.absent, '']);
  const bypasses = visit.bypasses.map(({ what, openedWallMs, closedWallMs }): Cell[] => [
    what,
    times.clock(openedWallMs),
    closedWallMs === undefined ? { text: recordWords.stillOpen, strong: true } : times.clock(closedWallMs),
  ]);
  const roomCo = visit.roomCo.map(({ wallMs, ppm, place }): Cell[] => [times.clock(wallMs), formatNumber(ppm, 0), place ?? '']);
  const blocks: Block[] = [
    {
      kind: 'table',
      dense: true,
      columns: [
        { label: columns.test, width: 122 },
        { label: columns.result, width: 80 },
        { label: columns.seconds, figures: true, width: 38 },
        { label: columns.marked, figures: true, width: 48 },
        { label: columns.time, width: 50 },
      ],
      rows: [...made, ...open],
      halves: true,
    },
    ...(notes.length === 0 ? [] : [{ kind: 'list', items: notes } as const]),
    { kind: 'text', text: recordWords.timingNote(formatNumber(HAND_TIMING_EXPANDED_S, 1)), tone: 'note' },
    ...stopBlocks(parts),
    {
      kind: 'columns',
      columns: [
        [
          { kind: 'heading', text: recordWords.bypasses },
          bypasses.length === 0
            ? { kind: 'text', text: recordWords.noBypass }
            : {
                kind: 'table',
                dense: true,
                columns: [
                  { label: columns.what, width: 180 },
                  { label: columns.opened, width: 76 },
                  { label: columns.closed, width: 70 },
                ],
                rows: bypasses,
              },
        ],
        [
          { kind: 'heading', text: recordWords.roomCo },
          roomCo.length === 0
            ? { kind: 'text', text: recordWords.noRoomCo }
            : {
                kind: 'table',
                dense: true,
                columns: [
                  { label: columns.time, width: 60 },
                  { label: columns.ppm, figures: true, width: 64 },
                  { label: columns.place, width: 202 },
                ],
                rows: roomCo,
              },
        ],
      ],
    },
  ];
  return { title: recordWords.safety, blocks };
}

/** What the figure itself says about a stopwatch time; the result stays the person's. */
function timingTexts({ seconds, countedSeconds, restartSeconds, startedFrom, markedSeconds }: SafetyResult): string[] {
  if (seconds === undefined) return [];
  const { verdict, notes } = judgeTiming({ seconds: countedSeconds ?? seconds, markedSeconds });
  return [
    ...whenDefined(startedFrom, (startedFrom) => recordWords.startedFrom[startedFrom]),
    ...whenDefined(restartSeconds, (restartSeconds) => recordWords.restartedAfter(formatNumber(restartSeconds, 1))),
    ...whenDefined(countedSeconds === seconds ? undefined : countedSeconds, (counted) => recordWords.counted(formatNumber(counted, 1))),
    ...(verdict === 'too-close' || verdict === 'no-mark' ? [recordWords.timing[verdict]] : []),
    ...notes.map((note) => timingNotes[note].replace(/\.$/, '')),
  ];
}

/** stops from this long before the first test on belong to the run-through */
const BEFORE_MS = 10 * 60_000;

function stopBlocks({ visit, input }: Parts): Block[] {
  const first = Math.min(...visit.safety.map(({ wallMs }) => wallMs));
  const times = timesOf(visit);
  const rows = input.runs.flatMap(({ startWallMs, stops = [] }) =>
    stops
      .filter(({ stoppedMs }) => startWallMs + stoppedMs >= first - BEFORE_MS)
      .map(({ stoppedMs, againMs }): Cell[] => [
        times.exact(startWallMs + stoppedMs),
        againMs === undefined ? recordWords.absent : times.exact(startWallMs + againMs),
        againMs === undefined ? recordWords.absent : formatDuration(againMs - stoppedMs),
      ]),
  );
  if (rows.length === 0) return [];
  const { columns } = recordWords;
  return [
    { kind: 'heading', text: recordWords.stops },
    {
      kind: 'table',
      dense: true,
      columns: [
        { label: columns.stopped, width: 224 },
        { label: columns.again, width: 224 },
        { label: columns.between, width: 224 },
      ],
      rows,
    },
    { kind: 'text', text: recordWords.stopsNote, tone: 'note' },
  ];
}
