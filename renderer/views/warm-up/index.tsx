import { useCallback, useMemo, useRef, useState } from 'react';
import { settlingChannels, type SettlingChannel } from '../../../shared/measurement/channel.ts';
import { beginLesson } from '../../../shared/geometry/lesson.ts';
import { lookAndTell } from '../../../shared/words/geometry/look-and-tell.ts';
import { channelWords } from '../../../shared/words/tune/states.ts';
import { warmUp } from '../../../shared/words/warm-up.ts';
import { useApp, useParts } from '../../app-parts.ts';
import type { OverlayChart } from '../../charts/create-overlay-chart.ts';
import type { OverlayContent, OverlayRange } from '../../charts/overlay-content.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { HostAlert } from '../../components/alerts/HostAlert.tsx';
import { Key } from '../../components/Key.tsx';
import { useKey } from '../../keys/use-key.ts';
import { channelRows } from '../../state/channels.ts';
import { selectMayAct, selectRun, selectUnits } from '../../state/selectors.ts';
import { LookAndTell } from '../geometry/lesson/LookAndTell.tsx';
import { AddCurves } from './curves/AddCurves.tsx';
import { CallIt } from './call-it/CallIt.tsx';
import { ClassOverview } from './call-it/ClassOverview.tsx';
import { CurvesAsTable } from './curves/CurvesAsTable.tsx';
import { CurveTable } from './curves/CurveTable.tsx';
import { Exercises } from './call-it/Exercises.tsx';
import { FitDetails } from './curves/FitDetails.tsx';
import { InstructorView } from './call-it/InstructorView.tsx';
import { CurveTurns } from './curves/CurveTurns.tsx';
import { SaveCurve } from './curves/SaveCurve.tsx';
import { NowBlock } from './NowBlock.tsx';
import { keptPartOf, liveCurveOf, type OverlayChoice } from './curves/overlay-content.ts';
import { NothingToCompare } from './curves/NothingToCompare.tsx';
import { OverlayView } from './curves/OverlayView.tsx';
import { PracticeDialog } from './call-it/PracticeDialog.tsx';
import { ReplayBar } from './ReplayBar.tsx';
import { TeachPanel } from './call-it/TeachPanel.tsx';
import { useCalls, useCurves, useExerciseSets } from './use-documents.ts';
import { useLightOff } from './use-light-off.ts';
import { warmUpDeedOf } from './warm-up-deed.ts';
import type { PracticeKind } from '../../../shared/tuning/training/practice.ts';
import { shownAs } from '../../../shared/format/quantity.ts';
import './warm-up.css';
import { type Capture, isPractice, captureOf, storedCapture } from './curves/capture.ts';

const MOST_CURVES = 20;

/** An instructor's window changes the burner; every other one looks at curves and is asked. */
export default function WarmUpWorkspace() {
  const isInstructor = useApp((state) => state.role === 'instructor');
  const callIt = useApp((state) => state.callIt);
  const callItTurned = useApp((state) => state.callItTurned);
  const record = useApp(selectRun);
  const hasLesson = useApp((state) => state.lesson !== undefined);
  const lessonChanged = useApp((state) => state.lessonChanged);
  if (isInstructor) return <InstructorView />;
  if (hasLesson) return <LookAndTell end={() => lessonChanged(undefined)} />;
  if (callIt && record !== undefined) return <CallIt key={record.info.runId} record={record} end={() => callItTurned(false)} />;
  return <Overlay />;
}
type Open = 'add' | 'teach' | 'table' | 'exercises' | 'class' | { kind: PracticeKind; seed: number } | undefined;

