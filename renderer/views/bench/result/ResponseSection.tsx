import type { BenchTest } from '../../../../shared/bench/bench-test.ts';
import type { BenchChannel } from '../../../../shared/bench/instrument.ts';
import type { GasSlot } from '../../../../shared/bench/plan.ts';
import { gasOf } from '../../../../shared/bench/references.ts';
import type { RoundResult } from '../../../../shared/bench/results/test-result.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { ResponsePicture } from './ResultPictures.tsx';

const words = benchResult;

/** How fast the chosen channel followed a change of gas; says what is missing when it was not measured. */
export function ResponseSection({
  test,
  result,
  channel,
  gasName,
}: {
  test: BenchTest;
  result: RoundResult;
  channel: BenchChannel | undefined;
  gasName: (slot: GasSlot) => string;
}) {
  const responses = result.evaluation.channels.find((one) => one.channel === channel)?.responses ?? [];
  const response = responses[0];
  const curve = result.curves.find((one) => one.channel === channel && one.from === response?.from && one.to === response.to);
  const missing = result.linesMissing.find((one) => one.channel === channel);
  const missingCurve = missing === undefined ? undefined : result.curves.find((one) => one.channel === channel && one.to === missing.to);
  if (channel === undefined || response === undefined || curve === undefined)
    return (
      <section>
        <h3>{bench.purposes.response}</h3>
        <p className="second">
          {missing === undefined || channel === undefined ? (
            words.noResponse
          ) : (
            <ChannelName text={words.linesMissing(bench.channels[channel], gasName(missing.to as GasSlot))} />
          )}
        </p>
        {missingCurve !== undefined && channel !== undefined && (
          <ResponsePicture channel={channel} points={missingCurve.points} response={undefined} target={undefined} />
        )}
      </section>
    );
  const target =
    response.to === 'air' ? undefined : gasOf(test.gases, response.to as GasSlot)?.components.find((one) => one.channel === channel)?.value;
  return (
    <section aria-label={bench.purposes.response}>
      <h3>
        <ChannelName text={words.response(bench.channels[channel], gasName(response.from as GasSlot), gasName(response.to as GasSlot))} />
      </h3>
      <p className="small second">
        {words.dead} <b>{formatNumber(response.deadS, 1)} s</b> · {words.rise} <b>{formatNumber(response.riseS, 0)} s</b> ·{' '}
        {words.repeats(responses.length)}
        {!response.fromMark && ` · ${words.byMovement}`}
      </p>
      <ResponsePicture channel={channel} points={curve.points} response={response} target={target} />
    </section>
  );
}
