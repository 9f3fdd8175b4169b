/** The lines as they came. Held still they stay; a changed recipe shows what it would make of the newest ones. */
import { memo, useDeferredValue, useEffect, useMemo, useRef } from 'react';
import type { LineReport } from '../../../shared/ipc/run-commands.ts';
import { lines as words } from '../../../shared/words/source.ts';
import { recipeWords } from '../../../shared/words/lines.ts';
import { useApp } from '../../app-parts.ts';
import { formatNumber } from '../../format/quantity.ts';
import { selectRun } from '../../state/selectors.ts';
import { LineRow } from './LineRow.tsx';
import { useLiveLines } from './use-lines.ts';

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
  const newest = held ?? preview ?? live.lines;
  const wanted = useMemo(() => (isOnlyOdd ? newest.filter(({ mark }) => mark === 'rejected') : newest), [isOnlyOdd, newest]);
  // a press is answered before two hundred rows are drawn
  const shown = useDeferredValue(wanted);
  useEffect(() => {
    if (held === undefined && scroll.current !== null) scroll.current.scrollTop = scroll.current.scrollHeight;
  }, [shown, held]);
  return (
    <>
      <div className="line-head">
        <h2 style={{ fontSize: 20 }}>{words.lines}</h2>
        <LineCounts />
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
        <Rows shown={shown} startWallMs={startWallMs} zoneMinutes={zoneMinutes} />
      </div>
      {live.droppedCount > 0 && <p className="second small">{words.dropped(live.droppedCount)}</p>}
    </>
  );
}

const Rows = memo(function Rows({ shown, ...origin }: { shown: readonly LineReport[]; startWallMs: number; zoneMinutes: number }) {
  return (
    <ol>
      {shown.map((line) => (
        <LineRow key={line.number} line={line} {...origin} />
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
