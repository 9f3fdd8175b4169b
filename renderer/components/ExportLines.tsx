import { progress as words } from '../../shared/words/progress.ts';
import { useApp, useParts } from '../app-parts.ts';
import { ProgressLine } from './ProgressLine.tsx';

/** Exports that this window asked for and that take longer than a moment, whatever else is looked at meanwhile. */
export function ExportLines() {
  const { actions } = useParts();
  const exports = useApp((state) => state.exports);
  const shown = exports.filter(({ share }) => share !== undefined);
  if (shown.length === 0) return null;
  return (
    <section className="export-lines" aria-label={words.exports}>
      {shown.map(({ jobId, form, share = 0, leftMs }) => (
        <ProgressLine
          key={jobId}
          title={words.writing[form]}
          share={share}
          leftMs={leftMs}
          onStop={() => void actions.ask('run.stopExport', { jobId })}
        />
      ))}
    </section>
  );
}
