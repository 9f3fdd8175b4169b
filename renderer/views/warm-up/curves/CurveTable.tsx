import { warmUp } from '../../../../shared/words/warm-up.ts';
import { curveDashes } from '../../../charts/overlay-content.ts';
import { numbered, styleOf } from './overlay-content.ts';
import type { KeptCurve } from '../use-documents.ts';
import { DASH, formatNumber, formatValue } from '../../../../shared/format/quantity.ts';
import '../warm-up.css';
import './CurveTable.css';
import './FitDetails.css';

type Props = {
  shown: readonly KeptCurve[];
  lookedAt: string | undefined;
  lookAt: (id: string) => void;
  units: 'us' | 'metric';
  unit: string;
};

/** Number, dash and name of each curve, as at its end in the picture; its slow part, end and time to steady. */
export function CurveTable({ shown, lookedAt, lookAt, units, unit }: Props) {
  if (shown.length === 0) return null;
  const minutes = (seconds: number | undefined): string => (seconds === undefined ? DASH : formatNumber(seconds / 60, 1));
  return (
    <>
      <table className="curve-table" aria-label={warmUp.curvesShown}>
        <thead>
          <tr>
            <th>{warmUp.columns.curve}</th>
            <th className="right">{warmUp.columns.slow}</th>
            <th className="right">{warmUp.columns.end}</th>
            <th className="right">{warmUp.columns.steady}</th>
          </tr>
        </thead>
        <tbody>
          {shown.map(({ id, curve }, i) => {
            const fit = curve.fits?.stackTemperature;
            const slow = fit?.constants.at(-1);
            const half = slow?.high === undefined || slow.low === undefined ? undefined : (slow.high - slow.low) / 2;
            const style = styleOf(i);
            return (
              <tr key={id} className={id === lookedAt ? 'now' : undefined}>
                <td>
                  <button
                    type="button"
                    className="curve-name inset-focus"
                    aria-pressed={id === lookedAt}
                    title={curve.name}
                    onClick={() => lookAt(id)}
                  >
                    <svg width="34" height="10" aria-hidden="true">
                      <path
                        className={`curve-line style-${style > 5 ? 'more' : style}`}
                        d="M0 5H34"
                        strokeDasharray={(curveDashes[style] ?? []).join(' ')}
                      />
                    </svg>
                    <span className="text">{numbered(i, curve.name)}</span>
                  </button>
                </td>
                <td className="right num">
                  {minutes(slow?.tauS)}{' '}
                  {half !== undefined && <span className="plus-minus">±{formatNumber(Math.max(0.1, half / 60), 1)}</span>}
                </td>
                <td className={fit?.honest === false ? 'right second' : 'right num'}>
                  {fit === undefined ? DASH : fit.honest ? formatValue('stackTemperature', fit.endValue, units) : warmUp.notHonest}
                </td>
                <td className="right num">{minutes(curve.steadyOwnS)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <p className="second note">{warmUp.units(unit)}</p>
    </>
  );
}
