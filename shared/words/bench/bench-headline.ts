/** The verdict of a test as one sentence, and what to do next. */
import type { BenchLimits } from '../../bench/limits.ts';
import type { GasSlot } from '../../bench/plan.ts';
import { gasRows, type Headline, type RoundResult } from '../../bench/results/test-result.ts';
import { bench } from './bench.ts';
import { benchResult } from './bench-result.ts';
import { certified } from './bench-format.ts';

const words = benchResult;

export function headlineText(headline: Headline): string {
  switch (headline.kind) {
    case 'fit':
      return words.fit(bench.list(headline.channels.map((channel) => bench.channels[channel])));
    case 'part': {
      const { fit, unmeasured } = headline;
      const open = [...new Set(unmeasured.map(({ channel }) => channel))].map((channel) =>
        words.unmeasured(
          bench.channels[channel],
          bench.list(unmeasured.filter((one) => one.channel === channel).map(({ reference }) => certified(channel, reference))),
        ),
      );
      return [...(fit.length === 0 ? [] : [words.fit(bench.list(fit.map((channel) => bench.channels[channel])))]), ...open].join(' ');
    }
    case 'not-fit': {
      const name = bench.channels[headline.channel];
      const first =
        headline.above === undefined ? words.notFit(name) : words.notFitAbove(name, certified(headline.channel, headline.above));
      return headline.others.length === 0
        ? first
        : `${first} ${words.alsoNot(bench.list(headline.others.map((one) => bench.channels[one])))}`;
    }
    case 'conditional':
      return words.close(
        bench.channels[headline.channel],
        headline.reference === undefined ? '' : words.closeAt(certified(headline.channel, headline.reference)),
      );
    case 'not-judged':
      return words.measured;
    case 'nothing':
      return words.nothing;
  }
}

export function nextText(
  headline: Headline,
  result: RoundResult,
  limits: BenchLimits | undefined,
  gasName: (slot: GasSlot) => string,
): string {
  switch (headline.kind) {
    case 'fit':
      return words.nextFit;
    case 'part':
      return words.nextPart;
    case 'conditional':
      return words.nextClose;
    case 'not-judged':
      return words.nextMeasured;
    case 'nothing':
      return '';
    case 'not-fit': {
      const name = bench.channels[headline.channel];
      const rows = gasRows(result.evaluation, limits).filter(({ channel, verdict }) => channel === headline.channel && verdict === 'fail');
      if (rows.some(({ reference }) => reference === 0)) return words.nextZero(name);
      const span = [...rows].sort((a, b) => b.reference - a.reference)[0];
      return span === undefined ? words.nextOther(name) : words.nextSpan(name, gasName(span.level as GasSlot));
    }
  }
}
