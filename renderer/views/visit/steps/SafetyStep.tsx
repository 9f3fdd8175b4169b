import { useEffect, useRef, useState } from 'react';
import { problem } from '../../../../shared/problem.ts';
import { roomCoLevel } from '../../../../shared/tuning/advice/cautions.ts';
import { safetyTests, testsOfVisit, type SafetyTest, type SafetyTestId } from '../../../../shared/tuning/safety/safety-plan.ts';
import { isIgnitionTest, staleBeyond } from '../../../../shared/tuning/set-up/geometry-changes.ts';
import { passesAtOnce } from '../../../../shared/tuning/safety/timed-test.ts';
import { safetyWords, timingMissing, timingWords } from '../../../../shared/words/visit/safety-tests.ts';
import { ventWords } from '../../../../shared/words/visit/venting.ts';
import { roomCoWords } from '../../../../shared/words/tune/alarms.ts';
import { safetyScreen as words } from '../../../../shared/words/visit/screens/safety.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Key } from '../../../components/Key.tsx';
import { Dialog } from '../../../components/Dialog.tsx';
import { Field } from '../../../components/Field.tsx';
import { staleWords } from '../../../../shared/words/geometry/geometry.ts';
import { NoticeSign } from '../../../components/Signs.tsx';
import { useKey } from '../../../keys/use-key.ts';
import { BypassList } from '../safety/BypassList.tsx';
import { RoomCoField } from '../safety/RoomCoField.tsx';
import { MainStepNext, StepFrame } from './frame/StepFrame.tsx';
import { useFlameSignal } from '../safety/FlameSignal.tsx';
import { TimedTest } from '../safety/TimedTest.tsx';
import { useTiming } from '../safety/use-timing.ts';
import { safetySays } from '../safety/safety-says.ts';
import { isRunning } from '../safety/use-stopwatch.ts';
import { AirAndVenting } from '../safety/AirAndVenting.tsx';
import { useVisit } from '../use-visit.ts';
import { JudgeButton, TestList } from '../safety/SafetyParts.tsx';
import type { SafetyResult } from '../../../../shared/tuning/safety/safety-result.ts';
import { defined } from '../../../../shared/defined.ts';
import '../visit.css';
import './SafetyStep.css';
import './frame/StepFrame.css';
import './steps.css';
import './frame/StepThread.css';

/** Every control made to act, one after the other; the person judges, the watch only offers. */
export function SafetyStep() {
  const { visit } = useVisit();
  const appliance = useApp((state) => state.appliance?.appliance);
  const needed = testsOfVisit(visit, appliance);
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
  const { visits, sounds, store } = useParts();
  const { visit, may, edit } = useVisit();
  const before = latest.get(test.id);
  // a test that was taken before the electrodes or the nozzle were moved is taken again
  const moved =
    before !== undefined && isIgnitionTest(test.id) ? staleBeyond(visit).find(({ what }) => what === 'ignitionTests') : undefined;
  const timing = useTiming(test, before);
  const { watch, seconds, judged, ratedSeconds } = timing;
  const signal = useFlameSignal(may);
  // a note that is typed stays with its test while another one is looked at
  const noteName = `safety-note.${test.id}`;
  const noteTyped = useApp((state) => state.fieldTexts[noteName]);
  const keepText = useApp((state) => state.fieldTyped);
  const note = noteTyped ?? before?.note ?? '';
  const [noteOpen, setNoteOpen] = useState(noteTyped !== undefined);
  const [bypassOpen, setBypassOpen] = useState(false);
  const noteField = useRef<HTMLDivElement>(null);
  const text = safetyWords[test.id];
  const isTimed = test.kind === 'stopwatch';
  const isSignal = test.id === 'flame-signal';
  /** a figure that cannot be read would be left out of the record without a word */
  const isUnread = isTimed ? timing.typedRated.kind === 'wrong' : test.id === 'flame-signal' && signal.isWrong;
  const ready = !isUnread && (!isTimed || watch.phase === 'stopped' || before !== undefined);
  const judge = (result: SafetyResult['result']): void => {
    if (!may || (isUnread && result !== 'not-applicable')) return;
    const said = [note.trim(), ...(isSignal ? signal.written : [])]
      .filter((part) => part !== '')
      .join('; ')
      .slice(0, 500);
    const refused = edit({
      path: ['safety', visit.safety.length],
      after: {
        test: test.id,
        result,
        ...(isTimed && watch.phase === 'stopped' && result !== 'not-applicable'
          ? {
              seconds: Math.round(seconds * 10) / 10,
              startedFrom: timing.startedFrom,
              ...defined({
                countedSeconds: judged?.countedS === undefined ? undefined : Math.round(judged.countedS * 10) / 10,
                restartSeconds: timing.restartS,
              }),
            }
          : {}),
        ...defined({ markedSeconds: isTimed ? ratedSeconds : undefined }),
        ...(said === '' ? {} : { note: said }),
        wallMs: visits.nowWallMs(),
      },
    });
    // the time that was taken stays on the watch, and the note in its field
    if (refused !== undefined) return store.getState().commandFailed(problem('value-out-of-range', refused));
    keepText(noteName, undefined);
    if (isTimed) watch.reset();
    sounds.play('mark');
    goOn();
  };
  useKey('mark', () => void watch.press(), isTimed && may);
  useKey('startOver', timing.startOver, isTimed && may);
  // pressed while the watch runs: it stops the watch, and the verdict follows from the time that was taken. A pass only where the time is inside the mark
  const isRunningNow = isTimed && watch.phase === 'running';
  const wanted = useRef<'pass' | 'fail'>(undefined);
  const say = (result: 'pass' | 'fail'): void => {
    if (!isRunningNow) return judge(result);
    wanted.current = result;
    // a stop that was refused judges nothing: the next one, which may only take a time, would be taken for a verdict
    void watch.press().then((isDone) => {
      if (!isDone) wanted.current = undefined;
    });
  };
  useEffect(() => {
    const said = wanted.current;
    if (said === undefined || watch.phase === 'running') return;
    wanted.current = undefined;
    if (watch.phase === 'stopped' && (said === 'fail' || passesAtOnce(judged))) judge(said);
    // oxlint-disable-next-line react/exhaustive-deps -- once, when the host's time has come
  }, [watch.phase]);
  useKey('pass', () => say('pass'), may && (ready || isRunningNow));
  useKey('fail', () => say('fail'), may && (ready || isRunningNow));
  useKey('notApplicable', () => judge('not-applicable'), may);
  useKey('note', () => setNoteOpen(true), may);
  useKey('bypass', () => setBypassOpen(true), may);
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
              <Field label={words.note} value={note} change={(text) => keepText(noteName, text)} numeric={false} />
            </div>
          )}
          {!noteOpen && before?.note !== undefined && <p className="second">{before.note}</p>}
          {isTimed ? (
            <TimedTest test={test} timing={timing} measuredBefore={before?.seconds !== undefined} />
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
