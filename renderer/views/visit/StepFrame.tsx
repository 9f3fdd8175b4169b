/** What every step shares: thread above, work and right column between, one sentence and one main button at the bottom right. */
import { useState, type ReactNode } from 'react';
import { common } from '../../../shared/words/common.ts';
import { stepAfter, type StepId } from '../../../shared/tuning/step-names.ts';
import { unacknowledged } from '../../../shared/tuning/cautions.ts';
import { cautionWords, stepWords } from '../../../shared/words/tune.ts';
import { visitWords } from '../../../shared/words/visit.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { AlertBand } from '../../components/AlertBand.tsx';
import { useAlerts } from '../../components/use-alerts.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { Dialog } from '../../components/Dialog.tsx';
import { Key } from '../../components/Key.tsx';
import { useRest } from '../../components/use-rest.ts';
import { useKey } from '../../keys/use-key.ts';
import { selectRun } from '../../state/selectors.ts';
import { StepThread, VisitName } from './StepThread.tsx';
import { VerdictSign } from '../../../shared/report/drawings/VerdictSign.tsx';
import { missingText } from './visit-facts.ts';
import { useSteps, useVisit, useWayOut } from './use-visit.ts';
import { OilCause, RoomAgain } from './WayOutDialogs.tsx';

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
  const next = useNext(step);
  const out = useWayOut(step);
  const [open, setOpen] = useState<'room-co' | 'oil'>();
  const act: MainAct | undefined =
    main ?? (next === undefined ? undefined : { text: visitWords.onTo(stepWords[next].name), run: () => stepChosen(next) });
  return (
    <div className="visit">
      <ThreadRow />
      <div className="visit-main" data-region="main" role="group" aria-label={stepWords[step].name}>
        <div className="visit-work">{children}</div>
        {right !== undefined && (
          <aside className="visit-right" data-region="right" tabIndex={0}>
            {right}
          </aside>
        )}
      </div>
      <StepAlert />
      <footer className="bar visit-bar" data-region="bar" aria-label={common.region.bar}>
        {(out === undefined ? bar : undefined) ?? (
          <p className="says">
            {out !== undefined ? (
              <b>{out.says}</b>
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
      {step !== 'start' && <StepCautions step={step} />}
    </div>
  );
}

/** Keys that mean the same on every screen of the visit. */
function useViewKeys(): void {
  const panelOpened = useApp((state) => state.panelOpened);
  const farTurned = useApp((state) => state.farTurned);
  const hasRun = useApp((state) => selectRun(state) !== undefined);
  useKey('far', farTurned, hasRun);
  useKey('settings', () => panelOpened('settings'));
  useKey('keys', () => panelOpened('keys'));
}

function MainStepButton({ act }: { act: MainAct }) {
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

/** Each caution once, at the step that needs it. */
export function StepCautions({ step }: { step: StepId }) {
  const { visits } = useParts();
  const { visit, may, edit } = useVisit();
  const keys = unacknowledged(step, visit.cautions);
  if (keys.length === 0 || !may) return null;
  const read = (): void =>
    void edit(
      ...keys.map((key, index) => ({ path: ['cautions', visit.cautions.length + index], after: { key, wallMs: visits.nowWallMs() } })),
    );
  return (
    <Dialog
      title={visitWords.cautionsTitle(stepWords[step].name)}
      submit={read}
      foot={
        <>
          <span className="grow" />
          <button type="submit" className="button main" data-first="">
            {visitWords.cautionsRead} <kbd aria-hidden="true">Enter</kbd>
          </button>
        </>
      }
    >
      <ul className="cautions-list">
        {keys.map((key) => (
          <li key={key}>{cautionWords[key]}</li>
        ))}
      </ul>
    </Dialog>
  );
}

/** The plain way on, for screens whose main button is their own. */
export function MainStepNext({ step }: { step: StepId }) {
  const stepChosen = useApp((state) => state.stepChosen);
  const next = useNext(step);
  return next === undefined ? null : <MainStepButton act={{ text: visitWords.onTo(stepWords[next].name), run: () => stepChosen(next) }} />;
}
