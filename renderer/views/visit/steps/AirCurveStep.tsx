import { useState, type ReactNode } from 'react';
import { LEAST_RESERVE_CO2_POINTS, MOST_RESERVE_CO2_POINTS, reserveChoiceFor } from '../../../../shared/tuning/curve/reserve.ts';
import { pictureOfCurve } from '../../../../shared/report/curve-picture.ts';
import { AirCurveDrawing } from '../../../../shared/report/drawings/AirCurveDrawing.tsx';
import { isAir, kindOf } from '../../../../shared/tuning/trial/adjuster.ts';
import { gapsOf } from '../../../../shared/tuning/trial/trial-figures.ts';
import { leftScreen } from '../../../../shared/words/visit/screens/as-left.ts';
import { curveScreen as words } from '../../../../shared/words/visit/screens/air-curve.ts';
import { visitWords } from '../../../../shared/words/visit/visit-thread.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { onsetWords } from '../../../../shared/words/visit/smoke-and-window.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Key } from '../../../components/Key.tsx';
import { useKey } from '../../../keys/use-key.ts';
import type { RunRecord } from '../../../state/run-record.ts';
import { runningTrialOf, selectIsRunning, selectMayAct } from '../../../state/selectors.ts';
import { mainDeedOf } from '../../tune/mark-bar/main-deed.ts';
import { MainButton } from '../../tune/mark-bar/MainButton.tsx';
import type { PendingDeeds } from '../../tune/mark-bar/use-pending-mark.ts';
import { AdjusterKinds } from '../start/AdjusterKinds.tsx';
import { curveDeedOf } from './curve-deed.ts';
import { adviceFace, nextPointOf, type AdviceFace } from '../curve/advice-words.ts';
import { HintStrip } from '../curve/HintStrip.tsx';
import { LiveStrip } from '../curve/LiveStrip.tsx';
import { OtherSetting } from '../curve/OtherSetting.tsx';
import { RelationChart } from '../curve/RelationChart.tsx';
import { MainStepButton, MainStepNext, StepFrame, useCautions } from './frame/StepFrame.tsx';
import { StagePicker } from '../start/StagePicker.tsx';
import { TrialTable } from '../curve/TrialTable.tsx';
import { co2MaxText } from '../../../../shared/report/record/trials.ts';
import { FIRST_RESERVE_CO2_POINTS, fuelOf, numberOf } from '../visit-facts.ts';
import { lacksDraft } from '../../tune/entries/entry-after.ts';
import { useProbeGate } from '../use-probe-gate.ts';
import { useCurve, useEntryKeys, useSteps, useVisit } from '../use-visit.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import './AirCurveStep.css';
import './frame/StepFrame.css';

