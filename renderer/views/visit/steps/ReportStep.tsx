import { useRef, useState } from 'react';
import { isLeftOff, judgeVisit } from '../../../../shared/tuning/advice/safe.ts';
import { safetyState, testsOfVisit } from '../../../../shared/tuning/safety/safety-plan.ts';
import { figureOf } from '../../../../shared/tuning/trial/trial-figures.ts';
import { isFinished, isWatermarked } from '../../../../shared/tuning/visit/visit-marks.ts';
import { stepWords } from '../../../../shared/words/visit/steps.ts';
import { leftOffWords, safeHeadline } from '../../../../shared/words/tune/advice.ts';
import { reportScreen as words } from '../../../../shared/words/visit/screens/report.ts';
import { safetyScreen, safetyTitle } from '../../../../shared/words/visit/screens/safety.ts';
import { visitWords } from '../../../../shared/words/visit/visit-thread.ts';
import { useParts, useApp } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Dialog } from '../../../components/Dialog.tsx';
import { Field } from '../../../components/Field.tsx';
import { formatDay } from '../../../../shared/format/date.ts';
import { settingWords } from '../../tune/setting-words.ts';
import { ReportView } from '../../report/ReportView.tsx';
import { workWords } from '../../../../shared/words/tune/trade.ts';
import { BypassList } from '../safety/BypassList.tsx';
import { reportDeedOf } from './report-deed.ts';
import { WorkDone } from '../WorkDone.tsx';
import { MissingList, StepFrame, type MainAct } from './frame/StepFrame.tsx';
import { LeftOff } from '../WayOutDialogs.tsx';
import { missingText, numberOf } from '../visit-facts.ts';
import { TuneUpScore } from '../TuneUpScore.tsx';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import { useSteps, useVisit } from '../use-visit.ts';
import { smokeText } from '../curve/TrialTable.tsx';
import { formatClock } from '../../../../shared/format/duration.ts';
import { formatWithUnit } from '../../../../shared/format/quantity.ts';
import '../visit.css';
import './steps.css';

/** The visit in writing: looked at, then signed, or closed as training. */
export function ReportStep() {
  const { visits } = useParts();
  const { visit, may, formats } = useVisit();
  const technician = visit.people.find(({ role }) => role === 'technician')?.name ?? '';
  const [name, setName] = useState(technician);
  const training = isWatermarked(visit);
  const done = isFinished(visit);
  const appliance = useApp((state) => state.appliance?.appliance);
  const [asks, setAsks] = useState<'left-off' | 'bypass'>();
  const [shows, setShows] = useState<'work' | 'pages'>('pages');
  const certificateUntil = useApp((state) => state.certificateUntil);
  const judgement = judgeVisit(visit, { appliance, certificateUntil });
  const isUnsafe = judgement.safe === 'no' && !isLeftOff(visit);
  const time = (wallMs: number): string => `${formatDay(wallMs, visit.zoneMinutes)} ${formatClock(wallMs, visit.zoneMinutes, 'minutes')}`;
  const { does, says, text } = reportDeedOf(visit, isUnsafe, name, time);
  const nameField = useRef<HTMLDivElement>(null);
  const act: Record<typeof does, () => void> = {
    leave: () => void visits.leave(),
    bypass: () => setAsks('bypass'),
    close: () => void visits.close(),
    'left-off': () => setAsks('left-off'),
    name: () => nameField.current?.querySelector('input')?.focus(),
    sign: () => void visits.sign(name.trim()),
  };
  const main: MainAct = { text, run: act[does], blocked: !may && does !== 'leave' };
  const safe = safeHeadline(judgement, formats, safetyTitle, visit.stages.length);
  return (
    <StepFrame
      step="report"
      main={main}
      says={<b>{says}</b>}
      others={
        <>
          <button type="button" className="button" onClick={() => setShows(shows === 'work' ? 'pages' : 'work')}>
            {shows === 'work' ? workWords.pages : workWords.open}
          </button>
          {!done && (
            <button type="button" className="button" onClick={() => void visits.leave()}>
              {visitWords.leave}
            </button>
          )}
        </>
      }
      right={
        <>
          {safe !== undefined && (
            <section aria-label={leftOffWords.title} className={judgement.safe === 'no' ? 'alarm-text' : undefined}>
              <p>
                <b>{safe}</b>
              </p>
              {visit.notLeftRunning !== undefined && <p>{leftOffWords.said(visit.notLeftRunning.ownerTold)}</p>}
            </section>
          )}
          {visit.kind === 'training' && <TuneUpScore />}
          <MissingList step="report" />
          {!done && <Gaps />}
          <Summary formats={formats} />
          {!done && !training && (
            <div ref={nameField}>
              <Field label={words.signName} value={name} change={setName} numeric={false} disabled={!may} />
            </div>
          )}
          {visit.signature !== undefined && (
            <section aria-label={words.hash}>
              <h2>{words.hash}</h2>
              <p className="mono hash">{visit.signature.hash}</p>
            </section>
          )}
          {!done && <p className="second">{training ? visitWords.watermark : words.notSigned}</p>}
        </>
      }
    >
      {asks === 'left-off' && <LeftOff close={() => setAsks(undefined)} />}
      {asks === 'bypass' && (
        <Dialog title={safetyScreen.bypasses} close={() => setAsks(undefined)}>
          <BypassList offered />
        </Dialog>
      )}
      {shows === 'work' ? (
        <WorkDone />
      ) : (
        <ReportView
          visitId={visit.id}
          version={done ? 'done' : 'open'}
          startPaper={visit.unitPreset === 'us' ? 'letter' : 'a4'}
          before={visits.flush}
        />
      )}
    </StepFrame>
  );
}

