import { useMemo, useState } from 'react';
import { fuelOfRun } from '../../../../shared/combustion/co2-max.ts';
import { derive } from '../../../../shared/combustion/figures/derive.ts';
import type { SettlingChannel } from '../../../../shared/measurement/channel.ts';
import type { Reading } from '../../../../shared/measurement/state.ts';
import type { Sample } from '../../../../shared/measurement/sample.ts';
import type { History } from '../../../../shared/ipc/run-documents.ts';
import { exercisePatterns, meansAt, scoreCall, type CallResult, type ExercisePattern } from '../../../../shared/warm-up/call-it.ts';
import { watchedKey } from '../../../../shared/warm-up/debrief.ts';
import { scenarioPatterns } from '../../../../shared/warm-up/exercises.ts';
import { callReasons, type CallReason } from '../../../../shared/warm-up/reasons.ts';
import { channelWords, stateWords } from '../../../../shared/words/tune/states.ts';
import { patternWords, warmUp } from '../../../../shared/words/warm-up.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Choice, Field } from '../../../components/Field.tsx';
import type { TrendContent, TrendSpan } from '../../../charts/trend-content.ts';
import { HostAlert } from '../../../components/alerts/HostAlert.tsx';
import { Key } from '../../../components/Key.tsx';
import { useKey } from '../../../keys/use-key.ts';
import { CallAnswer } from './CallAnswer.tsx';
import { channelsShown } from '../../../state/channels.ts';
import type { RunRecord } from '../../../state/run-record.ts';
import { selectUnits } from '../../../state/selectors.ts';
import { LiveTrend } from '../../tune/trend/LiveTrend.tsx';
import { leastSpans, weightOf } from '../../tune/trend/trend-content-of.ts';
import { DASH, formatValue, shownAs } from '../../../../shared/format/quantity.ts';
import { defined, whenDefined } from '../../../../shared/defined.ts';
import './call-it.css';
import './CallIt.css';

type Called = {
  readonly atMs: number;
  readonly pattern: ExercisePattern | undefined;
  /** what the detector knew then */
  readonly states: RunRecord['face']['states'];
  /** readings of stretches that had ended by then: they are no answer to this call */
  readonly over: ReadonlySet<string>;
};
type Judged = { readonly result: CallResult; readonly reasons: readonly CallReason[] };

/** After this time without a full reading the answer is given all the same: it cannot be taken here. */
const LONGEST_WAIT_MS = 45 * 60_000;
/** points of the curve that is saved with a call; a bucket may give two */
const WATCHED_POINTS = 150;
const MOST_WATCHED = 400;

