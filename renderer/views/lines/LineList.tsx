/** The lines as they came. Held still they stay; a changed recipe shows what it would make of the newest ones. */
import { memo, useCallback, useDeferredValue, useEffect, useMemo, useRef, useState, type KeyboardEvent } from 'react';
import type { LineReport } from '../../../shared/ipc/run-documents.ts';
import { lines as words } from '../../../shared/words/source.ts';
import { recipeWords } from '../../../shared/words/lines/lines.ts';
import { useApp } from '../../app-parts.ts';
import { selectRun } from '../../state/selectors.ts';
import { LineRow } from './LineRow.tsx';
import { useLiveLines } from './use-lines.ts';
import { formatNumber } from '../../../shared/format/quantity.ts';
import './lines.css';

type Props = {
  held: readonly LineReport[] | undefined;
  preview: readonly LineReport[] | undefined;
  isOnlyOdd: boolean;
  startWallMs: number;
  zoneMinutes: number;
};

export function LineList({ held, preview, isOnlyOdd, startWallMs, zoneMinutes }: Props) {
  const live = useLiveLines();
  const scroll = useRef<HTMLDivElement>(null);
  const [selected, setSelected] = useState<number>();
  const newest = held ?? preview ?? live.lines;
  const wanted = useMemo(() => (isOnlyOdd ? newest.filter(({ mark }) => mark === 'rejected') : newest), [isOnlyOdd, newest]);
  // a press is answered before two hundred rows are drawn
  const shown = useDeferredValue(wanted);
  useEffect(() => {
    if (held === undefined && selected === undefined && scroll.current !== null) scroll.current.scrollTop = scroll.current.scrollHeight;
  }, [shown, held, selected]);
  // one press more on the same line lets it go
  const select = useCallback((number: number) => setSelected((before) => (before === number ? undefined : number)), []);
  const move = (event: KeyboardEvent): void => {
    if (event.key !== 'ArrowUp' && event.key !== 'ArrowDown') return;
    const at = shown.findIndex(({ number }) => number === selected);
    const next = at < 0 ? shown.length - 1 : at + (event.key === 'ArrowUp' ? -1 : 1);
    if (next < 0) return;
    event.preventDefault();
    // below the newest line there is none: the list goes on
    setSelected(shown[next]?.number);
  };
  useEffect(() => {
    scroll.current?.querySelector('.line-row.selected')?.scrollIntoView({ block: 'nearest' });
  }, [selected]);
  return (
    <>
      <div className="line-head">
        <h2 className="size-lead">{words.lines}</h2>
        <LineCounts />
        <span className="grow" />
        <span className="second small">
          {held !== undefined ? words.paused : preview !== undefined ? recipeWords.previewOn : words.newest}
        </span>
      </div>
      <div
        className="line-scroll inset-focus"
        ref={scroll}
        tabIndex={0}
        role="group"
        aria-label={words.lines}
        title={recipeWords.selectHint}
        onKeyDown={move}
      >
        {shown.length === 0 && (
          <p className="second plain-font">{isOnlyOdd && newest.length > 0 ? recipeWords.allUnderstood : words.empty}</p>
        )}
        <Rows shown={shown} selected={selected} select={select} startWallMs={startWallMs} zoneMinutes={zoneMinutes} />
      </div>
      {live.droppedCount > 0 && <p className="second small">{words.dropped(live.droppedCount)}</p>}
    </>
  );
}

type RowsProps = {
  shown: readonly LineReport[];
  selected: number | undefined;
  select: (number: number) => void;
  startWallMs: number;
  zoneMinutes: number;
};
const Rows = memo(function Rows({ shown, selected, ...rest }: RowsProps) {
  return (
    <ol>
      {shown.map((line) => (
        <LineRow key={line.number} line={line} isSelected={line.number === selected} {...rest} />
      ))}
    </ol>
  );
});

function LineCounts() {
  const understood = useApp((state) => selectRun(state)?.face.counters.understood ?? 0);
  const rejected = useApp((state) => selectRun(state)?.face.counters.rejected ?? 0);
  const ignored = useApp((state) => selectRun(state)?.face.counters.ignored ?? 0);
  return (
    <>
      <span>
        <b>{formatNumber(understood, 0)}</b> <span className="second">{words.read}</span>
      </span>
      <span>
        <b>{formatNumber(rejected, 0)}</b> <span className="second">{words.notUnderstood}</span>
      </span>
      <span>
        <b>{formatNumber(ignored, 0)}</b> <span className="second">{words.ignored}</span>
      </span>
    </>
  );
}