/** Trials as a curve, and the one setting to try next. */
export function AirCurveStep({ record, deeds }: { record: RunRecord | undefined; deeds: PendingDeeds | undefined }) {
  const { actions, sounds, store } = useParts();
  const entryOpened = useApp((state) => state.entryOpened);
  const { visit, stage, stageIndex, units, formats, may, put } = useVisit();
  const facts = useCurve();
  const isDone = useSteps().some(({ id, missing }) => id === 'air-curve' && missing.every(({ key }) => key === 'caution'));
  const probe = useProbeGate();
  const goingOn = useApp(runningTrialOf);
  const { read: readCautions } = useCautions('air-curve');
  const sideTurned = useApp((state) => state.sideTurned);
  const stepChosen = useApp((state) => state.stepChosen);
  const panelOpened = useApp((state) => state.panelOpened);
  const can = useApp((state) => selectMayAct(state) && selectIsRunning(state)) && may;
  const [other, setOther] = useState(false);
  const trials = visit.trials.filter((trial) => trial.setting.stage === stage.name);
  // a mark is known here before the trials are rebuilt: what was running has ended with it
  const since = record?.marks.findLast(({ body }) => body.kind === 'adjustment')?.timeMs ?? 0;
  const running =
    record === undefined
      ? undefined
      : trials.findLast((trial) => trial.runId === record.info.runId && trial.toMs === undefined && trial.fromMs >= since);
  const gaps = running === undefined ? [] : gapsOf(running).filter((gap) => gap !== 'draft');
  const advice = facts?.advice;
  const isUnread =
    record !== undefined &&
    trials.length > 0 &&
    advice?.advice === 'none' &&
    (running === undefined || gaps.length > 0) &&
    advice.because.some((key) => key === 'read-first' || key === 'smoke-first' || key === 'not-settled');
  const face: AdviceFace = isUnread
    ? {
        title: words.nextTitle,
        headline: words.readFirst,
        whyTitle: words.needs,
        why: [words.readFirstWhy((running === undefined ? (['reading', 'smoke'] as const) : gaps).map((gap) => words.gaps[gap]))],
      }
    : adviceFace(facts, formats);
  const move = advice?.setting;
  const next = advice && nextPointOf(advice);
  const complete = running !== undefined && gaps.length === 0;
  const deed = curveDeedOf({
    advice,
    hasRecord: record !== undefined,
    isDone,
    isComplete: complete,
    isKindUnsaid: visit.adjusters.some((adjuster) => kindOf(adjuster) === undefined),
  });
  useKey('curve', sideTurned, record !== undefined);
  useEntryKeys(can && record !== undefined);
  const markMove = (): void => {
    if (move === undefined || record === undefined) return;
    void actions
      .mark({ kind: 'adjustment', setting: move }, { setsSimulator: record.info.simulator !== undefined })
      .then((mark) => mark !== undefined && sounds.play('mark'));
  };
  /** one press: the trial is as-left, and the step after it is in front */
  const leaveIt = (): void => {
    if (running !== undefined && may && running.id !== stage.asLeftTrialId) {
      const isLeft = put(
        { path: ['stages', stageIndex, 'asLeftTrialId'], after: running.id },
        { path: ['stages', stageIndex, 'echoTrialId'] },
      );
      if (!isLeft) return;
    }
    readCautions();
    stepChosen('as-left');
    // as-left is judged with its draft: the gauge is read while the burner stands there
    if (lacksDraft(store.getState()) && can) entryOpened('draft');
  };
  useKey('mark', markMove, can && move !== undefined);
  useKey('other', () => setOther(true), can && record !== undefined && !other);
  const mainPart = ((): ReactNode => {
    switch (deed) {
      case 'next':
        // nothing is missing here: the next step is one press away, with or without an instrument
        return <MainStepNext step="air-curve" />;
      case 'fuel':
        return <MainStepButton act={{ text: words.toFuel, run: () => stepChosen('start') }} />;
      case 'connect':
        return (
          <button type="button" className="button main" onClick={() => panelOpened('source')}>
            {visitWords.connect} <Key action="source" />
          </button>
        );
      case 'kinds':
        return <MainStepButton act={{ text: words.toKinds, run: toKinds, blocked: !may }} />;
      case 'adjusters':
        return <MainStepButton act={{ text: words.toAdjusters, run: () => panelOpened('settings') }} />;
      case 'mark':
        return (
          <button type="button" className="button main" disabled={!can} onClick={markMove}>
            {words.mark(face.to ?? '')} <Key action="mark" />
          </button>
        );
      case 'use':
        return <MainStepButton act={{ text: leftScreen.use(numberOf(visit, running?.id)), run: leaveIt }} />;
      case 'other':
      case 'other-air':
        return (
          <MainStepButton
            act={{ text: deed === 'other' ? words.otherTitle : words.otherAir, run: () => setOther(true), blocked: !can || other }}
          />
        );
      case 'smoke':
      case 'read': {
        const reading = mainDeedOf(record!, undefined, { probe, trial: goingOn });
        const spot = { does: 'smoke', text: live.take.smoke, under: undefined, key: 'main' } as const;
        return <MainButton deed={deed === 'smoke' && probe.state === 'open' ? spot : reading} blocked={deeds?.pending !== undefined} />;
      }
    }
  })();
  const summary = facts === undefined ? '' : onsetWords(facts.curve.onset, formats);
  const lead =
    advice?.adjuster ?? visit.adjusters.find((adjuster) => adjuster.role === 'fine' && isAir(adjuster))?.name ?? visit.adjusters[0]?.name;
  return (
    <StepFrame
      step="air-curve"
      bar={record === undefined ? undefined : <LiveStrip record={record} />}
      ownMain={mainPart}
      others={
        record !== undefined && (
          <>
            {deed !== 'other' && deed !== 'other-air' && (
              <button type="button" className="button tall" disabled={!can} onClick={() => setOther(true)}>
                {words.other} <Key action="other" />
              </button>
            )}
            <button type="button" className="button tall" onClick={sideTurned}>
              {visitWords.liveSide} <Key action="curve" />
            </button>
          </>
        )
      }
      right={
        <div className="advice">
          <div className="second">{face.title}</div>
          {face.to !== undefined ? (
            <>
              <div className="advice-figure">
                <span>{face.adjuster} </span>
                {face.to}
              </div>
              <div className="second advice-how">{face.how}</div>
              {face.expect !== undefined && (
                <div className="expect">
                  <ChannelName text={words.expect} />{' '}
                  <b>
                    {face.expect.value} <span className="plus-minus">{face.expect.half}</span>
                  </b>
                </div>
              )}
            </>
          ) : (
            face.headline !== undefined && (
              <p className="advice-headline">
                <ChannelName text={face.headline} />
              </p>
            )
          )}
          <section className="why">
            <h2>{face.whyTitle}</h2>
            {face.why.map((text) => (
              <p key={text}>
                <ChannelName text={text} />
              </p>
            ))}
          </section>
          <AdjusterKinds />
          <HintStrip />
          <ReserveStepper />
          <span className="grow" />
          {facts !== undefined && lead !== undefined && <RelationChart trials={facts.fresh} adjuster={lead} advice={next} />}
        </div>
      }
    >
      <StagePicker />
      <div className="curve-plate">
        {facts === undefined || facts.curve.points.length === 0 ? (
          <p className="lead empty-line">{words.empty}</p>
        ) : (
          <AirCurveDrawing
            place="window"
            picture={pictureOfCurve(facts.curve, {
              next,
              numberOf: (id) => numberOf(visit, id),
              asLeftId: stage.asLeftTrialId,
              label: `${words.chart}. ${summary} ${face.headline ?? ''}`,
            })}
          />
        )}
      </div>
      <div className="table-scroll">
        <TrialTable
          visit={visit}
          trials={trials}
          units={units}
          stale={facts?.stale ?? new Map()}
          nowId={running?.id ?? trials.at(-1)?.id}
        />
      </div>
      {other && record !== undefined && <OtherSetting record={record} close={() => setOther(false)} />}
    </StepFrame>
  );
}

