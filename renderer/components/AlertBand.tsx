import type { ReactNode } from 'react';
import { common } from '../../shared/words/common.ts';
import { useApp, useParts } from '../app-parts.ts';
import { useDigits } from '../keys/use-key.ts';
import { selectInfo } from '../state/selectors.ts';
import type { Alert } from '../state/top-alert.ts';
import { ChannelName } from './ChannelName.tsx';
import { AlarmSign, NoticeSign } from './Signs.tsx';

/** Notice or alarm, full width above the mark bar: what to do, then why. Others are counted. */
export function AlertBand({ alert, others }: { alert: Alert; others: number }) {
  const { actions } = useParts();
  const answerSeen = useApp((state) => state.answerSeen);
  const runId = useApp((state) => state.runId);
  const dismiss = (): void => {
    if (alert.dismiss === 'answer') answerSeen();
    else void actions.ask('problem.dismiss', { key: alert.key });
  };
  const answerQuestion = (answer: 0 | 1): void => {
    if (runId !== undefined) void actions.ask('run.answerQuestion', { runId, answer });
  };
  const isLearning = useApp((state) => selectInfo(state)?.phase === 'learning');
  // while nothing is understood, digits answer; later they type an adjuster's position
  const asksByKey = alert.question !== undefined && isLearning;
  useDigits((digit) => {
    if (digit === '1' || digit === '2') answerQuestion(digit === '1' ? 0 : 1);
  }, asksByKey);
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
      {alert.question?.answers.map((text, index): ReactNode => (
        <button key={text} type="button" className="button" onClick={() => answerQuestion(index === 0 ? 0 : 1)}>
          {text} {asksByKey && <kbd aria-hidden="true">{index + 1}</kbd>}
        </button>
      ))}
      {alert.dismiss !== undefined && (
        <button type="button" className="button" onClick={dismiss}>
          {common.close}
        </button>
      )}
      {others > 0 && <span className="second">{common.more(others)}</span>}
    </div>
  );
}
