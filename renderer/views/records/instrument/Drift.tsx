import type { CellHistory } from '../../../../shared/bench/results/earlier-tests.ts';
import { formatDay } from '../../../../shared/format/date.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import { certified, signed, unitOf, withHalf } from '../../../../shared/words/bench/bench-format.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { records as words } from '../../../../shared/words/records/records.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { TrendPicture } from '../../bench/result/ResultPictures.tsx';
import '../records.css';

/** One cell over its tests: as a picture where there are two, and as figures always. */
export function Drift({ history, zoneMinutes }: { history: CellHistory; zoneMinutes: number }) {
  const { channel, spanErrors, spanReference, t90 } = history;
  if (spanReference === undefined || spanErrors.length === 0) return null;
  const answered = (wallMs: number): string => {
    const one = t90.find((time) => time.wallMs === wallMs);
    return one === undefined ? '–' : `${formatNumber(one.value, 0)} ±${formatNumber(one.expanded, 0)}`;
  };
  const title = benchResult.trend(bench.channels[channel], certified(channel, spanReference));
  return (
    <section>
      <h3>
        <ChannelName text={title} />
      </h3>
      {spanErrors.length > 1 && <TrendPicture history={history} zoneMinutes={zoneMinutes} />}
      <table className="tight" aria-label={title}>
        <thead>
          <tr>
            <th scope="col">{words.instrument.test.day}</th>
            <th scope="col" className="right">
              {benchResult.columns.error} {unitOf(channel)}
            </th>
            <th scope="col" className="right">
              {words.instrument.test.t90} s
            </th>
          </tr>
        </thead>
        <tbody>
          {spanErrors.map(({ wallMs, value, expanded }) => (
            <tr key={wallMs}>
              <td className="unwrapped">{formatDay(wallMs, zoneMinutes)}</td>
              <td className="right unwrapped">
                {signed(channel, value, expanded)} <span className="small second">{withHalf(channel, expanded)}</span>
              </td>
              <td className="right unwrapped">{answered(wallMs)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
