import type { Trial } from '../../../shared/tuning/trial/trial.ts';

export type TrialParts = {
  id: string;
  shutter?: number;
  band?: number;
  stage?: string;
  o2?: number;
  co?: number;
  stackC?: number;
  airC?: number;
  smoke?: number | readonly number[];
  overFirePa?: number;
  breechPa?: number;
  pumpPa?: number;
  atMs?: number;
  settled?: boolean;
  sd?: number;
  sensorU?: number;
};

/** A trial with a reading of 30 independent samples. */
export function makeTrial(parts: TrialParts): Trial {
  const { id, stage = '1', sd = 0.05, sensorU = 0.1, atMs = 0 } = parts;
  const channel = (mean: number, scale = 1) => ({
    mean,
    sd: sd * scale,
    n: 30,
    nEff: 30,
    u: Math.hypot(sensorU * scale, (sd * scale) / Math.sqrt(30)),
  });
  const channels = {
    ...(parts.o2 === undefined ? {} : { o2: channel(parts.o2) }),
    ...(parts.co === undefined ? {} : { co: channel(parts.co, 10) }),
    ...(parts.stackC === undefined ? {} : { stackTemperature: channel(parts.stackC, 5) }),
    ...(parts.airC === undefined ? {} : { airTemperature: channel(parts.airC) }),
  };
  const numbers = parts.smoke === undefined ? undefined : typeof parts.smoke === 'number' ? [parts.smoke] : parts.smoke;
  return {
    id,
    runId: 'run',
    fromMs: atMs,
    takenWallMs: atMs,
    setting: {
      stage,
      positions: [
        ...(parts.shutter === undefined ? [] : [{ name: 'shutter', value: parts.shutter }]),
        ...(parts.band === undefined ? [] : [{ name: 'band', value: parts.band }]),
      ],
    },
    ...(Object.keys(channels).length === 0
      ? {}
      : {
          reading: {
            id: `reading-${id}`,
            scope: parts.stackC === undefined ? ('gas' as const) : ('full' as const),
            settled: parts.settled ?? true,
            fromMs: atMs,
            toMs: atMs + 30_000,
            takenMs: atMs + 30_000,
            final: true,
            channels,
          },
        }),
    ...(numbers === undefined ? {} : { smoke: { spots: numbers.map((number) => ({ number })) } }),
    ...(parts.overFirePa === undefined && parts.breechPa === undefined
      ? {}
      : {
          draft: {
            ...(parts.overFirePa === undefined ? {} : { overFirePa: parts.overFirePa }),
            ...(parts.breechPa === undefined ? {} : { breechPa: parts.breechPa }),
          },
        }),
    ...(parts.pumpPa === undefined ? {} : { pumpPa: parts.pumpPa }),
    notes: [],
  };
}