/** The question stands in the right column. */
const toKinds = (): void => document.querySelector<HTMLElement>('.adjusters-found select')?.focus();

/** Reserve above the onset, in points of CO2 as the trade gives it. */
function ReserveStepper() {
  const { visit, stage, stageIndex, may, put } = useVisit();
  const value = stage.reserveCo2Points ?? FIRST_RESERVE_CO2_POINTS;
  const set = (next: number): void => {
    const kept = Math.min(MOST_RESERVE_CO2_POINTS, Math.max(LEAST_RESERVE_CO2_POINTS, Math.round(next * 4) / 4));
    put({ path: ['stages', stageIndex, 'reserveCo2Points'], after: kept });
  };
  const choice = reserveChoiceFor(value);
  const fuel = fuelOf(visit);
  return (
    <div className="reserve">
      <div className="reserve-words">
        <b>{words.reserveTitle}</b>
        <span className="second small" title={choice?.source}>
          {choice === undefined ? '' : words.reserveSource(words.reserveSources[choice.key])}
        </span>
        {fuel !== undefined && (
          <span className="second small" title={co2MaxText(fuel)}>
            <ChannelName
              text={words.reserveCo2Max(formatNumber(fuel.stoichiometry.co2MaxPercent, 1), fuel.co2MaxSetPercent !== undefined)}
            />
          </span>
        )}
      </div>
      <div className="stepper small-stepper" role="group" aria-label={words.reserveTitle}>
        <button
          type="button"
          aria-label={words.less}
          disabled={!may || value <= LEAST_RESERVE_CO2_POINTS}
          onClick={() => set(value - 0.25)}
        >
          −
        </button>
        <div className="stepper-value" role="status">
          <b>{formatNumber(value, 2).replace(/0$/, '')}</b>
          <span>
            <ChannelName text={words.reserveUnit} />
          </span>
        </div>
        <button type="button" aria-label={words.more} disabled={!may || value >= MOST_RESERVE_CO2_POINTS} onClick={() => set(value + 0.25)}>
          +
        </button>
      </div>
    </div>
  );
}
