import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { settlingChannels, type SettlingChannel } from '../../../shared/measurement/channel.ts';
import { lightOffIn } from '../../../shared/warm-up/capture.ts';
import { difference, referenceBand, type CurveChannel, type WarmUpCurve } from '../../../shared/warm-up/curve.ts';
import { channelWords } from '../../../shared/words/states.ts';
import { warmUp } from '../../../shared/words/warm-up.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { saveText } from '../../backend/save-text.ts';
import { curveDashes, type OverlayContent, type OverlayCurve, type OverlayRange } from '../../charts/create-overlay-chart.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { Key } from '../../components/Key.tsx';
import { Lane } from '../../components/Lane.tsx';
import { BrokenSlot } from '../../components/Signs.tsx';
import { formatClock } from '../../format/duration.ts';
import { DASH, formatNumber, formatValue, shownAs } from '../../format/quantity.ts';
import { useKey } from '../../keys/use-key.ts';
import { channelRows, type ChannelRowState } from '../../state/channels.ts';
import { selectRun, selectUnits } from '../../state/selectors.ts';
import { rowWordsOf } from '../tune/row-words.ts';
import { AddCurves } from './AddCurves.tsx';
import { CallIt } from './CallIt.tsx';
import { KeepCurve } from './KeepCurve.tsx';
import { OverlayView } from './OverlayView.tsx';
import { ReplayBar } from './ReplayBar.tsx';
import { TeachPanel } from './TeachPanel.tsx';
import { useCurves, type KeptCurve } from './use-curves.ts';

const MOST_CURVES = 20;

