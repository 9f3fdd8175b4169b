import { curvesAsCsv } from '../../../../shared/warm-up/curve-csv.ts';
import type { WarmUpCurve } from '../../../../shared/warm-up/curve.ts';
import { warmUp } from '../../../../shared/words/warm-up.ts';
import { useApp } from '../../../app-parts.ts';
import { saveText } from '../../../backend/save-text.ts';
import { Key } from '../../../components/Key.tsx';
import type { OverlayChoice } from './overlay-content.ts';
import '../warm-up.css';

/** What can be done with the curves on screen: their difference, their band, their figures as a table, file or picture. */
export function CurveTurns({
  shown,
  shows,
  turn,
  table,
  picture,
}: {
  shown: readonly { readonly curve: WarmUpCurve }[];
  shows: OverlayChoice['shows'];
  turn: (one: 'difference' | 'band') => void;
  table: () => void;
  picture: () => string;
}) {
  const csvStyle = useApp((state) => state.settings.csv.separator);
  return (
    <div className="row warm-up-turns">
      {shown.length > 1 &&
        (['difference', 'band'] as const).map((one) => (
          <button
            key={one}
            type="button"
            className="button"
            aria-pressed={shows === one}
            disabled={one === 'band' && shown.length < 3}
            onClick={() => turn(one)}
          >
            {warmUp[one]}
          </button>
        ))}
      <button type="button" className="button" onClick={table}>
        {warmUp.table} <Key action="table" />
      </button>
      <button
        type="button"
        className="button"
        onClick={() =>
          saveText(
            'warm-up-curves.csv',
            curvesAsCsv(
              shown.map(({ curve }) => curve),
              csvStyle,
              warmUp.csvMark,
            ),
          )
        }
      >
        {warmUp.exportData}
      </button>
      <button type="button" className="button" onClick={() => saveText('warm-up-curves.png', picture(), true)}>
        {warmUp.exportPicture}
      </button>
    </div>
  );
}
