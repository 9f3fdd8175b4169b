import type { CallResult, ExercisePattern } from '../../../../shared/warm-up/call-it.ts';
import type { CallReason } from '../../../../shared/warm-up/reasons.ts';
import { channelWords, stateWords } from '../../../../shared/words/tune/states.ts';
import { patternWords, warmUp } from '../../../../shared/words/warm-up.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { formatDuration } from '../../../../shared/format/duration.ts';
import { DASH, formatDifference, formatNumber, formatWithUnit, shownAs, withUnit } from '../../../../shared/format/quantity.ts';
import './call-it.css';

type Units = 'us' | 'metric';
type Props = { result: CallResult; reasons: readonly CallReason[]; truth: ExercisePattern | undefined; units: Units };

/** How early or late, what it would have cost, and why: what each channel still had to go. */
export function CallAnswer({ result, reasons, truth, units }: Props) {
  const { earlyS, costO2, costStackK, costEfficiencyPoints, points, patternRight, patternSaid } = result;
  const when =
    earlyS === undefined
      ? warmUp.never
      : earlyS > 5
        ? warmUp.early(formatDuration(earlyS * 1000))
        : earlyS < -5
          ? warmUp.late(formatDuration(-earlyS * 1000))
          : warmUp.onTime;
  const words = warmUp.reasons;
  return (
    <div className="call-told">
      <div>
        <p className="lead">
          {when} {warmUp.points(formatNumber(points, 1))}.
        </p>
        <p>
          {earlyS !== undefined && earlyS > 5 && costO2 !== undefined && costStackK !== undefined && (
            <ChannelName
              text={warmUp.cost(
                `${formatNumber(costO2, 1)} %`,
                signed('stackTemperature', costStackK, units),
                formatNumber(costEfficiencyPoints ?? 0, 1),
              )}
            />
          )}
          {earlyS !== undefined && earlyS < -5 && warmUp.lateCost}
        </p>
        {truth !== undefined && (
          <p>
            {patternRight === true ? warmUp.answers.right : patternSaid === undefined ? warmUp.answers.none : ''}{' '}
            {patternRight !== true && warmUp.patternWas(patternWords[truth])}
          </p>
        )}
      </div>
      {reasons.length > 0 && (
        <table className="call-reasons">
          <caption>{words.title}</caption>
          <thead>
            <tr>
              <th scope="col">{words.channel}</th>
              <th scope="col">{words.state}</th>
              <th scope="col" className="right">
                {words.value}
              </th>
              <th scope="col" className="right">
                {reasons.some(({ restAt }) => restAt !== undefined) ? words.rest : words.forecast}
              </th>
              <th scope="col" className="right">
                {words.toGo}
              </th>
              <th scope="col" className="right">
                {words.band}
              </th>
            </tr>
          </thead>
          <tbody>
            {reasons.map(({ channel, state, value, restAt, headingFor, toGo, band }) => {
              const target = restAt ?? headingFor;
              return (
                <tr key={channel}>
                  <th scope="row">
                    <ChannelName text={channelWords[channel].name} />
                  </th>
                  <td>{stateWords[state]}</td>
                  <td className="right num">{value === undefined ? DASH : formatWithUnit(channel, value, units)}</td>
                  <td className="right num">{target === undefined ? DASH : formatWithUnit(channel, target, units)}</td>
                  <td className="right num">{toGo === undefined ? DASH : signed(channel, toGo, units)}</td>
                  <td className="right num">{band === undefined ? DASH : `±${formatDifference(channel, band, units)}`}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      )}
    </div>
  );
}

/** Less than half of the last digit is none. */
const signed = (channel: CallReason['channel'], toGo: number, units: Units): string => {
  const { decimals, factor, unit } = shownAs(channel, units);
  if (Math.abs(toGo * factor) < 0.5 * 10 ** -decimals) return withUnit('0', unit === '°C' ? 'K' : unit);
  return `${toGo > 0 ? '+' : '−'}${formatDifference(channel, toGo, units)}`;
};