/** Curves from cold over each other, the run that is measured now among them; replay; Call it. */
export default function WarmUpWorkspace() {
  const { actions, buffers } = useParts();
  const record = useApp(selectRun);
  const units = useApp(selectUnits);
  const callIt = useApp((state) => state.callIt);
  const callItTurned = useApp((state) => state.callItTurned);
  const { curves, reload } = useCurves();
  const [channel, setChannel] = useState<SettlingChannel>('stackTemperature');
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const [open, setOpen] = useState<'add' | 'keep' | 'teach'>();
  const [shows, setShows] = useState<{ band: boolean; difference: boolean }>({ band: false, difference: false });
  const picture = useRef<() => string>(() => '');

  const shown = useMemo(() => curves.filter(({ id }) => chosen.has(id)).slice(0, MOST_CURVES), [curves, chosen]);
  const run = record === undefined ? undefined : buffers.of(record.info.runId);
  const lightOffMs = useLightOff(record?.info.runId);
  const scale = shownAs(channel, units);
  const { factor, offset, decimals } = scale;

  const content = useCallback((): OverlayContent => {
    const toShown = (value: number): number => value * factor + (shows.difference ? 0 : offset);
    const first = shown[0]?.curve;
    const kept = shown.flatMap(({ id, curve }, i): OverlayCurve[] => {
      const column: CurveChannel | undefined =
        shows.difference && first !== undefined ? difference(curve, first, channel) : curve.channels[channel];
      return column === undefined
        ? []
        : [
            {
              id,
              label: curve.name,
              style: (i + 1) % 6,
              strong: false,
              points: column.seconds.map((x, k) => ({ x, y: toShown(column.values[k] as number) })),
            },
          ];
    });
    const live: OverlayCurve[] = [];
    if (run !== undefined && !shows.difference) {
      const nowMs = run.nowMs();
      const { timeMs, low, high } = run.series(channel).query(0, nowMs, 700);
      live.push({
        id: 'now',
        label: warmUp.runNow,
        style: 0,
        strong: true,
        points: timeMs.map((time, i) => ({
          x: (time - (lightOffMs ?? 0)) / 1000,
          y: toShown(((low[i] as number) + (high[i] as number)) / 2),
        })),
      });
    }
    const usual =
      shows.band && !shows.difference
        ? referenceBand(
            shown.map(({ curve }) => curve),
            channel,
          )
        : undefined;
    const points =
      shown.length === 1 && !shows.difference && first !== undefined && channel === 'stackTemperature' ? steadyPoints(first, toShown) : [];
    return {
      curves: [...kept, ...live],
      band:
        usual === undefined
          ? undefined
          : {
              low: usual.seconds.map((x, i) => ({ x, y: toShown(usual.low[i] as number) })),
              high: usual.seconds.map((x, i) => ({ x, y: toShown(usual.high[i] as number) })),
            },
      points,
      decimals: decimals,
      minutes: warmUp.minutes,
      lightOff: warmUp.lightOff,
    };
  }, [shown, channel, run, lightOffMs, factor, offset, decimals, shows]);

  const whole = useCallback((): OverlayRange => {
    const ends = shown.map(({ curve }) => curve.channels[channel]?.seconds.at(-1) ?? 0);
    const liveEnd = run === undefined ? 0 : (run.nowMs() - (lightOffMs ?? 0)) / 1000;
    return { fromS: -60, toS: Math.max(240, liveEnd * 1.1, ...ends) };
  }, [shown, channel, run, lightOffMs]);

  const nextChannel = (): void =>
    setChannel((now) => settlingChannels[(settlingChannels.indexOf(now) + 1) % settlingChannels.length] ?? 'stackTemperature');
  const turn = (id: string): void =>
    setChosen((before) => new Set(before.has(id) ? [...before].filter((one) => one !== id) : [...before, id].slice(-MOST_CURVES)));
  const canKeep = record !== undefined && run !== undefined && run.nowMs() > 30_000;
  useKey('curve', nextChannel, !callIt);
  useKey('add', () => setOpen('add'), !callIt);
  useKey('main', () => callItTurned(true), record !== undefined && !callIt && open === undefined);

  if (callIt && record !== undefined) return <CallIt record={record} end={() => callItTurned(false)} />;
  const name = channelWords[channel].name;
  const row = record === undefined ? undefined : channelRows(record, (one) => run?.latest(one)).find((one) => one.channel === channel);
  return (
    <div className="warm-up">
      <div className="tools warm-up-head">
        <h1 className="title">
          <ChannelName text={warmUp.title(name)} />
        </h1>
        <span className="second">{warmUp.about(shown.length + (record === undefined ? 0 : 1))}</span>
        <span className="grow" />
        <button type="button" className="button" onClick={nextChannel}>
          <ChannelName text={warmUp.channel(channelWords[channel].inText)} /> <Key action="curve" />
        </button>
        <button type="button" className="button" onClick={() => setOpen('add')}>
          {warmUp.add} <Key action="add" />
        </button>
      </div>
      <div className="warm-up-main">
        <section className="warm-up-chart" data-region="main" aria-label={warmUp.title(name)}>
          {shown.length === 0 && record === undefined ? (
            <div className="warm-up-empty">
              <BrokenSlot large />
              <div>
                <h2>{warmUp.empty.title}</h2>
                <p className="second">{warmUp.noRun}</p>
              </div>
            </div>
          ) : (
            <OverlayView
              label={`${warmUp.title(name)}, ${warmUp.about(shown.length)}`}
              content={content}
              whole={whole}
              onPicture={(take) => (picture.current = take)}
            />
          )}
        </section>
        <aside className="warm-up-side" data-region="right" aria-label={warmUp.library}>
          {row !== undefined && record !== undefined && (
            <div className="warm-up-now">
              <NowBlock row={row} nowMs={record.face.timeMs} units={units} />
              {lightOffMs === undefined && <p className="second note">{warmUp.noLightOff}</p>}
            </div>
          )}
          <CurveTable shown={shown} units={units} unit={scale.unit} />
          {shown.length > 1 && (
            <div className="row warm-up-turns">
              <button
                type="button"
                className="button"
                aria-pressed={shows.difference}
                onClick={() => setShows({ band: false, difference: !shows.difference })}
              >
                {warmUp.difference}
              </button>
              <button
                type="button"
                className="button"
                aria-pressed={shows.band}
                disabled={shown.length < 3}
                onClick={() => setShows({ band: !shows.band, difference: false })}
              >
                {warmUp.band}
              </button>
            </div>
          )}
        </aside>
      </div>
      <div className="bar" data-region="bar">
        {record?.info.replay !== undefined ? (
          <ReplayBar record={record} />
        ) : (
          <>
            <button type="button" className="button tall" disabled={!canKeep} onClick={() => setOpen('keep')}>
              {warmUp.keep}
            </button>
            {record?.info.simulator !== undefined && (
              <button type="button" className="button tall" onClick={() => setOpen('teach')}>
                {warmUp.teach}
              </button>
            )}
            <button
              type="button"
              className="button tall"
              disabled={shown.length === 0}
              onClick={() => saveText('warm-up-curves.csv', curvesAsCsv(shown, channel))}
            >
              {warmUp.exportData}
            </button>
            <button
              type="button"
              className="button tall"
              disabled={shown.length === 0 && record === undefined}
              onClick={() => saveText('warm-up-curves.png', picture.current(), true)}
            >
              {warmUp.exportPicture}
            </button>
          </>
        )}
        <span className="grow" />
        <button type="button" className="button main" disabled={record === undefined} onClick={() => callItTurned(true)}>
          {warmUp.startCall} <Key action="main" />
        </button>
      </div>
      {open === 'add' && (
        <AddCurves
          curves={curves}
          chosen={chosen}
          turn={turn}
          remove={(id) => void actions.ask('document.remove', { kind: 'curve', id }).then(reload)}
          close={() => setOpen(undefined)}
        />
      )}
      {open === 'keep' && record !== undefined && (
        <KeepCurve
          runId={record.info.runId}
          endMs={record.face.timeMs}
          startWallMs={record.info.startWallMs}
          source={record.info.source.kind === 'serial' ? 'port' : record.info.source.kind}
          name={`${record.info.source.kind === 'simulated' ? record.info.source.title : warmUp.runNow} ${formatClock(record.info.startWallMs, record.info.zoneMinutes, 'minutes')}`}
          close={() => setOpen(undefined)}
          kept={(id) => {
            reload();
            turn(id);
          }}
        />
      )}
      {open === 'teach' && record !== undefined && <TeachPanel runId={record.info.runId} close={() => setOpen(undefined)} />}
    </div>
  );
}

