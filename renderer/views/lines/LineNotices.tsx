/** What is odd about the lines, each with a next step; and how far the usual speeds have been tried. */
import type { LineNotice } from '../../../shared/measurement/line-notice.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import { recipeWords } from '../../../shared/words/lines/lines.ts';
import { quantities } from '../../../shared/units/quantities.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { NoteSign, NoticeSign } from '../../components/Signs.tsx';
import { selectRun } from '../../state/selectors.ts';
import { formatDuration } from '../../../shared/format/duration.ts';
import { formatNumber } from '../../../shared/format/quantity.ts';

const words = recipeWords.notices;

type Props = { info: RunInfo; mayAct: boolean; meansNoValue: (notice: Extract<LineNotice, { kind: 'sentinel' }>) => void };

export function LineNotices({ info, mayAct, meansNoValue }: Props) {
  const { actions, store } = useParts();
  const { runId, notices = [], tryingSpeeds } = info;
  const tell = (answer: RunInfo | undefined): void => {
    if (answer !== undefined) store.getState().runChanged(answer);
  };
  const trySpeeds = async (): Promise<void> => tell(await actions.ask('run.trySpeeds', { runId }));
  const waveOff = async (notice: LineNotice['kind']): Promise<void> => tell(await actions.ask('run.waveOff', { runId, notice }));
  if (tryingSpeeds !== undefined)
    return (
      <div className="say" role="status">
        <NoteSign />
        {recipeWords.trying(formatNumber(tryingSpeeds.baud, 0), tryingSpeeds.tried, tryingSpeeds.of)}
      </div>
    );
  return (
    <>
      {notices.map((notice) => (
        <section key={notice.kind} className="say notice" role="status">
          <NoticeSign />
          <div className="grow">
            <NoticeText notice={notice} />
          </div>
          {notice.kind === 'wrong-speed' && (
            <button type="button" className="button" disabled={!mayAct} onClick={() => void trySpeeds()}>
              {words['wrong-speed'].action}
            </button>
          )}
          {notice.kind === 'sentinel' && (
            <button
              type="button"
              className="button"
              disabled={!mayAct}
              onClick={() => {
                meansNoValue(notice);
                void waveOff('sentinel');
              }}
            >
              {words.sentinel.action}
            </button>
          )}
          {notice.kind !== 'wrong-speed' && (
            <button type="button" className="button" disabled={!mayAct} onClick={() => void waveOff(notice.kind)}>
              {words.waveOff}
            </button>
          )}
        </section>
      ))}
    </>
  );
}

function NoticeText({ notice }: { notice: LineNotice }) {
  // to the second: the sentence need not be written ten times as often
  const nowMs = useApp((state) => Math.floor((selectRun(state)?.face.timeMs ?? 0) / 1000) * 1000);
  switch (notice.kind) {
    case 'wrong-speed':
      return (
        <>
          <b>{words['wrong-speed'].title(notice.baud)}</b>
          <div className="second">{words['wrong-speed'].why(formatNumber(notice.share * 100, 0))}</div>
        </>
      );
    case 'stale':
      return (
        <>
          <b>{words.stale.title}</b>
          <div className="second">{words.stale.why(formatDuration(nowMs - notice.sinceMs))}</div>
        </>
      );
    case 'reads-nothing':
      return (
        <>
          <b>{words['reads-nothing'].title(notice.lines)}</b>
          <div className="second">{words['reads-nothing'].why}</div>
        </>
      );
    case 'contradiction':
      return (
        <>
          <b>
            <ChannelName text={words.contradiction.title[notice.what]} />
          </b>
          <div className="second">{words.contradiction.why}</div>
        </>
      );
    case 'clock-set':
      return (
        <>
          <b>{words['clock-set'].title(formatDuration(Math.abs(notice.byMs)), notice.byMs > 0)}</b>
          <div className="second">{words['clock-set'].why}</div>
        </>
      );
    case 'sentinel':
      return (
        <>
          <b>
            <ChannelName text={words.sentinel.title(quantities[notice.channel].label, String(notice.value))} />
          </b>
          <div className="second">{words.sentinel.why}</div>
        </>
      );
  }
}
