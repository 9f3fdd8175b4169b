import { useEffect, useRef, useState } from 'react';
import { roomCoLevel } from '../../../../shared/tuning/advice/cautions.ts';
import {
  HAND_TIMING_EXPANDED_S,
  safetyTests,
  testsNeeded,
  type SafetyTest,
  type SafetyTestId,
} from '../../../../shared/tuning/safety/safety-plan.ts';
import { isIgnitionTest, staleBeyond } from '../../../../shared/tuning/set-up/geometry-changes.ts';
import { isTimedTest, judgeTimedTest, passesAtOnce, type Control } from '../../../../shared/tuning/safety/timed-test.ts';
import { controlWords, safetyWords, timingMissing, timingNotes, timingWords } from '../../../../shared/words/tune/safety.ts';
import { ventWords } from '../../../../shared/words/tune/venting.ts';
import { roomCoWords } from '../../../../shared/words/tune/alarms.ts';
import { safetyScreen as words } from '../../../../shared/words/tune/visit.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Key } from '../../../components/Key.tsx';
import { Dialog } from '../../../components/Dialog.tsx';
import { Choice, Field } from '../../../components/Field.tsx';
import { staleWords } from '../../../../shared/words/geometry/geometry.ts';
import { NoticeSign } from '../../../components/Signs.tsx';
import { useKey } from '../../../keys/use-key.ts';
import { errorOf, typedPlain, typedWithin, valueOf } from '../../../fields/typed.ts';
import { BypassList } from '../safety/BypassList.tsx';
import { RoomCoField } from '../safety/RoomCoField.tsx';
import { MainStepNext, StepFrame } from './StepFrame.tsx';
import { TimeScale } from '../safety/TimeScale.tsx';
import { useFlameSignal } from '../safety/FlameSignal.tsx';
import { safetySays } from '../safety/safety-says.ts';
import { InferredTime } from '../safety/InferredTime.tsx';
import { isRunning, useStopwatch } from '../safety/use-stopwatch.ts';
import { AirAndVenting } from '../safety/AirAndVenting.tsx';
import { useVisit } from '../use-visit.ts';
import { JudgeButton, TestList } from '../safety/SafetyParts.tsx';
import type { WatchStart, SafetyResult } from '../../../../shared/tuning/safety/safety-result.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import { defined } from '../../../../shared/defined.ts';
import '../visit.css';
import './SafetyStep.css';
import './StepFrame.css';
import './steps.css';
import './StepThread.css';

/** Every control made to act, one after the other; the person judges, the watch only offers. */
export function SafetyStep() {
  const { visit } = useVisit();
  const appliance = useApp((state) => state.appliance?.appliance);
  const needed = testsNeeded(appliance, visit.stages.length);
  const latest = new Map(visit.safety.map((result) => [result.test, result]));
  const firstOpen = needed.find(({ id }) => !latest.has(id))?.id ?? safetyTests[0]!.id;
  const running = useApp((state) => safetyTests.find(({ id }) => isRunning(state.watches[id]))?.id);
  const kept = useApp((state) => state.safetyTest);
  const setChosen = useApp((state) => state.safetyTestChosen);
  const [first] = useState(running ?? firstOpen);
  const chosen = kept ?? first;
  useEffect(() => {
    if (kept === undefined) setChosen(first);
  }, [kept, first, setChosen]);
  const test = safetyTests.find(({ id }) => id === chosen) ?? safetyTests[0]!;
  const goOn = (): void => {
    const after = safetyTests.slice(safetyTests.findIndex(({ id }) => id === chosen) + 1);
    const isOpen = ({ id }: SafetyTest): boolean => id !== chosen && !latest.has(id) && needed.some((one) => one.id === id);
    const next = after.find(isOpen) ?? safetyTests.find(isOpen);
    if (next !== undefined) setChosen(next.id);
  };
  const [isVenting, setVenting] = useState(false);
  const turn = (
    <div className="safety-turn" role="group" aria-label={words.list}>
      <button type="button" className="button" aria-pressed={!isVenting} onClick={() => setVenting(false)}>
        {ventWords.tests}
      </button>
      <button type="button" className="button" aria-pressed={isVenting} onClick={() => setVenting(true)}>
        {ventWords.title}
      </button>
    </div>
  );
  if (isVenting) return <AirAndVenting toTests={turn} />;
  return <OneTest key={test.id} test={test} needed={needed} latest={latest} choose={setChosen} goOn={goOn} turn={turn} />;
}

type TestProps = {
  test: SafetyTest;
  needed: readonly SafetyTest[];
  latest: ReadonlyMap<string, SafetyResult>;
  choose: (id: SafetyTestId) => void;
  goOn: () => void;
  /** to air and venting */
  turn: React.ReactNode;
};

