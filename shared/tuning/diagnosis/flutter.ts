import { strengthOf, type Hint } from './patterns.ts';
import { median, steadyStretches, within, type Point, type Stream } from './stream.ts';

const LOWEST_HZ = 0.06;
const LEAST_SAMPLES = 120;
const MOST_SAMPLES = 1200;
/** peak power against the median of the spectrum: noise alone reaches this once in many thousand spectra */
const CLEAR_RATIO = 30;
/** swing at the flame, % O2. @source ±0.3 to 1 % : procedure of the trade, common practice */
const LEAST_SWING_O2 = 0.8;
/** half of a usual display's digit: below it the digit can make a small swing look several times as large when the mean stands between two */
const LEAST_SHOWN_O2 = 0.05;
/** what a usual cell and sampling line leave of a fast swing: first-order lags, s. Common practice: T90 of 10 to 25 s */
const LAGS_S = [6, 1.5] as const;

export type Peak = { hz: number; amplitude: number; ratio: number };

/**
 * Strongest line in the spectrum of an evenly spaced series, by Goertzel's recursion on a grid of half the natural resolution.
 *
 * @param values detrended
 * @returns amplitude in the series' unit; undefined when the series is too short for `lowestHz`
 */
export function strongestLine(values: readonly number[], periodS: number, lowestHz: number): Peak | undefined {
  const n = values.length;
  const step = 1 / (2 * n * periodS);
  const highest = 1 / (2 * periodS);
  const powers: { hz: number; power: number }[] = [];
  for (let hz = lowestHz; hz <= highest * 0.999; hz += step) powers.push({ hz, power: goertzelPower(values, hz * periodS) });
  if (powers.length < 10) return undefined;
  const top = powers.reduce((best, line) => (line.power > best.power ? line : best));
  return {
    hz: top.hz,
    amplitude: (2 * Math.sqrt(top.power)) / n,
    ratio: top.power / Math.max(1e-12, median(powers.map((line) => line.power))),
  };
}

/** |X(f)|^2 at f cycles per sample. @source Goertzel, Amer. Math. Monthly 65 (1958) 34-35 (from memory) */
export function goertzelPower(values: readonly number[], cyclesPerSample: number): number {
  const turn = 2 * Math.cos(2 * Math.PI * cyclesPerSample);
  let one = 0;
  let two = 0;
  for (const value of values) {
    const next = value + turn * one - two;
    two = one;
    one = next;
  }
  return one * one + two * two - turn * one * two;
}

/** A band-like swing of O2 with a frequency. What the cell has flattened is put back by typical lags before it is judged. */
export function flutterHint(stream: Stream): Hint[] {
  const stretch = steadyStretches(stream, 60_000, 240_000).findLast(({ fromMs, toMs }) => toMs - fromMs >= LEAST_SAMPLES * stream.periodMs);
  if (!stretch) return [];
  const points = within(stream.fastO2, stretch.fromMs, stretch.toMs).slice(-MOST_SAMPLES);
  if (points.length < LEAST_SAMPLES) return [];
  const periodS = stream.periodMs / 1000;
  // a swing may have begun late in the stretch: the newest third, too, is looked at on its own
  const looks = [points, points.slice(-Math.max(LEAST_SAMPLES, Math.floor(points.length / 3)))].flatMap((part) => {
    const peak = strongestLine(detrended(part), periodS, LOWEST_HZ);
    if (!peak || peak.ratio < CLEAR_RATIO || peak.amplitude < LEAST_SHOWN_O2) return [];
    const left = LAGS_S.reduce((share, lag) => share / Math.hypot(1, 2 * Math.PI * peak.hz * lag), 1);
    return [{ peak, swing: peak.amplitude / left, part }];
  });
  const best = looks.sort((a, b) => b.swing - a.swing)[0];
  if (!best || best.swing < LEAST_SWING_O2) return [];
  return [
    {
      pattern: 'flutter',
      strength: strengthOf(best.swing, LEAST_SWING_O2),
      figures: { hz: best.peak.hz, shownO2: best.peak.amplitude, flameO2: best.swing, highestHz: 1 / (2 * periodS) },
      stretch: { fromMs: best.part[0]!.t, toMs: best.part.at(-1)!.t },
      trialIds: [],
    },
  ];
}

/** Takes slow wander out: each value less the mean of the ten seconds around it would dull 0.1 Hz, so a minute is used. */
function detrended(points: readonly Point[]): number[] {
  const half = 30_000;
  let [from, to, sum] = [0, 0, 0];
  return points.map(({ t, value }) => {
    while (to < points.length && points[to]!.t <= t + half) sum += points[to++]!.value;
    while (points[from]!.t < t - half) sum -= points[from++]!.value;
    return value - sum / (to - from);
  });
}