/** Figures and trend stay; lane, state, forecast and shading are gone. The trainee says when, and what is seen. */
export function CallIt({ record, end }: { record: RunRecord; end: () => void }) {
  const { actions, buffers } = useParts();
  const units = useApp(selectUnits);
  const [trainee, setTrainee] = useState('1');
  const [pattern, setPattern] = useState<ExercisePattern | 'none'>('none');
  const [called, setCalled] = useState<Called>();
  const [judged, setJudged] = useState<Judged>();
  const exercise = useApp((state) => state.exercise);
  const [startMs] = useState(record.face.timeMs);
  const { info, face } = record;
  const run = buffers.of(info.runId);
  const channels = channelsShown(record);
  const truth = exercise?.pattern ?? (info.source.kind === 'simulated' ? scenarioPatterns[info.source.scenario] : undefined);
  const result = judged?.result;
  const over = called?.over ?? overNow(record);
  const isFull = readingsOf(record, startMs, over).some(({ scope, settled }) => scope === 'full' && settled);
  const hasEnded = info.phase === 'ended' || (info.replay?.playing === false && face.timeMs >= info.replay.endMs - 1000);
  const fullReady = isFull || hasEnded || (called !== undefined && face.timeMs > called.atMs + LONGEST_WAIT_MS);

  /** what the class looks at together afterwards: the curve, thinned, from where the exercise began to a minute after its end */
  const watchedOf = async (endMs: number): Promise<Pick<CallResult, 'of' | 'watched'>> => {
    const of = watchedKey(info.source);
    const seen = await actions.ask('run.history', { runId: info.runId, fromMs: startMs, toMs: endMs + 60_000, buckets: WATCHED_POINTS });
    return of === undefined || seen === undefined ? {} : { of, watched: watchedIn(seen) };
  };
  const judge = async (): Promise<void> => {
    if (called === undefined) return;
    const history = await actions.ask('run.history', {
      runId: info.runId,
      fromMs: Math.max(0, called.atMs - 15_000),
      toMs: called.atMs,
      buckets: 400,
    });
    if (history === undefined) return;
    const fuel = fuelOfRun(info);
    const samples = samplesOf(history);
    const readings = readingsOf(record, startMs, called.over);
    const score = scoreCall({
      calledMs: called.atMs,
      readings,
      samples,
      efficiency: (means) =>
        fuel === undefined
          ? undefined
          : derive({
              timeMs: 0,
              fuel,
              o2PercentDry: means.o2,
              coPpmDry: means.co,
              stackC: means.stackTemperature,
              airC: means.airTemperature ?? info.typedAirC,
            }).values.efficiencyHhvPercent,
      pattern: truth,
      patternSaid: called.pattern,
    });
    const answer: CallResult = {
      format: 1,
      trainee: trainee.trim() === '' ? '1' : trainee.trim(),
      exercise:
        exercise?.name ??
        (info.source.kind === 'simulated' ? info.source.title : info.source.kind === 'replay' ? info.source.label : info.runId),
      wallMs: info.startWallMs + called.atMs,
      calledMs: called.atMs,
      ...score,
      ...defined({ patternSaid: called.pattern }),
      ...(await watchedOf(Math.max(called.atMs, score.readyMs ?? 0))),
    };
    const ready = readings.find(({ takenMs, scope }) => scope === 'full' && takenMs === score.readyMs);
    setJudged({ result: answer, reasons: callReasons(called.states, meansAt(samples, called.atMs), ready) });
    await actions.ask('document.save', { kind: 'call', body: answer as never });
  };
  /** time of the newest figure on the face: run time may be ahead of it when lines come in bursts */
  const seenMs = (): number => {
    const newest = Math.max(...channels.map((channel) => run.series(channel).lastMs ?? -Infinity));
    return Number.isFinite(newest) ? Math.min(newest, face.timeMs) : face.timeMs;
  };
  const call = (): void => {
    if (called === undefined)
      setCalled({ atMs: seenMs(), pattern: pattern === 'none' ? undefined : pattern, states: face.states, over: overNow(record) });
    else if (result === undefined) void judge();
    else end();
  };
  const mainWorks = called === undefined || result !== undefined || fullReady;
  useKey('main', call, mainWorks);

  return (
    <div className={`warm-up call-it${result === undefined ? '' : ' told'}`}>
      <div className="tools">
        <h1 className="title small">{exercise === undefined ? warmUp.callTitle : warmUp.exerciseTitle(exercise.name)}</h1>
        <span className="second">{warmUp.callAbout}</span>
      </div>
      <div className="call-main" data-region="main">
        <div className="call-rows">
          {channels.map((channel) => {
            const value = run.latest(channel);
            return (
              <div key={channel} className="call-row" role="group" aria-label={channelWords[channel].name}>
                <div className="label">
                  <b>
                    <ChannelName text={channelWords[channel].name} />
                  </b>{' '}
                  {shownAs(channel, units).unit}
                </div>
                <div className="figure">{value === undefined ? DASH : formatValue(channel, value, units)}</div>
                <div className="call-hidden">
                  {result === undefined ? `[ ${warmUp.hidden} ]` : stateWords[face.states[channel]?.state ?? 'absent']}
                </div>
              </div>
            );
          })}
        </div>
        {result === undefined ? (
          <PlainTrend info={info} names={channels.join(' ')} gaps={record.gaps} />
        ) : (
          <ToldTrend key={result.calledMs} record={record} result={result} channels={channels} />
        )}
      </div>
      <div className="call-answer" role="status">
        {result !== undefined ? (
          <CallAnswer result={result} reasons={judged?.reasons ?? []} truth={truth} units={units} />
        ) : called !== undefined && !fullReady ? (
          <p>{warmUp.waiting}</p>
        ) : null}
      </div>
      <HostAlert />
      <form
        className="bar"
        data-region="bar"
        onSubmit={(event) => {
          event.preventDefault();
          if (mainWorks) call();
        }}
      >
        <Field label={warmUp.trainee} value={trainee} change={setTrainee} numeric={false} width={230} disabled={called !== undefined} />
        <Choice
          label={warmUp.pattern}
          width={340}
          value={pattern}
          change={setPattern}
          options={[
            { value: 'none', text: warmUp.patternLater },
            ...exercisePatterns.map((value) => ({ value, text: patternWords[value] })),
          ]}
        />
        <span className="grow" />
        <button type="button" className="button tall" onClick={end}>
          {warmUp.endCall}
        </button>
        <button type="submit" className="button main" disabled={!mainWorks}>
          {called === undefined ? warmUp.callNow : result === undefined ? warmUp.why : warmUp.again} <Key action="main" />
        </button>
      </form>
    </div>
  );
}