/** The chosen channel of the run on screen: figure, slot and pin, state in words. */
function NowBlock({ row, nowMs, units }: { row: ChannelRowState; nowMs: number; units: 'us' | 'metric' }) {
  const words = rowWordsOf(row, nowMs, undefined, units);
  const { detail, state, value } = row;
  const away =
    detail?.headingFor === undefined || value === undefined || detail.band <= 0
      ? undefined
      : (value - detail.headingFor.value) / detail.band;
  return (
    <div role="group" aria-label={words.label}>
      <h3>{warmUp.runNowTitle}</h3>
      <div className="row now-figure">
        <div className={`figure${value === undefined ? ' off' : ''}`}>{words.figure}</div>
        <Lane state={state} bandsAway={away} direction={detail?.direction} />
      </div>
      <div className="now-state">
        {words.state}
        {words.left === '' ? '' : `, ${words.left}`}
      </div>
      <div className="second">
        <ChannelName text={words.to} />
      </div>
    </div>
  );
}

/** Where both criteria were met on a single curve. */
function steadyPoints(curve: WarmUpCurve, toShown: (value: number) => number): OverlayContent['points'] {
  const at = (seconds: number | undefined, label: (minutes: string) => string) => {
    const column = curve.channels.stackTemperature;
    if (seconds === undefined || column === undefined) return [];
    const index = column.seconds.findIndex((one) => one >= seconds);
    return index < 0 ? [] : [{ x: seconds, y: toShown(column.values[index] as number), label: label(formatNumber(seconds / 60, 1)) }];
  };
  return [...at(curve.steadyOwnS, warmUp.own), ...at(curve.steadyPublishedS, warmUp.published)];
}