/** Curves from cold over each other, the run that is measured now among them; replay; Call it. */
function Overlay() {
  const { actions, buffers, store } = useParts();
  const record = useApp(selectRun);
  const units = useApp(selectUnits);
  const mayAct = useApp(selectMayAct);
  const callItTurned = useApp((state) => state.callItTurned);
  const lessonChanged = useApp((state) => state.lessonChanged);
  const panelOpened = useApp((state) => state.panelOpened);
  const { curves, reload } = useCurves();
  const sets = useExerciseSets();
  const { kept: calls } = useCalls();
  const [channel, setChannel] = useState<SettlingChannel>('stackTemperature');
  const chosen = useApp((state) => state.curvesShown);
  const [lookedAt, setLookedAt] = useState<string>();
  const [open, setOpen] = useState<Open>();
  const [capture, setCapture] = useState<Capture>();
  const [shows, setShows] = useState<OverlayChoice['shows']>('curves');
  const picture = useRef<OverlayChart['picture']>(() => '');

  const shown = useMemo(() => {
    const byId = new Map(curves.map((one) => [one.id, one]));
    return [...chosen].flatMap((id) => byId.get(id) ?? []).slice(0, MOST_CURVES);
  }, [curves, chosen]);
  const run = record === undefined ? undefined : buffers.of(record.info.runId);
  const lightOffMs = useLightOff(record?.info.runId);
  const scale = shownAs(channel, units);
  const { factor, offset, decimals, unit } = scale;
  const choice = useMemo(
    (): OverlayChoice => ({ channel, shows, lookedAt, scale: { factor, offset, decimals } }),
    [channel, shows, lookedAt, factor, offset, decimals],
  );
  const keptPart = useMemo(() => keptPartOf(shown, choice), [shown, choice]);
  const content = useCallback(
    (range: OverlayRange): OverlayContent => ({
      ...keptPart,
      curves:
        run === undefined || choice.shows === 'difference'
          ? keptPart.curves
          : [...keptPart.curves, liveCurveOf(run, choice, lightOffMs ?? 0, range)],
      decimals: choice.scale.decimals,
      unit: warmUp.unitOf(unit, choice.shows === 'difference'),
      minutes: warmUp.minutes,
      lightOff: warmUp.lightOff,
    }),
    [keptPart, choice, run, lightOffMs, unit],
  );
  const whole = useCallback((): OverlayRange => {
    const ends = shown.map(({ curve }) => curve.channels[channel]?.seconds.at(-1) ?? 0);
    const liveEnd = run === undefined ? 0 : (run.nowMs() - (lightOffMs ?? 0)) / 1000;
    return { fromS: -60, toS: Math.max(240, liveEnd * 1.1, ...ends) };
  }, [shown, channel, run, lightOffMs]);

  const nextChannel = (): void =>
    setChannel((now) => settlingChannels[(settlingChannels.indexOf(now) + 1) % settlingChannels.length] ?? 'stackTemperature');
  const turn = (id: string): void => {
    if (!chosen.has(id) && chosen.size >= MOST_CURVES) store.getState().saidChanged(warmUp.tooManyChosen);
    // from the store, not from this render: what was kept a moment ago is chosen after an answer
    const before = [...store.getState().curvesShown];
    const next = before.includes(id) ? before.filter((one) => one !== id) : [...before, id].slice(-MOST_CURVES);
    store.getState().curvesChosen(new Set(next));
  };
  // other burners each time
  const look = (): void => lessonChanged(beginLesson(1 + (Date.now() % 100_000)));
  const practise = (kind: PracticeKind): void => setOpen({ kind, seed: 1 + (Date.now() % 100_000) });
  const isFree = open === undefined && capture === undefined;
  const canKeep = mayAct && record !== undefined && run !== undefined && run.nowMs() > 30_000;
  useKey('curve', nextChannel);
  useKey('add', () => setOpen('add'));
  useKey('table', () => setOpen('table'), shown.length > 0);
  useKey('exercises', () => setOpen('exercises'));
  useKey('lookAndTell', look);
  useKey('class', () => setOpen('class'));
  const deed = warmUpDeedOf({ hasRun: record !== undefined, hasLightOff: lightOffMs !== undefined });
  const begin = (): void => (deed.does === 'exercises' ? setOpen('exercises') : callItTurned(true));
  useKey('main', begin, isFree);
  const close = (): void => setOpen(undefined);

  const name = channelWords[channel].name;
  const isSimulated = shown.some(({ curve }) => curve.source === 'simulated') || (record !== undefined && isPractice(record.info.source));
  const row = record === undefined ? undefined : channelRows(record, (one) => run?.latest(one)).find((one) => one.channel === channel);
  const looked = shown.find(({ id }) => id === lookedAt) ?? (shown.length === 1 ? shown[0] : undefined);
  return (
    <div className="warm-up">
      <div className="tools warm-up-head">
        <h1 className="title">
          <ChannelName text={warmUp.title(name)} />
        </h1>
        <span className="second about">{warmUp.about(shown.length + (record === undefined ? 0 : 1))}</span>
        <span className="grow" />
        <button type="button" className="button" onClick={() => setOpen('class')}>
          {warmUp.classTitle} <Key action="class" />
        </button>
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
            <NothingToCompare exercises={() => setOpen('exercises')} add={() => setOpen('add')} source={() => panelOpened('source')} />
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
          <CurveTable
            shown={shown}
            lookedAt={looked?.id}
            lookAt={(id) => setLookedAt((before) => (before === id ? undefined : id))}
            units={units}
            unit={shownAs('stackTemperature', units).unit}
          />
          {shown.length > 0 && (
            <CurveTurns
              shown={shown}
              shows={shows}
              turn={(one) => setShows((before) => (before === one ? 'curves' : one))}
              table={() => setOpen('table')}
              picture={() => picture.current(`${warmUp.title(name)}, ${scale.unit}`, isSimulated ? warmUp.simulatedMark : undefined)}
            />
          )}
          {shows === 'band' && keptPart.band !== undefined && <p className="second note">{warmUp.bandAbout(shown.length)}</p>}
          {looked !== undefined && <FitDetails key={looked.id} curve={looked.curve} units={units} />}
        </aside>
      </div>
      <HostAlert />
      <div className="bar" data-region="bar">
        {record?.info.replay !== undefined ? (
          <ReplayBar record={record} />
        ) : (
          <>
            <button
              type="button"
              className="button tall"
              disabled={!canKeep}
              onClick={() => record !== undefined && setCapture(captureOf(record.info, record.face.timeMs))}
            >
              {warmUp.keep}
            </button>
            {record?.info.simulator !== undefined && mayAct && (
              <button type="button" className="button tall" onClick={() => setOpen('teach')}>
                {warmUp.teach}
              </button>
            )}
            <p className="bar-says grow">{deed.says}</p>
          </>
        )}
        <button type="button" className="button tall" onClick={look}>
          {lookAndTell.open} <Key action="lookAndTell" />
        </button>
        <button type="button" className="button tall" onClick={() => setOpen('exercises')}>
          {warmUp.exercises} <Key action="exercises" />
        </button>
        <button type="button" className="button main" onClick={begin}>
          {deed.text} <Key action="main" />
        </button>
      </div>
      {open === 'add' && (
        <AddCurves
          curves={curves}
          chosen={chosen}
          units={units}
          turn={turn}
          remove={(id) => void actions.ask('document.remove', { kind: 'curve', id }).then(reload)}
          capture={(stored) => {
            close();
            setCapture(storedCapture(stored));
          }}
          close={close}
        />
      )}
      {capture !== undefined && (
        <SaveCurve
          {...capture}
          close={() => setCapture(undefined)}
          kept={(id) => {
            reload();
            turn(id);
          }}
        />
      )}
      {open === 'teach' && record !== undefined && <TeachPanel runId={record.info.runId} close={close} />}
      {open === 'table' && <CurvesAsTable shown={shown} channel={channel} units={units} close={close} />}
      {open === 'exercises' && (
        <Exercises sets={sets.kept} calls={calls} mayKeep={mayAct} reload={sets.reload} practise={practise} close={close} />
      )}
      {typeof open === 'object' && <PracticeDialog {...open} close={close} />}
      {open === 'class' && <ClassOverview calls={calls} close={close} />}
    </div>
  );
}
