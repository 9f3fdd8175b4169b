import type { ChannelStatistics } from '../../measurement/state.ts';

const KEPT = 40;

/** Closed blocks of one channel, the last 80 s or so, for the means and spreads of readings. */
export function createBlockHistory() {
  const endMs = new Float64Array(KEPT);
  const startMs = new Float64Array(KEPT);
  const mean = new Float64Array(KEPT);
  const squares = new Float64Array(KEPT);
  const count = new Float64Array(KEPT);
  let index = -1;

  /** Mean of the blocks that began at or after `fromMs`. */
  function meanSince(fromMs: number): number | undefined {
    let sum = 0;
    let n = 0;
    for (let i = index; i > index - KEPT && i >= 0 && startMs[i % KEPT]! >= fromMs; i--) {
      sum += mean[i % KEPT]! * count[i % KEPT]!;
      n += count[i % KEPT]!;
    }
    return n > 0 ? sum / n : undefined;
  }

  return {
    add(start: number, end: number, blockMean: number, blockSquares: number, blockCount: number): void {
      index++;
      startMs[index % KEPT] = start;
      endMs[index % KEPT] = end;
      mean[index % KEPT] = blockMean;
      squares[index % KEPT] = blockSquares;
      count[index % KEPT] = blockCount;
    },
    meanSince,
    /** Start of the earliest kept block that began at or after `fromMs`. */
    since(fromMs: number): number | undefined {
      let found: number | undefined;
      for (let i = index; i > index - KEPT && i >= 0 && startMs[i % KEPT]! >= fromMs; i--) found = startMs[i % KEPT]!;
      return found;
    },
    /**
     * Mean, spread and effective sample size over [fromMs, toMs]. The effective size comes from the autocorrelation of the block
     * means, cut where it first turns negative (Geyer, Statistical Science 7(4), 1992, initial positive sequence, simplified).
     */
    statistics(fromMs: number, toMs: number, sensorU: number): ChannelStatistics | undefined {
      let n = 0;
      let sum = 0;
      const means: number[] = [];
      for (let i = Math.max(0, index - KEPT + 1); i <= index; i++) {
        const k = i % KEPT;
        if (startMs[k]! < fromMs || endMs[k]! > toMs) continue;
        n += count[k]!;
        sum += mean[k]! * count[k]!;
        means.push(mean[k]!);
      }
      if (n === 0) return undefined;
      const m = sum / n;
      let within = 0;
      for (let i = Math.max(0, index - KEPT + 1); i <= index; i++) {
        const k = i % KEPT;
        if (startMs[k]! < fromMs || endMs[k]! > toMs) continue;
        within += squares[k]! + count[k]! * (mean[k]! - m) ** 2;
      }
      const variance = n > 1 ? within / (n - 1) : 0;
      const blockVariance = means.reduce((s, x) => s + (x - m) ** 2, 0) / means.length;
      let inflation = 1;
      if (blockVariance > 0) {
        for (let lag = 1; lag <= means.length / 2; lag++) {
          let c = 0;
          for (let i = lag; i < means.length; i++) c += (means[i]! - m) * (means[i - lag]! - m);
          const rho = c / means.length / blockVariance;
          if (rho <= 0) break;
          inflation += 2 * rho;
        }
      }
      const varianceOfMean = (blockVariance * inflation) / Math.max(means.length - 1, 1);
      const nEff = varianceOfMean > 0 ? Math.max(1, Math.min(n, variance / varianceOfMean)) : n;
      return { mean: m, sd: Math.sqrt(variance), n, nEff, u: Math.sqrt(sensorU * sensorU + variance / nEff) };
    },
    reset(): void {
      index = -1;
    },
  };
}
