import { useEffect, useMemo, useRef, useState, useSyncExternalStore } from 'react';
import { lines as words } from '../../../shared/words/source.ts';
import { lineMarks } from '../../../shared/ipc/line-report.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { saveDownload } from '../../backend/save-download.ts';
import { Key } from '../../components/Key.tsx';
import { Panel } from '../../components/Panel.tsx';
import { formatNumber } from '../../format/quantity.ts';
import { useKey } from '../../keys/use-key.ts';
import { recipeWords } from '../../../shared/words/lines.ts';
import { selectMayAct, selectRun } from '../../state/selectors.ts';
import type { RunRecord } from '../../state/run-record.ts';
import { sourceLabel } from '../../state/source-state.ts';
import { LineMarkSign } from './LineMarkSign.tsx';
import { LineRow } from './LineRow.tsx';
import { LineNotices } from './LineNotices.tsx';
import { PollingAsk } from './PollingAsk.tsx';
import { RecipeEditor } from './RecipeEditor.tsx';
import { RoomAirCheck } from './RoomAirCheck.tsx';
import { useRecipeDraft } from './use-recipe-draft.ts';

const SHOWN = 200;

/** The raw lines, as they came, and how each was understood. */
export function LineView() {
  const record = useApp(selectRun);
  const panelOpened = useApp((state) => state.panelOpened);
  if (record !== undefined) return <LinesOf key={record.info.runId} record={record} />;
  return (
    <Panel title={words.title} close={() => panelOpened(undefined)}>
      <p className="second" style={{ padding: 20 }}>
        {words.empty}
      </p>
    </Panel>
  );
}

/** So many of the newest lines are enough to see what their pieces are. */
const TEXTS = 40;

function LinesOf({ record }: { record: RunRecord }) {
  const { actions, client, lines } = useParts();
  const { info, face } = record;
  const { runId } = info;
  const panelOpened = useApp((state) => state.panelOpened);
  const mayAct = useApp(selectMayAct);
  const draft = useRecipeDraft(info);
  const [isOnlyOdd, setOnlyOdd] = useState(false);
  const [isDeclined, setDeclined] = useState(false);
  const [held, setHeld] = useState<ReturnType<typeof lines.lines>>();
  const live = useSyncExternalStore(lines.onChange, lines.lines);
  // held still, the lines read as they were; a changed recipe shows what it would make of the newest ones
  const preview = held === undefined ? draft.preview : undefined;
  const newest = preview?.lines ?? held ?? live;
  const shown = (isOnlyOdd ? newest.filter(({ mark }) => mark === 'rejected') : newest).slice(-SHOWN);
  const sampleTexts = live
    .slice(-TEXTS)
    .map(({ bytes }) => bytes)
    .join('\n');
  // the pieces change with the lines' form, not with every figure
  const texts = useMemo(() => (sampleTexts === '' ? [] : sampleTexts.split('\n')), [sampleTexts]);
  const scroll = useRef<HTMLDivElement>(null);

  useEffect(() => {
    lines.start(runId, []);
    void actions.ask('run.lines', { runId, count: SHOWN, watch: true }).then((answer) => {
      if (answer !== undefined && lines.runId() === runId) lines.start(runId, answer.lines);
    });
    return () => {
      lines.stop();
      void client.call('run.lines', { runId, count: 1, watch: false });
    };
  }, [runId, actions, client, lines]);
  useEffect(() => {
    if (held === undefined && scroll.current !== null) scroll.current.scrollTop = scroll.current.scrollHeight;
  }, [live, held]);
  const isLive = info.phase === 'running' || info.phase === 'learning';
  const turn = (): void => setHeld(held === undefined ? lines.lines() : undefined);
  useKey('mark', turn);

  return (
    <Panel
      title={words.title}
      about={sourceLabel(info)}
      close={() => panelOpened(undefined)}
      tools={
        <>
          <button type="button" className="button" aria-pressed={held !== undefined} onClick={turn}>
            {held === undefined ? words.pause : words.goOn} <Key action="mark" />
          </button>
          <button type="button" className="button" aria-pressed={isOnlyOdd} onClick={() => setOnlyOdd(!isOnlyOdd)}>
            {recipeWords.onlyNotUnderstood}
          </button>
          <button type="button" className="button" onClick={() => void actions.exportRun(info.runId, 'text', saveDownload)}>
            {words.saveText}
          </button>
        </>
      }
    >
      <div className="line-view">
        <section className="line-list" aria-label={words.lines}>
          <div className="line-head">
            <h2 style={{ fontSize: 20 }}>{words.lines}</h2>
            <span>
              <b>{formatNumber(face.counters.understood, 0)}</b> <span className="second">{words.read}</span>
            </span>
            <span>
              <b>{formatNumber(face.counters.rejected, 0)}</b> <span className="second">{words.notUnderstood}</span>
            </span>
            <span>
              <b>{formatNumber(face.counters.ignored, 0)}</b> <span className="second">{words.ignored}</span>
            </span>
            <span className="grow" />
            <span className="second small">
              {held !== undefined ? words.paused : preview !== undefined ? recipeWords.previewOn : words.newest}
            </span>
          </div>
          <div className="line-scroll inset-focus" ref={scroll} tabIndex={0} role="group" aria-label={words.lines}>
            {shown.length === 0 && (
              <p className="second" style={{ fontFamily: 'var(--font)' }}>
                {isOnlyOdd && newest.length > 0 ? recipeWords.allUnderstood : words.empty}
              </p>
            )}
            <ol>
              {shown.map((line) => (
                <LineRow key={line.number} line={line} startWallMs={info.startWallMs} zoneMinutes={info.zoneMinutes} />
              ))}
            </ol>
          </div>
          {lines.droppedCount() > 0 && <p className="second small">{words.dropped(lines.droppedCount())}</p>}
          <div className="line-notices">
            <LineNotices
              info={info}
              nowMs={face.timeMs}
              mayAct={mayAct}
              meansNoValue={({ channel, value }) =>
                draft.change({ ...draft.recipe, sentinels: [...draft.recipe.sentinels, { channel, value, means: 'over-range' }] })
              }
            />
            <PollingAsk info={info} isDeclined={isDeclined} decline={setDeclined} mayAct={mayAct} />
            {isLive && draft.used !== undefined && (
              <RoomAirCheck info={info} isConfirmed={draft.confirmed?.roomAir === true && draft.confirmed.probe} mayAct={mayAct} />
            )}
          </div>
          <div className="line-legend">
            {lineMarks
              .filter((mark) => mark !== 'part' || shown.some((line) => line.mark === 'part'))
              .map((mark) => (
                <span key={mark}>
                  <LineMarkSign mark={mark} />
                  {words.legend[mark]}
                </span>
              ))}
          </div>
        </section>
        <RecipeEditor info={info} draft={draft} texts={texts} mayAct={mayAct} />
      </div>
    </Panel>
  );
}
