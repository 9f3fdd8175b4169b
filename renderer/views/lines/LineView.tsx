import { useEffect, useRef, useState, useSyncExternalStore, type ReactNode } from 'react';
import { lines as words } from '../../../shared/words/source.ts';
import { lineMarks } from '../../../shared/ipc/line-report.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { saveDownload } from '../../backend/save-download.ts';
import { Key } from '../../components/Key.tsx';
import { Panel } from '../../components/Panel.tsx';
import { formatNumber } from '../../format/quantity.ts';
import { useKey } from '../../keys/use-key.ts';
import { selectRun } from '../../state/selectors.ts';
import { sourceLabel } from '../../state/source-state.ts';
import { LineMarkSign } from './LineMarkSign.tsx';
import { LineRow } from './LineRow.tsx';
import { RecipeSide } from './RecipeSide.tsx';

const SHOWN = 200;

/** The raw lines, as they came, and how each was understood. */
export function LineView({ recipeSide }: { recipeSide?: ReactNode }) {
  const { actions, client, lines } = useParts();
  const record = useApp(selectRun);
  const panelOpened = useApp((state) => state.panelOpened);
  const runId = record?.info.runId;
  const [held, setHeld] = useState<ReturnType<typeof lines.lines>>();
  const live = useSyncExternalStore(lines.onChange, lines.lines);
  const shown = (held ?? live).slice(-SHOWN);
  const scroll = useRef<HTMLDivElement>(null);

  useEffect(() => {
    if (runId === undefined) return undefined;
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
  const turn = (): void => setHeld(held === undefined ? lines.lines() : undefined);
  useKey('mark', turn);

  if (record === undefined) {
    return (
      <Panel title={words.title} close={() => panelOpened(undefined)}>
        <p className="second" style={{ padding: 20 }}>
          {words.empty}
        </p>
      </Panel>
    );
  }
  const { info, face } = record;
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
            <span className="second small">{held === undefined ? words.newest : words.paused}</span>
          </div>
          <div className="line-scroll inset-focus" ref={scroll} tabIndex={0} role="group" aria-label={words.lines}>
            {shown.length === 0 && (
              <p className="second" style={{ fontFamily: 'var(--font)' }}>
                {words.empty}
              </p>
            )}
            <ol>
              {shown.map((line) => (
                <LineRow key={line.number} line={line} startWallMs={info.startWallMs} zoneMinutes={info.zoneMinutes} />
              ))}
            </ol>
          </div>
          {lines.droppedCount() > 0 && <p className="second small">{words.dropped(lines.droppedCount())}</p>}
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
        {recipeSide ?? <RecipeSide info={info} />}
      </div>
    </Panel>
  );
}
