import { common } from '../../../shared/words/common.ts';
import { source } from '../../../shared/words/source.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { AlertBand } from '../../components/alerts/AlertBand.tsx';
import { BrokenSlot } from '../../components/Signs.tsx';
import { useKey } from '../../keys/use-key.ts';
import { alertsOf } from '../../state/top-alert.ts';
import { VisitOffer } from '../visit/VisitOffer.tsx';
import { Cautions } from './cautions/Cautions.tsx';
import { SourceKinds } from './SourceKinds.tsx';
import { summaryLabel } from './forms/summary-label.ts';
import { formatClock } from '../../../shared/format/duration.ts';
import { formatNumber } from '../../../shared/format/quantity.ts';
import './source.css';
import './StartScreen.css';

/** No run yet: one question, four answers, and the cautions. */
export function StartScreen() {
  const { actions } = useParts();
  const panelOpened = useApp((state) => state.panelOpened);
  const workspaceChosen = useApp((state) => state.workspaceChosen);
  const interrupted = useApp((state) => state.interrupted)[0];
  const interruptedLeft = useApp((state) => state.interruptedLeft);
  const standing = useApp((state) => state.standing);
  const answer = useApp((state) => state.answer);
  const alerts = alertsOf(undefined, { standing, answer });
  useKey('keys', () => panelOpened('port-help'));
  useKey('settings', () => panelOpened('settings'));
  return (
    <>
      <div className="start" data-region="main" role="group" aria-label={source.startTitle}>
        <section className="start-main">
          <div className="start-head">
            <BrokenSlot large />
            <div>
              <h1>{source.startTitle}</h1>
              <p className="second">{source.startAbout}</p>
            </div>
          </div>
          {interrupted !== undefined && (
            <div className="say notice offer" role="status">
              <div className="grow">
                <b>{source.interruptedTitle(formatClock(interrupted.header.startWallMs, interrupted.header.zoneMinutes, 'minutes'))}</b>
                <div>{source.interruptedAbout(formatNumber(interrupted.lines, 0), summaryLabel(interrupted))}</div>
              </div>
              <div className="buttons">
                <button type="button" className="button" onClick={() => void actions.goOn(interrupted.runId)}>
                  {source.goOn}
                </button>
                <button type="button" className="button" onClick={() => interruptedLeft(interrupted.runId)}>
                  {source.leaveIt}
                </button>
              </div>
            </div>
          )}
          <VisitOffer />
          <SourceKinds chosen={undefined} choose={(kind) => panelOpened('source', kind)} />
          <div className="start-foot">
            <button type="button" className="button" onClick={() => workspaceChosen('records')}>
              {source.openVisit} <kbd aria-hidden="true">Ctrl 4</kbd>
            </button>
            <button type="button" className="button" onClick={() => panelOpened('port-help')}>
              {source.portNotShowing} <kbd aria-hidden="true">?</kbd>
            </button>
            <button type="button" className="button quiet" onClick={() => panelOpened('settings')}>
              {common.settings} <kbd aria-hidden="true">G</kbd>
            </button>
          </div>
        </section>
        <Cautions />
      </div>
      {alerts[0] !== undefined && <AlertBand alert={alerts[0]} others={alerts.length - 1} />}
    </>
  );
}
