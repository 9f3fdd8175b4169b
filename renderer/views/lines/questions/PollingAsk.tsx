/** Nothing is sent to an instrument before the person has seen the bytes and agreed. */
import type { RunInfo } from '../../../../shared/ipc/run-info.ts';
import { recipeWords } from '../../../../shared/words/lines/lines.ts';
import { useParts } from '../../../app-parts.ts';
import { NoticeSign } from '../../../components/Signs.tsx';
import { sourceLabel } from '../../../state/source-state.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import { shownBytes } from '../../../../shared/lines/shown-bytes.ts';
import { whenDefined } from '../../../../shared/defined.ts';
import '../lines.css';

const words = recipeWords.polling;

export function PollingAsk({
  info,
  isDeclined,
  decline,
  mayAct,
}: {
  info: RunInfo;
  isDeclined: boolean;
  decline: (no: boolean) => void;
  mayAct: boolean;
}) {
  const { actions, store } = useParts();
  const { polling, runId } = info;
  if (polling === undefined) return null;
  const allow = async (allowed: boolean): Promise<void> => {
    const answer = await actions.ask('run.allowPolling', { runId, allowed, command: polling.command });
    if (answer !== undefined) store.getState().runChanged(answer);
  };
  if (!polling.allowed) {
    if (isDeclined) {
      return (
        <div className="say">
          <span className="grow second">{words.ask}</span>
          <button type="button" className="button" disabled={!mayAct} onClick={() => decline(false)}>
            {recipeWords.command}
          </button>
        </div>
      );
    }
    return (
      <section className="say notice" aria-label={words.ask}>
        <NoticeSign />
        <div className="grow">
          <b>{words.ask}</b>
          <div>{words.bytes(sourceLabel(info))}</div>
          <code className="poll-bytes">{shownBytes(polling.command)}</code>
          <div className="second">{words.every(formatNumber(polling.intervalMs / 1000, polling.intervalMs % 1000 === 0 ? 0 : 1))}</div>
          <div className="second">{words.caution}</div>
          <div className="choice-row above-2">
            <button type="button" className="button" disabled={!mayAct} onClick={() => void allow(true)}>
              {words.yes}
            </button>
            <button type="button" className="button" onClick={() => decline(true)}>
              {words.no}
            </button>
          </div>
        </div>
      </section>
    );
  }
  const facts = [
    words.going(formatNumber(polling.answered, 0), formatNumber(polling.sent, 0)),
    ...whenDefined(polling.usualAnswerMs, (usualAnswerMs) => words.usual(formatNumber(usualAnswerMs, 0))),
    ...(polling.late === 0 ? [] : [words.late(polling.late)]),
    ...(polling.double === 0 ? [] : [words.double(polling.double)]),
    ...(polling.timedOut === 0 ? [] : [words.timedOut(polling.timedOut)]),
  ];
  return (
    <section className={`say${polling.isBackingOff ? ' notice' : ''}`} aria-label={words.ask}>
      {polling.isBackingOff && <NoticeSign />}
      <div className="grow">
        <div>{facts.join(' · ')}</div>
        {polling.isBackingOff && <div>{words.backingOff}</div>}
      </div>
      <button type="button" className="button" disabled={!mayAct} onClick={() => void allow(false)}>
        {words.stop}
      </button>
    </section>
  );
}