function OneTest({ test, needed, latest, choose, goOn, turn }: TestProps) {
  const { visits, sounds } = useParts();
  const { visit, may, edit } = useVisit();
  const before = latest.get(test.id);
  // a test that was taken before the electrodes or the nozzle were moved is taken again
  const moved =
    before !== undefined && isIgnitionTest(test.id) ? staleBeyond(visit).find(({ what }) => what === 'ignitionTests') : undefined;
  const watch = useStopwatch(test.id);
  const lastVisit = useApp((state) => state.lastVisit);
  // written on the control, so no measurement
  const ratedLast = lastVisit?.safety.findLast((result) => result.test === test.id && result.markedSeconds !== undefined)?.markedSeconds;
  const [rated, setRated] = useState(String(before?.markedSeconds ?? ratedLast ?? ''));
  const [startedFrom, setStartedFrom] = useState<WatchStart>(
    before?.startedFrom ?? (test.id === 'flame-failure' ? 'flame-lost' : 'valve-opens'),
  );
  /** lap of a recycling control */
  const [restartS, setRestart] = useState<number>();
  const signal = useFlameSignal(may);
  const [note, setNote] = useState(before?.note ?? '');
  const [noteOpen, setNoteOpen] = useState(false);
  const [bypassOpen, setBypassOpen] = useState(false);
  const noteField = useRef<HTMLDivElement>(null);
  const text = safetyWords[test.id];
  const typedRated = typedPlain(rated);
  const ratedSeconds = valueOf(typedRated);
  const isTimed = test.kind === 'stopwatch';
  const seconds = watch.phase === 'ready' ? (before?.seconds ?? 0) : watch.seconds;
  const timed = isTimedTest(test.id) ? test.id : undefined;
  const control = visit.control ?? {};
  const recycles = timed === 'flame-failure' && control.onFlameLoss === 'recycles';
  const judged =
    timed !== undefined && watch.phase === 'stopped'
      ? judgeTimedTest({
          test: timed,
          seconds: Math.round(seconds * 10) / 10,
          ratedS: ratedSeconds !== undefined && ratedSeconds > 0 ? ratedSeconds : undefined,
          control,
          startedFrom,
          restartS,
        })
      : undefined;
  const isSignal = test.id === 'flame-signal';
  /** a figure that cannot be read would be left out of the record without a word */
  const isUnread = isTimed ? typedRated.kind === 'wrong' : test.id === 'flame-signal' && signal.isWrong;
  const ready = !isUnread && (!isTimed || watch.phase === 'stopped' || before !== undefined);
  const judge = (result: SafetyResult['result']): void => {
    if (!may || (isUnread && result !== 'not-applicable')) return;
    const said = [note.trim(), ...(isSignal ? signal.written : [])]
      .filter((part) => part !== '')
      .join('; ')
      .slice(0, 500);
    edit({
      path: ['safety', visit.safety.length],
      after: {
        test: test.id,
        result,
        ...(isTimed && watch.phase === 'stopped' && result !== 'not-applicable'
          ? {
              seconds: Math.round(seconds * 10) / 10,
              startedFrom,
              ...defined({
                countedSeconds: judged?.countedS === undefined ? undefined : Math.round(judged.countedS * 10) / 10,
                restartSeconds: restartS,
              }),
            }
          : {}),
        ...defined({ markedSeconds: isTimed && ratedSeconds !== undefined && ratedSeconds > 0 ? ratedSeconds : undefined }),
        ...(said === '' ? {} : { note: said }),
        wallMs: visits.nowWallMs(),
      },
    });
    if (isTimed) watch.reset();
    sounds.play('mark');
    goOn();
  };
  useKey('mark', watch.press, isTimed && may);
  const startOver = (): void => {
    watch.reset();
    setRestart(undefined);
  };
  useKey('startOver', startOver, isTimed && may);
  // pressed while the watch runs: it stops the watch, and the verdict follows from the time that was taken. A pass only where the time is inside the mark
  const isRunningNow = isTimed && watch.phase === 'running';
  const wanted = useRef<'pass' | 'fail'>(undefined);
  const say = (result: 'pass' | 'fail'): void => {
    if (!isRunningNow) return judge(result);
    wanted.current = result;
    watch.press();
  };
  useEffect(() => {
    const said = wanted.current;
    if (said === undefined || watch.phase === 'running') return;
    wanted.current = undefined;
    if (watch.phase === 'stopped' && (said === 'fail' || passesAtOnce(judged))) judge(said);
    // eslint-disable-next-line react-hooks/exhaustive-deps -- once, when the host's time has come
  }, [watch.phase]);
  useKey('pass', () => say('pass'), may && (ready || isRunningNow));
  useKey('fail', () => say('fail'), may && (ready || isRunningNow));
  useKey('notApplicable', () => judge('not-applicable'), may);
  useKey('note', () => setNoteOpen(true), may);
  useKey('bypass', () => setBypassOpen(true), may);
  const editControl = (part: Partial<Control>): string | undefined =>
    edit({
      path: ['control'],
      after: Object.fromEntries(Object.entries({ ...control, ...part }).filter(([, value]) => value !== undefined)),
    });
  useEffect(() => {
    if (noteOpen) noteField.current?.querySelector('input')?.focus();
  }, [noteOpen]);
  const ofTest = isUnread
    ? words.unread
    : judged !== undefined
      ? judged.missing !== undefined
        ? timingMissing[judged.missing]
        : words.offered(timingWords[judged.verdict])
      : isTimed
        ? isRunningNow
          ? words.atLockout
          : words.waits
        : isSignal && signal.verdict !== undefined
          ? words.offeredByFigure(signal.verdict)
          : words.youDecide;
  const { says, isDone } = safetySays({ needed: needed.map(({ id }) => id), results: latest, isIdle: watch.phase === 'ready', ofTest });
  return (
    <StepFrame
      step="safety"
      bar={
        <div className="judge-row">
          <JudgeButton sign="pass" text={words.pass} action="pass" ready={ready || isRunningNow} may={may} run={() => say('pass')} />
          <JudgeButton sign="fail" text={words.fail} action="fail" ready={ready || isRunningNow} may={may} run={() => say('fail')} />
          <JudgeButton
            sign="not-applicable"
            text={words.na}
            action="notApplicable"
            ready={ready}
            may={may}
            run={() => judge('not-applicable')}
          />
          <button type="button" className={`button judge${ready ? '' : ' waits'}`} disabled={!may} onClick={() => setNoteOpen(true)}>
            {words.note} <Key action="note" />
          </button>
          <button type="button" className="button judge" onClick={() => setBypassOpen(true)}>
            {words.bypass} <Key action="bypass" />
          </button>
        </div>
      }
      others={<span className="second judge-says">{says}</span>}
      ownMain={isDone ? <MainStepNext step="safety" /> : <></>}
    >
      {bypassOpen && (
        <Dialog title={words.bypasses} close={() => setBypassOpen(false)}>
          <BypassList offered />
        </Dialog>
      )}
      <div className="safety">
        <TestList needed={needed} latest={latest} now={test.id} choose={choose} turn={turn} />
        <section className="safety-test" aria-labelledby="safety-title">
          <h2 id="safety-title">{text.title}</h2>
          <p className="todo">{text.todo}</p>
          <p className="second">
            {words.passesWhen}: {text.passes}
          </p>
          {text.caution !== undefined && (
            <div className="say notice">
              <NoticeSign />
              <div>
                <b>{text.caution.bold}</b> <span className="second">{text.caution.why}</span>
              </div>
            </div>
          )}
          {moved !== undefined && (
            <div className="say notice">
              <NoticeSign />
              <div>{staleWords(moved)}</div>
            </div>
          )}
          {noteOpen && (
            <div ref={noteField}>
              <Field label={words.note} value={note} change={setNote} numeric={false} />
            </div>
          )}
          {!noteOpen && before?.note !== undefined && <p className="second">{before.note}</p>}
          {isTimed ? (
            <>
              <div className="watch">
                <div className="watch-figure" aria-live="off">
                  {formatNumber(seconds, 1)}
                  <span className="watch-unit"> s</span>
                </div>
                <div className="watch-words" role="status">
                  <div className="state">
                    {watch.phase === 'ready' ? (before?.seconds === undefined ? words.ready : words.stopped) : words[watch.phase]}
                  </div>
                  {restartS !== undefined && <div className="second">{controlWords.lapAt(formatNumber(restartS, 1))}</div>}
                  {judged?.countedS !== undefined && judged.countedS < seconds - 0.05 && (
                    <div className="second">{controlWords.counted(formatNumber(judged.countedS, 1))}</div>
                  )}
                  {judged?.missing !== undefined && <div className="notice-text">{timingMissing[judged.missing]}</div>}
                  {!recycles && startedFrom !== 'burner-starts' && ratedSeconds !== undefined && seconds > 0 && (
                    <div className={`left${seconds > ratedSeconds ? ' alarm-text' : ''}`}>
                      {seconds > ratedSeconds
                        ? words.overBy(formatNumber(seconds - ratedSeconds, 1))
                        : words.toRated(formatNumber(ratedSeconds - seconds, 1))}
                    </div>
                  )}
                  <div className="second">{words.byHand(formatNumber(HAND_TIMING_EXPANDED_S, 1))}</div>
                  <InferredTime test={test.id} />
                  {judged?.notes.map((one) => (
                    <div key={one} className="notice-text">
                      {timingNotes[one]}
                    </div>
                  ))}
                </div>
                <span className="grow" />
                <Field
                  label={controlWords.rated[recycles ? 'recycling' : (timed ?? 'lockout-no-ignition')][visit.unitPreset]}
                  value={rated}
                  change={setRated}
                  unit="s"
                  width={190}
                  error={errorOf(typedRated)}
                  disabled={!may}
                />
              </div>
              <TimeScale seconds={seconds} rated={ratedSeconds !== undefined && ratedSeconds > 0 ? ratedSeconds : undefined} />
              {timed !== undefined && (
                <div className="form-row">
                  <Choice
                    label={controlWords.startedFrom}
                    value={startedFrom}
                    width={220}
                    change={setStartedFrom}
                    options={(timed === 'flame-failure' ? (['flame-lost'] as const) : (['valve-opens', 'burner-starts'] as const)).map(
                      (value) => ({
                        value,
                        text: controlWords.startedFroms[value],
                      }),
                    )}
                  />
                  {timed === 'flame-failure' && (
                    <Choice
                      label={controlWords.onFlameLoss}
                      value={control.onFlameLoss ?? ''}
                      width={230}
                      change={(value) => editControl({ onFlameLoss: value === '' ? undefined : value })}
                      options={(['', 'locks-out', 'recycles'] as const).map((value) => ({
                        value,
                        text: controlWords.onFlameLosses[value],
                      }))}
                    />
                  )}
                  {(recycles || startedFrom === 'burner-starts') && (
                    <SecondsField
                      name="valve-on-delay"
                      label={controlWords.valveOnDelay}
                      value={control.valveOnDelayS}
                      keep={(valveOnDelayS) => editControl({ valveOnDelayS })}
                    />
                  )}
                  {recycles && (
                    <SecondsField
                      name="recycle-wait"
                      label={controlWords.recycleWait}
                      value={control.recycleWaitS}
                      keep={(recycleWaitS) => editControl({ recycleWaitS })}
                    />
                  )}
                </div>
              )}
              <div className="watch-buttons">
                <button type="button" className="button main watch-main" disabled={!may || watch.phase === 'stopped'} onClick={watch.press}>
                  {watch.phase === 'running' ? (text.stopKey ?? words.stop) : (text.startKey ?? words.start)} <Key action="mark" />
                </button>
                {recycles && (
                  <button
                    type="button"
                    className="button tall"
                    disabled={!may || watch.phase !== 'running'}
                    onClick={() => setRestart(Math.round(watch.seconds * 10) / 10)}
                  >
                    {controlWords.lap}
                  </button>
                )}
                <button type="button" className="button tall watch-over" disabled={!may || watch.phase === 'ready'} onClick={startOver}>
                  {words.startOver} <Key action="startOver" />
                </button>
              </div>
            </>
          ) : isSignal ? (
            signal.fields
          ) : test.kind === 'figure' ? (
            <div className="form-row">
              <RoomCoField label={words.roomCo} />
              <RoomCoSaid />
            </div>
          ) : null}
          <span className="grow" />
          {!isTimed && <BypassList offered={test.bypassLikely === true} />}
        </section>
      </div>
    </StepFrame>
  );
}

function RoomCoSaid() {
  const { visit, formats } = useVisit();
  const last = visit.roomCo.at(-1);
  return last === undefined ? null : <p className="lead">{roomCoWords[roomCoLevel(last.ppm)](formats.ppm(last.ppm))}</p>;
}

/** Seconds that are written on the control, kept with the visit. */
function SecondsField({
  name,
  label,
  value,
  keep,
}: {
  name: string;
  label: string;
  value: number | undefined;
  keep: (seconds: number | undefined) => string | undefined;
}) {
  const { may } = useVisit();
  const [text, setText] = useState(value === undefined ? '' : String(value));
  const typed = typedWithin(text, { low: 0.1, high: 3600 });
  const leave = (): void => {
    if (typed.kind !== 'wrong') keep(valueOf(typed));
  };
  return (
    <div key={name} onBlur={leave}>
      <Field label={label} value={text} change={setText} unit="s" width={150} error={errorOf(typed)} disabled={!may} />
    </div>
  );
}
