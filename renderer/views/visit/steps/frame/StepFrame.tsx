/** What every step shares: thread above, work and right column between, one sentence and one main button at the bottom right. */
import { useEffect, useState, type ReactNode } from 'react';
import { common } from '../../../../../shared/words/common.ts';
import { stepAfter, type StepId } from '../../../../../shared/tuning/visit/step-names.ts';
import { unacknowledged, type CautionKey } from '../../../../../shared/tuning/advice/cautions.ts';
import { cautionWords } from '../../../../../shared/words/visit/cautions.ts';
import { stepWords } from '../../../../../shared/words/visit/steps.ts';
import { visitWords } from '../../../../../shared/words/visit/visit-thread.ts';
import { useApp, useParts } from '../../../../app-parts.ts';
import { AlertBand } from '../../../../components/alerts/AlertBand.tsx';
import { useAlerts } from '../../../../components/alerts/use-alerts.ts';
import { ChannelName } from '../../../../components/ChannelName.tsx';
import { Key } from '../../../../components/Key.tsx';
import { NoticeSign } from '../../../../components/Signs.tsx';
import { useRest } from '../../../../components/use-rest.ts';
import { useWrongFields, WrongFields } from '../../../../fields/wrong-fields.ts';
import { useKey } from '../../../../keys/use-key.ts';
import { selectIsRunning, selectRun } from '../../../../state/selectors.ts';
import { useProbeGate } from '../../use-probe-gate.ts';
import { StepThread, VisitName } from './StepThread.tsx';
import { VerdictSign } from '../../../../../shared/report/drawings/VerdictSign.tsx';
import { missingText } from '../../visit-facts.ts';
import { useSteps, useVisit, useWayOut } from '../../use-visit.ts';
import { OilCause, RoomAgain } from '../../WayOutDialogs.tsx';
import '../../visit.css';
import '../SafetyStep.css';
import './StepFrame.css';
import './StepThread.css';

export type MainAct = { text: ReactNode; run: () => void; blocked?: boolean | undefined; plain?: boolean | undefined };

export const useNext = (step: StepId): StepId | undefined => useApp((state) => stepAfter(state.visit?.job, step));

export function ThreadRow() {
  return (
    <div className="tools thread-row" data-region="tools" role="region" aria-label={visitWords.thread}>
      <StepThread />
      <span className="grow" />
      <VisitName />
    </div>
  );
}

type Props = {
  step: StepId;
  children: ReactNode;
  right?: ReactNode;
  /** what the main button does; otherwise it goes on to the next step */
  main?: MainAct | undefined;
  /** other buttons, left of the main one */
  others?: ReactNode;
  /** the sentence; otherwise the first thing that is missing */
  says?: ReactNode;
  /** stands where the sentence stands, for figures */
  bar?: ReactNode;
  /** its own main button and keys */
  ownMain?: ReactNode;
};

export function StepFrame({ step, children, right, main, others, says, bar, ownMain }: Props) {
  const stepChosen = useApp((state) => state.stepChosen);
  useViewKeys();
  const missing = useMissing(step);
  const wrong = useWrongFields();
  const { next, text, go } = useGoOn(step);
  const out = useWayOut(step);
  const [open, setOpen] = useState<'room-co' | 'oil'>();
  // going on is always possible; while the sentence asks for something here it is not what the sentence says
  const act: MainAct | undefined =
    main ?? (next === undefined ? undefined : { text, run: go, plain: out === undefined && missing.length + wrong.count > 0 });
  return (
    <div className="visit">
      <ThreadRow />
      <div className="visit-main" data-region="main" role="group" aria-label={stepWords[step].name}>
        <WrongFields value={wrong.report}>
          <div className="visit-work">{children}</div>
          {right !== undefined && (
            <aside className="visit-right" data-region="right" tabIndex={0}>
              {right}
            </aside>
          )}
        </WrongFields>
      </div>
      {step !== 'start' && <StepCautions step={step} />}
      <StepAlert />
      <footer className="bar visit-bar" data-region="bar" aria-label={common.region.bar}>
        {(out === undefined ? bar : undefined) ?? (
          <p className="says">
            {out !== undefined ? (
              <b>{out.says}</b>
            ) : wrong.count > 0 ? (
              <b>{visitWords.unreadable(wrong.count)}</b>
            ) : (
              (says ?? (
                <>
                  <b>{missing[0] ?? visitWords.nothingMissing}</b>
                  {missing.length > 1 && <span className="second"> {visitWords.andMore(missing.length - 1)}</span>}
                </>
              ))
            )}
          </p>
        )}
        <span className="grow" />
        {others}
        {out !== undefined ? (
          <MainStepButton act={{ text: out.button, run: () => (out.key === 'flue-co' ? stepChosen('air-curve') : setOpen(out.key)) }} />
        ) : (
          (ownMain ?? (act !== undefined && <MainStepButton act={act} />))
        )}
      </footer>
      {open === 'room-co' && <RoomAgain close={() => setOpen(undefined)} />}
      {open === 'oil' && <OilCause close={() => setOpen(undefined)} />}
    </div>
  );
}

