import { useEffect, useState } from 'react';
import { lines as words } from '../../../shared/words/source.ts';
import { lineMarks } from '../../../shared/ipc/line-report.ts';
import type { RunInfo } from '../../../shared/ipc/run-info.ts';
import { question as questionWords } from '../../../shared/words/lines/learning.ts';
import { recipeWords } from '../../../shared/words/lines/lines.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { saveDownload } from '../../backend/save-download.ts';
import { Key } from '../../components/Key.tsx';
import { Panel } from '../../components/Panel.tsx';
import { useKey } from '../../keys/use-key.ts';
import { selectInfo, selectMayAct } from '../../state/selectors.ts';
import { sourceLabel } from '../../state/source-state.ts';
import { ColumnQuestion } from './questions/ColumnQuestion.tsx';
import { LineList } from './LineList.tsx';
import { LineMarkSign } from './LineMarkSign.tsx';
import { LineNotices } from './LineNotices.tsx';
import { PollingAsk } from './questions/PollingAsk.tsx';
import { RecipeEditor } from './recipe/RecipeEditor.tsx';
import { RoomAirCheck } from './questions/RoomAirCheck.tsx';
import { useSampleTexts } from './use-lines.ts';
import { useRecipeDraft } from './recipe/use-recipe-draft.ts';
import './lines.css';
import './LineView.css';

const LINES_BEFORE = 200;

/** The raw lines, as they came, how each was understood, and the recipe beside them. */
export function LineView() {
  const info = useApp(selectInfo);
  const panelOpened = useApp((state) => state.panelOpened);
  if (info !== undefined) return <LinesOf key={info.runId} info={info} />;
  return (
    <Panel title={words.title} close={() => panelOpened(undefined)}>
      <p className="second lines-none">{words.empty}</p>
    </Panel>
  );
}

function LinesOf({ info }: { info: RunInfo }) {
  const { actions, client, lines } = useParts();
  const { runId } = info;
  const panelOpened = useApp((state) => state.panelOpened);
  const mayAct = useApp(selectMayAct);
  const draft = useRecipeDraft(info);
  const texts = useSampleTexts();
  const [isOnlyOdd, setOnlyOdd] = useState(false);
  const [isDeclined, setDeclined] = useState(false);
  const [isTableClosed, setTableClosed] = useState(false);
  const [held, setHeld] = useState<ReturnType<typeof lines.lines>>();

  useEffect(() => {
    lines.start(runId, []);
    void actions.ask('run.lines', { runId, count: LINES_BEFORE, watch: true }).then((answer) => {
      if (answer !== undefined && lines.runId() === runId) lines.start(runId, answer.lines);
    });
    return () => {
      lines.stop();
      void client.call('run.lines', { runId, count: 1, watch: false });
    };
  }, [runId, actions, client, lines]);
  const isLive = info.phase === 'running' || info.phase === 'learning';
  const turn = (): void => setHeld(held === undefined ? lines.lines().slice(-LINES_BEFORE) : undefined);
  useKey('mark', turn);

  const { question } = info;
  if (question !== undefined && !isTableClosed && isLive)
    return (
      <Panel
        title={questionWords.title}
        about={`${sourceLabel(info)} · ${questionWords.nothingUsed}`}
        close={() => panelOpened(undefined)}
        tools={
          <button type="button" className="button" onClick={() => setTableClosed(true)}>
            {questionWords.openLines}
          </button>
        }
      >
        <ColumnQuestion info={{ ...info, question }} mayAct={mayAct} declined={() => setTableClosed(true)} />
      </Panel>
    );
  return (
    <Panel
      title={words.title}
      about={sourceLabel(info)}
      close={() => panelOpened(undefined)}
      tools={
        <>
          {question !== undefined && isLive && (
            <button type="button" className="button" onClick={() => setTableClosed(false)}>
              {questionWords.open}
            </button>
          )}
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
          <LineList
            held={held}
            preview={draft.preview?.lines}
            isOnlyOdd={isOnlyOdd}
            startWallMs={info.startWallMs}
            zoneMinutes={info.zoneMinutes}
          />
          <div className="line-notices">
            <LineNotices
              info={info}
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
              .filter((mark) => mark !== 'part' || draft.hasParts)
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
