import { common } from '../../../shared/words/common.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { ChannelName } from '../ChannelName.tsx';
import { Key } from '../Key.tsx';
import { AlarmSign, NoticeSign } from '../Signs.tsx';
import type { Alert } from '../../state/alert.ts';

/** Notice or alarm, full width above the mark bar: what to do, then why. Others are counted. */
export function AlertBand({ alert, others }: { alert: Alert; others: number }) {
  const { actions } = useParts();
  const answerSeen = useApp((state) => state.answerSeen);
  const panelOpened = useApp((state) => state.panelOpened);
  const dismiss = (): void => {
    if (alert.dismiss === 'answer') answerSeen();
    else void actions.ask('problem.dismiss', { key: alert.key });
  };
  const isAlarm = alert.kind === 'alarm';
  return (
    <div className={`say alert-band ${isAlarm ? 'alarm' : 'notice notice-band'}`} role={isAlarm ? 'alert' : 'status'} data-region="alert">
      {isAlarm ? <AlarmSign /> : <NoticeSign />}
      <div className="grow">
        <div className="strong">
          <ChannelName text={alert.strong} />
        </div>
        <div>
          <ChannelName text={alert.rest} />
        </div>
      </div>
      {alert.opensLines !== undefined && (
        <button type="button" className="button" onClick={() => panelOpened('lines')}>
          {alert.opensLines} <Key action="lines" />
        </button>
      )}
      {alert.dismiss !== undefined && (
        <button type="button" className="button" onClick={dismiss}>
          {common.close}
        </button>
      )}
      {others > 0 && <span className="second">{common.more(others)}</span>}
    </div>
  );
}
