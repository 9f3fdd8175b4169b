/** The advice in words, as the right column says it. Pure. */
import type { Advice } from '../../../../shared/tuning/advice/advice.ts';
import { smokeApproach, type AirCurve } from '../../../../shared/tuning/curve/air-curve.ts';
import { adviceHeadline, reasonWords } from '../../../../shared/words/tune/advice.ts';
import type { Formats } from '../../../../shared/words/tune/tune-formats.ts';
import { approachWords, onsetWords, windowWords } from '../../../../shared/words/visit/smoke-and-window.ts';
import { curveScreen as words } from '../../../../shared/words/visit/screens/air-curve.ts';
import type { CurveFacts } from '../visit-facts.ts';
import { formatPosition } from '../../../../shared/format/quantity.ts';
import { defined, whenDefined } from '../../../../shared/defined.ts';

export type AdviceFace = {
  title: string;
  /** 'Shutter' and '4.75', or one sentence instead */
  adjuster?: string;
  to?: string;
  headline?: string;
  how?: string;
  expect?: { value: string; half: string };
  whyTitle: string;
  why: string[];
};

/** The point that the pictures show for an advice with a number. */
export type NextPoint = { adjuster: string; to: number; expectedO2: number; low: number; high: number };
export const nextPointOf = ({ adjuster, to, expected }: Advice): NextPoint | undefined =>
  adjuster === undefined || to === undefined || expected === undefined
    ? undefined
    : { adjuster, to, expectedO2: expected.o2, low: expected.low, high: expected.high };

export function adviceFace(facts: CurveFacts | undefined, formats: Formats): AdviceFace {
  if (facts === undefined) return { title: words.nextTitle, headline: words.noSuggestion, whyTitle: words.needs, why: [words.empty] };
  const { curve, advice, limits } = facts;
  const about = [onsetWords(curve.onset, formats), ...whenDefined(curve.window, (window) => windowWords(window, formats))];
  const why = advice.because.map((reason) => reasonWords(reason, { limits, adjuster: advice.adjuster }, formats));
  const headline = adviceHeadline(advice, formats);
  if (advice.advice === 'stop') return { title: words.stop, headline, whyTitle: words.why, why };
  if (advice.advice === 'none')
    return {
      title: words.nextTitle,
      headline: words.noSuggestion,
      whyTitle: words.needs,
      why: [...why, ...(curve.points.length === 0 ? [] : about)],
    };
  if (advice.advice === 'leave')
    return {
      title: words.already,
      headline,
      whyTitle: words.why,
      why: [...why, ...about, lastApproach(curve)].filter((text) => text !== ''),
    };
  const title = words.airTitle[advice.advice];
  if (advice.adjuster === undefined || advice.to === undefined) return { title, headline, whyTitle: words.why, why: [...why, ...about] };
  const others = (advice.setting?.positions ?? [])
    .filter(({ name }) => name !== advice.adjuster)
    .map(({ name, value }) => words.stays(name.toLowerCase(), formatPosition(value)));
  const { from, to, expected } = advice;
  const how =
    from === undefined
      ? ''
      : advice.direction === undefined
        ? words.fromTo(formatPosition(from), formatPosition(to))
        : words.turnBy[advice.direction](formatPosition(Math.abs(to - from)), formatPosition(from));
  return {
    title,
    adjuster: advice.adjuster.replace(/^./, (first) => first.toUpperCase()),
    to: formatPosition(to),
    how: [how, ...others].filter((part) => part !== '').join(' · '),
    ...defined({
      expect:
        expected === undefined
          ? undefined
          : {
              value: formats.o2(expected.o2).replace(/\u2009%$/, ''),
              half: `±${Math.max(0.1, (expected.high - expected.low) / 2).toFixed(1)}\u2009%`,
            },
    }),
    whyTitle: words.why,
    why: [...why, ...about],
  };
}

const lastApproach = (curve: AirCurve): string => {
  const last = [...curve.points].sort((a, b) => a.order - b.order).at(-1);
  return last === undefined ? '' : approachWords[smokeApproach(curve, last.trialId)];
};
