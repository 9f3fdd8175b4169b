import { useEffect, useState } from 'react';
import { formatDay } from '../../../../shared/format/date.ts';
import type { StoredVisit } from '../../../../shared/ipc/store-commands.ts';
import { visitFigures, type VisitFigures } from '../../../../shared/report/comparison/compare-visits.ts';
import { judgeVisit } from '../../../../shared/tuning/advice/safe.ts';
import { withCorrections } from '../../../../shared/tuning/visit/visit.ts';
import { leftOffWords, safeHeadline } from '../../../../shared/words/tune/advice.ts';
import { common } from '../../../../shared/words/common.ts';
import { formatsFor } from '../../../../shared/words/formats.ts';
import { safetyTitle } from '../../../../shared/words/visit/screens/safety.ts';
import { records as words, reportView } from '../../../../shared/words/records/records.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { saveDownload } from '../../../backend/save-download.ts';
import { BrokenSlot, NoticeSign } from '../../../components/Signs.tsx';
import { ReportView } from '../../report/ReportView.tsx';
import { Audit } from './Audit.tsx';
import { Comparison } from './Comparison.tsx';
import { CorrectionDialog } from './CorrectionDialog.tsx';
import { History } from '../History.tsx';
import { Sure } from '../Sure.tsx';
import { useAnswer, useAnswerOrProblem } from '../../../queries/use-answer.ts';
import { problemLine } from '../../../../shared/words/problems.ts';
import '../records.css';

const MOST_YEARS = 16;

export function VisitPage({ visitId, gone }: { visitId: string | undefined; gone: () => void }) {
  const answer = useAnswerOrProblem('visit.get', visitId === undefined ? undefined : { id: visitId });
  // the list chooses its first by itself: without one it says what to do
  if (visitId === undefined) return <h1 className="hidden-text">{words.sections.visits}</h1>;
  if (answer === undefined) return <div className="loading">{common.loading}</div>;
  if ('problem' in answer)
    return (
      <div className="report-empty" role="status">
        <BrokenSlot large />
        <div>
          <h1>{words.unreadable}</h1>
          <p className="second">{words.unreadableAbout}</p>
          <p className="second">{problemLine({ code: answer.problem.code })}</p>
        </div>
      </div>
    );
  return <OneVisit key={visitId} stored={answer.value} gone={gone} />;
}

