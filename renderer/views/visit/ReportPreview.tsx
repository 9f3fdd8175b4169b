import { reportScreen as words } from '../../../shared/words/visit.ts';
import { BrokenSlot } from '../../components/Signs.tsx';

/**
 * The place of the report's own pages. `html` is a whole document from the report's template; without it the slot says so.
 * The frame runs no script and has no origin.
 */
export function ReportPreview({ html }: { html: string | undefined }) {
  if (html !== undefined) return <iframe className="report-preview" title={words.preview} sandbox="" srcDoc={html} />;
  return (
    <div className="report-empty">
      <BrokenSlot large />
      <div>
        <h2>{words.noPreview}</h2>
        <p className="second">{words.noPreviewAbout}</p>
      </div>
    </div>
  );
}