/** Keys that mean the same on every screen of the visit. */
function useViewKeys(): void {
  const panelOpened = useApp((state) => state.panelOpened);
  useKey('settings', () => panelOpened('settings'));
  useKey('keys', () => panelOpened('keys'));
}

export function MainStepButton({ act }: { act: MainAct }) {
  const isResting = useRest(typeof act.text === 'string' ? act.text : '');
  useKey('main', act.run, act.blocked !== true && !isResting);
  return (
    <button
      type="button"
      className={`button main${act.plain === true ? ' by-hand' : ''}`}
      disabled={act.blocked === true}
      aria-disabled={isResting}
      onClick={() => isResting || act.run()}
    >
      {act.text} <Key action="main" />
    </button>
  );
}

/** The same alarms as over the mark bar: they are never behind a screen. */
export function StepAlert() {
  const alerts = useAlerts(useApp(selectRun));
  return alerts[0] === undefined ? null : <AlertBand alert={alerts[0]} others={alerts.length - 1} />;
}

export function useMissing(step: StepId): string[] {
  const steps = useSteps();
  const { visit } = useVisit();
  return (steps.find(({ id }) => id === step)?.missing ?? []).map((one) => missingText(one, visit.stages.length));
}

export function MissingList({ step }: { step: StepId }) {
  const missing = useMissing(step);
  return (
    <section className="missing" aria-label={visitWords.missing}>
      <h2>{missing.length === 0 ? visitWords.nothingMissing : visitWords.missing}</h2>
      {missing.length > 0 && (
        <ul>
          {missing.map((text) => (
            <li key={text}>
              <VerdictSign verdict="open" />
              <span>
                <ChannelName text={text} />
              </span>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

/** The spot before the probe is asked for when the step is come to; its window shows the cautions as well. @returns true while it does */
function useProbeAsked(may: boolean): boolean {
  const { state } = useProbeGate();
  const isRunning = useApp(selectIsRunning);
  const entry = useApp((one) => one.entry);
  const entryOpened = useApp((one) => one.entryOpened);
  const probeAsked = useApp((one) => one.probeAskedFor);
  // asked once at a step, and again after something was changed
  const occasion = useApp((one) => `${one.visit?.id} ${one.visitStep} ${one.visit?.changes.length}`);
  const wasAsked = useApp((one) => one.probeAsked) === occasion;
  const asks = state === 'needed' && isRunning && may && !wasAsked;
  useEffect(() => {
    if (!asks) return;
    probeAsked(occasion);
    entryOpened('probe');
  }, [asks, occasion, probeAsked, entryOpened]);
  return asks || entry === 'probe';
}

/** The cautions of a step that nobody has read yet, and their being read: by their own button, or by going on from the step where they stood. */
export function useCautions(step: StepId): { keys: readonly CautionKey[]; read: () => void } {
  const { visits } = useParts();
  const { visit, may, put } = useVisit();
  const keys = may ? unacknowledged(step, visit.cautions) : [];
  const read = (): void => {
    if (keys.length === 0) return;
    put(...keys.map((key, index) => ({ path: ['cautions', visit.cautions.length + index], after: { key, wallMs: visits.nowWallMs() } })));
  };
  return { keys, read };
}

/** On to the next step: the cautions that stood here were read. */
export function useGoOn(step: StepId): { next: StepId | undefined; text: string; go: () => void } {
  const stepChosen = useApp((state) => state.stepChosen);
  const next = useNext(step);
  const { keys, read } = useCautions(step);
  const name = next === undefined ? '' : stepWords[next].name;
  return {
    next,
    text: keys.length > 0 ? visitWords.readOnTo(name) : visitWords.onTo(name),
    go: () => {
      read();
      if (next !== undefined) stepChosen(next);
    },
  };
}

/** Beside the step that needs them, until they are read. */
export function StepCautions({ step }: { step: StepId }) {
  const { may } = useVisit();
  const { keys, read } = useCautions(step);
  const isAsked = useProbeAsked(may);
  if (isAsked || keys.length === 0) return null;
  return (
    <section className="say notice caution-strip" aria-label={visitWords.cautionsTitle(stepWords[step].name)}>
      <NoticeSign />
      <p className="grow">
        <b>{visitWords.cautionsTitle(stepWords[step].name)}:</b> {keys.map((key) => cautionWords[key]).join(' ')}
      </p>
      <button type="button" className="button" onClick={read}>
        {visitWords.cautionsRead}
      </button>
    </section>
  );
}

/** The plain way on, for screens whose main button is their own. */
export function MainStepNext({ step }: { step: StepId }) {
  const { next, text, go } = useGoOn(step);
  return next === undefined ? null : <MainStepButton act={{ text, run: go }} />;
}
