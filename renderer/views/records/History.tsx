import { useState } from 'react';
import { history, historyQuantities, type HistoryQuantity, type VisitFigures } from '../../../shared/report/comparison/compare-visits.ts';
import { isoDay } from '../../../shared/format/date.ts';
import { cardUnit } from '../../../shared/report/card-format.ts';
import { records as words } from '../../../shared/words/records/records.ts';
import { quantityWords } from '../../../shared/words/visit/target-card.ts';
import { useApp } from '../../app-parts.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { HISTORY, historyGeometry } from './history-geometry.ts';
import './History.css';

/** One figure of each visit: open square as found, solid as left, the arrow is the work. */
export function History({ visits, chosen }: { visits: readonly VisitFigures[]; chosen: string | undefined }) {
  const units = useApp((state) => state.settings.units);
  const [quantity, setQuantity] = useState<HistoryQuantity>('o2Percent');
  const points = history(visits, quantity, units);
  const geometry = historyGeometry(points);
  const title = [quantityWords[quantity], cardUnit(quantity, units)].filter(Boolean).join(' ');
  return (
    <section className="records-history" aria-label={words.history(title)}>
      <div className="row">
        <h2>
          <ChannelName text={words.history(title)} />
        </h2>
        <Legend />
        <span className="grow" />
        <div role="group" aria-label={words.historyOf} className="row">
          {historyQuantities.map((one) => (
            <button key={one} type="button" className="button quiet" aria-pressed={one === quantity} onClick={() => setQuantity(one)}>
              <ChannelName text={quantityWords[one]} />
            </button>
          ))}
        </div>
      </div>
      {geometry === undefined ? (
        <p className="second">{words.historyEmpty}</p>
      ) : (
        <svg
          viewBox={`0 0 ${HISTORY.width} ${HISTORY.height}`}
          role="img"
          aria-label={points
            .map(
              ({ wallMs, zoneMinutes, foundText, leftText }) =>
                `${isoDay(wallMs, zoneMinutes).slice(0, 4)}: ${foundText ?? '–'} → ${leftText ?? '–'}`,
            )
            .join('; ')}
        >
          {geometry.grid.map(({ y, text }) => (
            <g key={text}>
              <path className="grid-line" d={`M${HISTORY.left - 8} ${y}H${HISTORY.width}`} />
              <text x={HISTORY.left - 14} y={y + 5} textAnchor="end">
                {text}
              </text>
            </g>
          ))}
          {geometry.marks.map(({ x, year, found, left, point }) => (
            <g key={point.visitId} className={point.visitId === chosen ? 'chosen' : undefined}>
              {found !== undefined && left !== undefined && Math.abs(left - found) > 16 && (
                <path
                  className="stroke-second"
                  strokeWidth="2"
                  d={`M${x} ${found + (left > found ? 7 : -7)}V${left + (left > found ? -8 : 8)}m-5 ${left > found ? -7 : 7}l5 ${left > found ? 7 : -7}l5 ${left > found ? -7 : 7}`}
                />
              )}
              {found !== undefined && (
                <>
                  <rect className="open-square" x={x - 6} y={found - 6} width="12" height="12" />
                  <text x={x + 13} y={found + 5} className="ink">
                    {point.foundText}
                  </text>
                </>
              )}
              {left !== undefined && (
                <>
                  <rect className="fill-ink" x={x - 6} y={left - 6} width="12" height="12" />
                  <text x={x + 13} y={left + 5} className="ink strong">
                    {point.leftText}
                  </text>
                </>
              )}
              <text x={x} y={HISTORY.height - 6} textAnchor="middle">
                {year}
              </text>
            </g>
          ))}
        </svg>
      )}
    </section>
  );
}

const Legend = () => (
  <span className="row second small legend">
    <svg width="14" height="14" aria-hidden="true">
      <rect className="open-square" x="2" y="2" width="10" height="10" />
    </svg>
    {words.asFound}
    <svg width="14" height="14" aria-hidden="true">
      <rect className="fill-ink" x="1" y="1" width="12" height="12" />
    </svg>
    {words.asLeft}
  </span>
);
