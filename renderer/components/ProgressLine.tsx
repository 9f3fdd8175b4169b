import { formatTimeLeft } from '../../shared/format/duration.ts';
import { progress as words } from '../../shared/words/progress.ts';

/** How far a piece of work is: a bar, the share in words, and the time left once that can be said. Its name is spoken, not every step. */
export function ProgressLine({
  title,
  about,
  share,
  leftMs,
  onStop,
}: {
  title: string;
  about?: string | undefined;
  share: number;
  leftMs?: number | undefined;
  onStop?: (() => void) | undefined;
}) {
  return (
    <div className="say progress-line">
      <div className="grow">
        <b role="status">{title}</b>
        {about !== undefined && <span className="second"> {about}</span>}
        <progress value={share} max={1} aria-label={title} />
      </div>
      <span className="progress-figures">
        {words.percent(share)}
        {leftMs !== undefined && <span className="second"> · {words.left(formatTimeLeft(leftMs / 1000))}</span>}
      </span>
      {onStop !== undefined && (
        <button type="button" className="button" onClick={onStop}>
          {words.stop}
        </button>
      )}
    </div>
  );
}
