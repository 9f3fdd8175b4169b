import type { BenchTest } from '../../../../shared/bench/bench-test.ts';
import { T90_GROWTH_NOTICE, type CellHistory } from '../../../../shared/bench/results/earlier-tests.ts';
import { formatDate } from '../../../../shared/format/duration.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import { certified } from '../../../../shared/words/bench/bench-format.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { TrendPicture } from './ResultPictures.tsx';

const words = benchResult;

/** The chosen channel over this instrument's earlier tests, and when it will reach its limit. */
export function TrendSection({ history, test }: { history: CellHistory | undefined; test: BenchTest }) {
  if (history === undefined || history.spanReference === undefined || history.spanErrors.length === 0) return null;
  const { forecast, channel } = history;
  const day = (wallMs: number): string => formatDate(wallMs, test.zoneMinutes);
  const about =
    history.spanErrors.length === 1
      ? words.trendFirst
      : forecast.kind === 'forecast'
        ? words.trendGrowing(
            day(forecast.wallMs),
            day(forecast.earliestMs),
            forecast.latestMs === undefined ? words.never : day(forecast.latestMs),
          )
        : forecast.kind === 'reached'
          ? words.trendReached
          : forecast.kind === 'steady'
            ? words.trendSteady
            : words.trendNotEnough(history.spanErrors.length);
  return (
    <section aria-label={words.earlier}>
      <h3>
        <ChannelName text={words.trend(bench.channels[channel], certified(channel, history.spanReference))} />
      </h3>
      <p className="small second">{about}</p>
      {history.spanErrors.length > 1 && <TrendPicture history={history} zoneMinutes={test.zoneMinutes} />}
      {history.t90Growth !== undefined && history.t90Growth >= T90_GROWTH_NOTICE && (
        <p className="notice-text">
          <ChannelName text={words.t90Growth(bench.channels[channel], `${formatNumber((history.t90Growth - 1) * 100, 0)} %`)} />
        </p>
      )}
    </section>
  );
}