function CurveTable({ shown, units, unit }: { shown: readonly KeptCurve[]; units: 'us' | 'metric'; unit: string }) {
  if (shown.length === 0) return null;
  const minutes = (seconds: number | undefined): string => (seconds === undefined ? DASH : formatNumber(seconds / 60, 1));
  return (
    <>
      <table className="curve-table">
        <thead>
          <tr>
            <th>{warmUp.columns.curve}</th>
            <th className="right">{warmUp.columns.slow}</th>
            <th className="right">{warmUp.columns.end}</th>
            <th className="right">{warmUp.columns.steady}</th>
          </tr>
        </thead>
        <tbody>
          {shown.map(({ id, curve }, i) => {
            const fit = curve.fits?.stackTemperature;
            const slow = fit?.constants.at(-1);
            const half = slow?.high === undefined || slow.low === undefined ? undefined : (slow.high - slow.low) / 2;
            const style = (i + 1) % 6;
            return (
              <tr key={id}>
                <td>
                  <svg width="36" height="10" aria-hidden="true">
                    <path className={`curve-line style-${style}`} d="M0 5H36" strokeDasharray={(curveDashes[style] ?? []).join(' ')} />
                  </svg>{' '}
                  {curve.name}
                </td>
                <td className="right num">
                  {minutes(slow?.tauS)}{' '}
                  {half !== undefined && <span className="plus-minus">±{formatNumber(Math.max(0.1, half / 60), 1)}</span>}
                </td>
                <td className="right num">
                  {fit === undefined ? DASH : fit.honest ? formatValue('stackTemperature', fit.endValue, units) : warmUp.notHonest}
                </td>
                <td className="right num">{minutes(curve.steadyOwnS)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <p className="second note">{warmUp.units(unit)}</p>
    </>
  );
}

const LOOK_EVERY_MS = 2000;

/** Light-off of the run on screen, looked for in what this window holds; asked again while it is not found. */
function useLightOff(runId: string | undefined): number | undefined {
  const { buffers } = useParts();
  const [found, setFound] = useState<{ runId: string; timeMs: number }>();
  const isFound = found !== undefined && found.runId === runId;
  useEffect(() => {
    if (runId === undefined || isFound) return undefined;
    const run = buffers.of(runId);
    const look = (): void => {
      const column = (channel: 'o2' | 'stackTemperature') => {
        const { timeMs, low } = run.series(channel).query(0, run.nowMs(), 4000);
        return { timeMs, values: low };
      };
      const timeMs = lightOffIn({ o2: column('o2'), stackTemperature: column('stackTemperature') });
      if (timeMs !== undefined) setFound({ runId, timeMs });
    };
    look();
    const again = setInterval(look, LOOK_EVERY_MS);
    return () => clearInterval(again);
  }, [buffers, runId, isFound]);
  return isFound ? found.timeMs : undefined;
}

/** RFC 4180, units in the header, seconds from light-off; simulated curves say so in the first line. */
function curvesAsCsv(shown: readonly KeptCurve[], channel: SettlingChannel): string {
  const unit = { o2: '%vol dry', co: 'ppm dry', stackTemperature: 'degC', airTemperature: 'degC' }[channel];
  const cell = (text: string): string => `"${(/^[=+\-@]/.test(text) ? `'${text}` : text).replace(/"/g, '""')}"`;
  const lines = [`curve,seconds from light-off (s),${channel} (${unit}),source`];
  for (const { curve } of shown) {
    const column = curve.channels[channel];
    column?.seconds.forEach((at, i) => lines.push(`${cell(curve.name)},${at},${column.values[i]},${curve.source}`));
  }
  return `${lines.join('\r\n')}\r\n`;
}
