import { useMemo } from 'react';
import { HONEST_WITHIN_C } from '../../../../shared/settling/fits/warm-up-fit.ts';
import { fitPicture, type FitPicture } from '../../../../shared/warm-up/capture.ts';
import type { WarmUpCurve, WarmUpFit } from '../../../../shared/warm-up/curve.ts';
import { warmUp } from '../../../../shared/words/warm-up.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { decimalsFor, formatNumber, formatWithUnit, shownAs, withUnit } from '../../../../shared/format/quantity.ts';
import '../warm-up.css';
import './CurveTable.css';
import './FitDetails.css';

type Units = 'us' | 'metric';
const words = warmUp.fit;

/** Everything that the fit says of one curve, how sure it is, and what it leaves over. */
export function FitDetails({ curve, units }: { curve: WarmUpCurve; units: Units }) {
  const fit = curve.fits?.stackTemperature;
  const picture = useMemo(() => fitPicture(curve), [curve]);
  const minutes = (seconds: number): string => `${formatNumber(seconds / 60, 1)} min`;
  const facts = warmUp.facts(
    warmUp.startStates[curve.startState],
    curve.outdoorC === undefined ? '' : warmUp.outdoors(formatWithUnit('airTemperature', curve.outdoorC, units)),
    [curve.appliance ?? '', ...curve.tags].filter((part) => part !== '').join(' · '),
  );
  return (
    <section className="fit" aria-label={words.title(curve.name)}>
      <h2>{words.title(curve.name)}</h2>
      <p className="second note">{facts}</p>
      {fit === undefined ? <p>{words.none}</p> : <FitRows fit={fit} units={units} />}
      {curve.usedToS !== undefined && <p className="second note">{words.used(formatNumber(curve.usedToS / 60, 1))}</p>}
      <h3>{words.steady}</h3>
      <dl className="fit-steady">
        <dt>{curve.steadyOwnS === undefined ? words.notReached : minutes(curve.steadyOwnS)}</dt>
        <dd>{words.ownLabel}</dd>
        <dt>{curve.steadyPublishedS === undefined ? words.notReached : minutes(curve.steadyPublishedS)}</dt>
        <dd>{words.publishedLabel}</dd>
      </dl>
      {picture !== undefined && <Residuals picture={picture} units={units} />}
    </section>
  );
}

function FitRows({ fit, units }: { fit: WarmUpFit; units: Units }) {
  const between = (low: number | undefined, high: number | undefined, text: (value: number) => string): string =>
    low === undefined || high === undefined ? words.noInterval : words.interval(text(low), text(high));
  const { unit, factor, offset } = shownAs('stackTemperature', units);
  const halfK = Math.max(fit.endHigh - fit.endValue, fit.endValue - fit.endLow);
  const end = (value: number): string => formatNumber(value * factor + offset, decimalsFor(halfK * factor, 1));
  const seconds = (value: number): string => (value < 100 ? `${formatNumber(value, 0)} s` : `${formatNumber(value / 60, 1)} min`);
  const isTwo = fit.constants.length === 2;
  return (
    <>
      <table className="fit-table">
        <caption className="hidden-text">{isTwo ? words.two : words.one}</caption>
        <tbody>
          {fit.constants.map(({ tauS, share, low, high }, i) => (
            <tr key={i}>
              <th scope="row">{isTwo ? (i === 0 ? words.quick : words.slow) : words.one}</th>
              <td className="right num">{seconds(tauS)}</td>
              <td className="second note">
                {between(low, high, seconds)}
                {isTwo && <div>{share < 0 ? words.lag : words.share(formatNumber(100 * share, 0))}</div>}
              </td>
            </tr>
          ))}
          <tr>
            <th scope="row">{words.end}</th>
            <td className="right num">{withUnit(end(fit.endValue), unit)}</td>
            <td className="second note">{between(fit.endLow, fit.endHigh, end)}</td>
          </tr>
          <tr>
            <th scope="row">{words.dead}</th>
            <td className="right num">{`${formatNumber(fit.deadS, 0)} s`}</td>
            <td />
          </tr>
        </tbody>
      </table>
      <p className={fit.honest ? 'note' : 'note dishonest'}>
        {fit.missK === undefined
          ? words.untried
          : fit.honest
            ? words.honest(difference(fit.missK, units))
            : words.dishonest(difference(fit.missK, units), difference(HONEST_WITHIN_C, units))}
      </p>
    </>
  );
}

/** Tenths: an honesty of 1.6 against 2 is not told in whole degrees. */
const difference = (kelvin: number, units: Units): string => {
  const { unit, factor } = shownAs('stackTemperature', units);
  return `${formatNumber(kelvin * factor, 1)} ${unit}`;
};

/** Share of the variance in means over eighths; chance leaves a few hundredths. @source own choice */
const IN_WAVES = 0.3;
const WIDTH = 372;
const HEIGHT = 84;

/** Each point's rest against time, with the spread as two lines: waves are seen, not computed. */
function Residuals({ picture, units }: { picture: FitPicture; units: Units }) {
  const { seconds, residuals, sd, largest, waveShare } = picture;
  // one spike does not flatten the rest: it leaves the picture, and the text tells its size
  const span = Math.max(Math.min(largest, 5 * sd), 2 * sd, 1e-6);
  const from = seconds[0] ?? 0;
  const length = Math.max(1, (seconds.at(-1) ?? 1) - from);
  const y = (value: number): number => HEIGHT / 2 - (value / span) * (HEIGHT / 2 - 4);
  const path = residuals
    .map((value, i) => `${i === 0 ? 'M' : 'L'}${(((seconds[i] as number) - from) / length) * WIDTH} ${y(value).toFixed(1)}`)
    .join('');
  const inWaves = waveShare > IN_WAVES;
  const text = words.residualsText(difference(sd, units), difference(largest, units));
  return (
    <>
      <h3>{words.residuals}</h3>
      <svg
        className="residuals"
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={`${words.residuals}: ${text}. ${inWaves ? words.waves : words.noWaves}`}
      >
        <path className="zero" d={`M0 ${y(0)}H${WIDTH}`} />
        <path className="spread" d={`M0 ${y(2 * sd)}H${WIDTH}M0 ${y(-2 * sd)}H${WIDTH}`} />
        <path className="rest" d={path} />
      </svg>
      <p className="second note">
        <ChannelName text={text} />. {inWaves ? words.waves : words.noWaves}
      </p>
    </>
  );
}