const overNow = ({ readings }: RunRecord): ReadonlySet<string> => new Set(readings.filter(({ final }) => final).map(({ id }) => id));

/** What could be taken while the trainee looked on: a stretch that was open when the exercise began was ready from its beginning. */
const readingsOf = ({ readings }: RunRecord, startMs: number, over: ReadonlySet<string>): Reading[] =>
  readings.filter(({ id }) => !over.has(id)).map((reading) => ({ ...reading, takenMs: Math.max(reading.takenMs, startMs) }));

/** The trend without anything that tells: no shading, no forecast, no readings. */
function PlainTrend({ info, names, gaps }: Pick<RunRecord, 'info' | 'gaps'> & { names: string }) {
  const content = useMemo(
    () => ({
      strips: names
        .split(' ')
        .filter((name): name is SettlingChannel => name !== '')
        .map((channel) => ({
          channel,
          weight: weightOf(channel),
          leastSpan: 1,
          settled: [],
          readings: [],
          forecast: [],
          heading: undefined,
        })),
      marks: [],
      gaps: gaps.flatMap(({ fromMs, toMs }) => (toMs === undefined ? [] : [{ fromMs, toMs }])),
      lostSinceMs: undefined,
      excluded: [],
    }),
    [names, gaps],
  );
  return <LiveTrend info={info} content={content} summary={warmUp.callAbout} />;
}

/** The same with the answer on it: when it was called, when it was ready, what was settled, and what was not used. */
function ToldTrend({ record, result, channels }: { record: RunRecord; result: CallResult; channels: readonly SettlingChannel[] }) {
  const { info, face, settled, excluded, gaps, readings } = record;
  const { calledMs, readyMs } = result;
  const content = useMemo((): TrendContent => {
    const closed = ({ fromMs, toMs }: { fromMs: number; toMs?: number | undefined }): TrendSpan => ({ fromMs, toMs: toMs ?? face.timeMs });
    const ready = readings.find(({ takenMs, scope }) => scope === 'full' && takenMs === readyMs);
    return {
      strips: channels.map((channel) => ({
        channel,
        weight: weightOf(channel),
        leastSpan: leastSpans[channel],
        settled: settled.filter((span) => span.channel === channel).map(closed),
        readings: ready?.channels[channel] === undefined ? [] : [{ timeMs: ready.takenMs, value: ready.channels[channel].mean }],
        forecast: [],
        heading: undefined,
      })),
      marks: [
        { timeMs: calledMs, label: warmUp.marks.called },
        ...whenDefined(readyMs, (readyMs) => ({ timeMs: readyMs, label: warmUp.marks.ready })),
      ],
      gaps: gaps.map(closed),
      lostSinceMs: undefined,
      excluded: excluded.map(({ fromMs, toMs = Infinity, reason }) => ({ fromMs, toMs, reason })),
    };
  }, [channels, settled, excluded, gaps, readings, face.timeMs, calledMs, readyMs]);
  const room = 3 * 60_000;
  const begin = {
    kind: 'fixed',
    fromMs: Math.max(0, Math.min(calledMs, readyMs ?? calledMs) - room),
    toMs: Math.max(calledMs, readyMs ?? calledMs) + room,
  } as const;
  return <LiveTrend info={info} content={content} summary={warmUp.marks.about} begin={begin} />;
}

function watchedIn({ series }: History): CallResult['watched'] {
  const watched = (name: SettlingChannel) => {
    const found = series.find(({ channel }) => channel === name);
    if (found === undefined) return undefined;
    const values = found.timeMs.map((_, at) => ((found.low[at] ?? 0) + (found.high[at] ?? found.low[at] ?? 0)) / 2);
    return { seconds: found.timeMs.map((ms) => ms / 1000).slice(0, MOST_WATCHED), values: values.slice(0, MOST_WATCHED) };
  };
  return { o2: watched('o2'), stackTemperature: watched('stackTemperature') };
}

function samplesOf({ series }: History): Sample[] {
  const byTime = new Map<number, Sample>();
  for (const { channel, timeMs, low, high } of series) {
    timeMs.forEach((time, i) => {
      const sample = byTime.get(time) ?? { timeMs: time, values: {} };
      sample.values[channel] = ((low[i] ?? 0) + (high[i] ?? low[i] ?? 0)) / 2;
      byTime.set(time, sample);
    });
  }
  return [...byTime.values()].sort((a, b) => a.timeMs - b.timeMs);
}
