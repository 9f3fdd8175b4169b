import { stillFalls } from '../../../../shared/bench/results/noise.ts';
import type { RoundResult } from '../../../../shared/bench/results/test-result.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import { unitText } from '../../../../shared/words/bench/bench-format.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { NoisePicture } from './NoisePicture.tsx';

const words = benchResult;

/** How much the reading scatters at constant gas, by averaging time. */
export function NoiseSection({ noise }: { noise: RoundResult['noise'][number] | undefined }) {
  if (noise === undefined || noise.points.length < 2) return null;
  const { channel, best, points } = noise;
  const digits = channel === 'o2' || channel === 'co2' ? 3 : 2;
  const about =
    best === undefined || best.deviation === 0
      ? words.noiseHidden
      : (stillFalls(points, best) ? words.noiseFalls : words.noiseAbout)(
          `${formatNumber(best.averagingS, 0)} s`,
          unitText(channel, formatNumber(best.deviation, digits)),
        );
  return (
    <section aria-label={bench.purposes.noise}>
      <h3>
        <ChannelName text={words.noiseTitle(bench.channels[channel])} />
      </h3>
      <p className="small second">{about}</p>
      <NoisePicture noise={noise} />
    </section>
  );
}