function OneVisit({ stored, gone }: { stored: StoredVisit; gone: () => void }) {
  const { actions, visits, store } = useParts();
  const [asReport, setAsReport] = useState(false);
  const [asks, setAsks] = useState(false);
  const [corrects, setCorrects] = useState(false);
  const mayChange = useApp((state) => state.role !== 'viewer');
  const { visit } = stored;
  const unit = useAnswer('appliance.get', visit.applianceId === undefined ? undefined : { id: visit.applianceId });
  const others = useFigures(
    unit === undefined || unit.stored.id !== visit.applianceId ? [visit.id] : unit.visits.slice(0, MOST_YEARS).map(({ id }) => id),
    visit.id,
  );
  const mine = others.find((one) => one.visit.id === visit.id) ?? visitFigures(withCorrections(visit));
  const earlier = others
    .filter((one) => one.visit.startedWallMs < visit.startedWallMs)
    .sort((one, other) => other.visit.startedWallMs - one.visit.startedWallMs);
  const [withId, setWithId] = useState<string>();
  const a = others.find((one) => one.visit.id === withId) ?? earlier[0];
  const open = async (): Promise<void> => {
    const opened = await visits.open(visit.id);
    // who has gone elsewhere meanwhile stays there
    if (opened && store.getState().workspace === 'records') store.getState().workspaceChosen('tune');
  };
  const exportIt = async (): Promise<void> => {
    const made = await actions.ask('visit.export', { ids: [visit.id] });
    if (made !== undefined) saveDownload(made.download, made.fileName);
  };
  const remove = async (): Promise<void> => {
    setAsks(false);
    if ((await actions.ask('visit.remove', { id: visit.id })) !== undefined) gone();
  };
  const safe = safeHeadline(
    judgeVisit(withCorrections(visit), { appliance: unit?.stored.appliance, certificateUntil: stored.certificateUntil }),
    formatsFor(visit.unitPreset),
    safetyTitle,
    visit.stages.length,
  );
  const name = unit !== undefined && unit.stored.id === visit.applianceId ? unit.stored.appliance.name : words.withoutAppliance;
  if (asReport)
    return (
      <>
        <div className="records-title">
          <h1>{reportView.title(visit.number)}</h1>
          <span className="grow" />
          <button type="button" className="button" onClick={() => setAsReport(false)}>
            {words.actions.back}
          </button>
        </div>
        <ReportView visitId={visit.id} version={String(stored.revision)} />
      </>
    );
  return (
    <>
      <div className="records-title">
        <div className="grow">
          <h1>{name}</h1>
          <span className="second">
            {[
              words.visit(visit.number),
              formatDay(visit.startedWallMs, visit.zoneMinutes),
              visit.fuelId === undefined ? undefined : common.fuels[visit.fuelId],
            ]
              .filter(Boolean)
              .join(' · ')}
          </span>
          {stored.altered === true && (
            <p role="alert">
              <NoticeSign /> {problemLine({ code: 'visit-altered' })}
            </p>
          )}
          {safe !== undefined && visit.kind !== 'training' && (
            <p>
              <b>{safe}</b> {visit.notLeftRunning !== undefined && leftOffWords.said(visit.notLeftRunning.ownerTold)}
            </p>
          )}
        </div>
        <button type="button" className="button" onClick={() => void open()}>
          {words.actions.open}
        </button>
        <button type="button" className="button" onClick={() => setAsReport(true)}>
          {words.actions.report}
        </button>
        <button type="button" className="button" onClick={() => void exportIt()}>
          {words.actions.export}
        </button>
        {visit.signature !== undefined && (
          <button type="button" className="button" disabled={!mayChange} onClick={() => setCorrects(true)}>
            {words.correct.action}
          </button>
        )}
      </div>
      <Comparison a={a} b={mine} others={others} compareWith={setWithId} />
      <History visits={others} chosen={visit.id} />
      <Audit visit={visit} applianceName={(id) => (id === visit.applianceId ? unit?.stored.appliance.name : undefined)} />
      {/* far from what takes the visit along */}
      {visit.signature === undefined && (
        <div className="records-remove">
          <p className="second grow">{words.removeVisitAbout}</p>
          <button type="button" className="button" disabled={!mayChange} onClick={() => setAsks(true)}>
            {words.actions.remove}
          </button>
        </div>
      )}
      {corrects && <CorrectionDialog visit={visit} close={() => setCorrects(false)} />}
      {asks && (
        <Sure
          title={words.removeVisit(visit.number)}
          about={words.removeVisitAbout}
          yes={words.yesRemove}
          run={() => remove()}
          close={() => setAsks(false)}
        />
      )}
    </>
  );
}

/** Figures of these visits, read once each; the list may grow while they come. */
export function useFigures(ids: readonly string[], always: string | undefined): readonly VisitFigures[] {
  const { client } = useParts();
  const [figures, setFigures] = useState<readonly VisitFigures[]>([]);
  const key = [...new Set(always === undefined ? ids : [...ids, always])].join(' ');
  useEffect(() => {
    let isHere = true;
    void Promise.all(
      key
        .split(' ')
        .filter(Boolean)
        .map((id) => client.call('visit.get', { id })),
    ).then((answers) => {
      if (isHere) setFigures(answers.flatMap((answer) => (answer.ok ? [visitFigures(withCorrections(answer.value.visit))] : [])));
    });
    const stop = client.on('visit.changed', ({ visit }) => {
      const changed = visitFigures(withCorrections(visit));
      setFigures((now) => now.map((one) => (one.visit.id === visit.id ? changed : one)));
    });
    return () => {
      isHere = false;
      stop();
    };
  }, [client, key]);
  return figures;
}