/** What is missing in the other steps: each leads to its step. */
function Gaps() {
  const steps = useSteps();
  const { visit } = useVisit();
  const stepChosen = useApp((state) => state.stepChosen);
  const gaps = steps
    .filter(({ id }) => id !== 'report')
    .flatMap(({ id, missing }) => missing.map((one) => ({ id, text: missingText(one, visit.stages.length) })));
  if (gaps.length === 0) return null;
  return (
    <section className="missing gaps" aria-label={words.gaps}>
      <h2>{words.gaps}</h2>
      <ul>
        {gaps.map(({ id, text }) => (
          <li key={`${id} ${text}`}>
            <button type="button" onClick={() => stepChosen(id)}>
              <VerdictSign verdict="open" />
              <span className="grow">
                <ChannelName text={text} />
              </span>
              <span className="second">{stepWords[id].name}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Summary({ formats }: { formats: ReturnType<typeof useVisit>['formats'] }) {
  const { visit, units } = useVisit();
  const appliance = useApp((state) => state.appliance?.appliance);
  const needed = testsOfVisit(visit, appliance);
  const state = safetyState(visit.safety, visit.bypasses);
  const open = needed.filter(({ id }) => state.open.includes(id)).length;
  const line = (id: string | undefined): React.ReactNode => {
    const trial = visit.trials.find((one) => one.id === id);
    if (trial === undefined) return '–';
    const [o2, co] = [figureOf(trial, 'o2'), figureOf(trial, 'co')];
    return (
      <>
        {visitWords.trial(numberOf(visit, trial.id))}, {settingWords(trial.setting)}
        <br />
        <span className="second">
          O<sub>2</sub> {o2 === undefined ? '–' : formatWithUnit('o2', o2.mean, units)} · CO {co === undefined ? '–' : formats.ppm(co.mean)}{' '}
          · smoke {smokeText(trial)}
        </span>
      </>
    );
  };
  return (
    <section aria-label={words.summary}>
      <h2>{words.summary}</h2>
      <dl className="summary">
        {visit.stages.map((stage) => (
          <div key={stage.name}>
            {visit.stages.length > 1 && <h3>{visitWords.stage(stage.name)}</h3>}
            <dt>{words.found}</dt>
            <dd>
              {stage.asFoundTrialId === undefined && stage.asFoundSkippedReason !== undefined
                ? stage.asFoundSkippedReason
                : line(stage.asFoundTrialId)}
            </dd>
            <dt>{words.left}</dt>
            <dd>{line(stage.asLeftTrialId)}</dd>
          </div>
        ))}
        <div>
          <dt>{words.card}</dt>
          <dd>
            <ChannelName text={visit.targetCard?.name ?? '–'} />
          </dd>
          <dt>{words.safety}</dt>
          <dd>{words.safetyCount(state.done.length, state.failed.length, open)}</dd>
        </div>
      </dl>
    </section>
  );
}
