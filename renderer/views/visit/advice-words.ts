/** The next setting in words, as the right column says it. Pure. */
import type { AirCurve } from '../../../shared/tuning/air-curve.ts';
import { smokeApproach } from '../../../shared/tuning/air-curve.ts';
import type { Formats } from '../../../shared/words/tune-formats.ts';
import { adviceWords, approachWords, onsetWords, stopWords, windowWords } from '../../../shared/words/tune.ts';
import { curveScreen as words } from '../../../shared/words/visit.ts';
import { formatPosition } from '../../format/quantity.ts';
import type { CurveFacts } from './visit-facts.ts';

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

export function adviceFace(facts: CurveFacts | undefined, formats: Formats): AdviceFace {
  const nothing: AdviceFace = { title: words.nextTitle, headline: words.noSuggestion, whyTitle: words.needs, why: [words.empty] };
  if (facts === undefined) return nothing;
  const { curve, goal, advice } = facts;
  const about = [onsetWords(curve.onset, formats), ...(curve.window === undefined ? [] : [windowWords(curve.window, formats)])];
  if (goal.kind === 'stop') return { title: words.stop, headline: stopWords[goal.reason], whyTitle: words.why, why: about };
  if (goal.kind === 'none' || advice === undefined) return { ...nothing, why: [words.empty, ...(curve.points.length === 0 ? [] : about)] };
  const said = adviceWords(advice, formats);
  if (advice.kind === 'none')
    return {
      title: words.nextTitle,
      headline: words.noSuggestion,
      whyTitle: words.needs,
      why: [said.headline.replace(/^No next setting( yet)?: /, '').replace(/^./, (first) => first.toUpperCase()), ...about],
    };
  if (advice.kind === 'already-there')
    return {
      title: words.already,
      headline: said.headline,
      whyTitle: words.why,
      why: [...about, lastApproach(curve)].filter((text) => text !== ''),
    };
  const change = advice.from === undefined ? undefined : advice.to - advice.from;
  const others = advice.setting.positions
    .filter(({ name }) => name !== advice.adjuster)
    .map(({ name, value }) => words.stays(name.toLowerCase(), formatPosition(value)));
  const how =
    change === undefined
      ? ''
      : (change > 0 ? words.openBy : words.closeBy)(formatPosition(Math.abs(change)), formatPosition(advice.from ?? 0));
  return {
    title: words.nextTitle,
    adjuster: advice.adjuster.replace(/^./, (first) => first.toUpperCase()),
    to: formatPosition(advice.to),
    how: [how, ...others].filter((part) => part !== '').join(' · '),
    expect: {
      value: formats.o2(advice.expectedO2).replace(/\u2009%$/, ''),
      half: `±${Math.max(0.1, (advice.high - advice.low) / 2).toFixed(1)}\u2009%`,
    },
    whyTitle: words.why,
    why: [said.because.replace(/^Why: /, '').replace(/^./, (first) => first.toUpperCase()), ...about],
  };
}

const lastApproach = (curve: AirCurve): string => {
  const last = [...curve.points].sort((a, b) => a.order - b.order).at(-1);
  return last === undefined ? '' : approachWords[smokeApproach(curve, last.trialId)];
};
