import type { ChannelId } from '../measurement/channel.ts';
import type { Sample } from '../measurement/sample.ts';

/**
 * Two facts that show that the columns are what the recipe says: in room air O2 reads 20.9 and CO nothing; warming the probe
 * moves exactly one column. Settings are common practice.
 */
export type Confirmation = {
  push(sample: Sample): ConfirmState;
  /** The user begins to warm the probe's tip now. */
  startWarming(): void;
  readonly state: ConfirmState;
};
export type ConfirmState = {
  readonly roomAir: 'waiting' | 'confirmed' | 'o2-differs' | 'co-differs';
  readonly probe: 'not-started' | 'waiting' | 'confirmed' | 'another-moved' | 'several-moved';
  /** what moved, when it was not the stack temperature alone */
  readonly moved: readonly ChannelId[];
};

const FRESH_O2 = 20.9;
const O2_TOLERANCE = 0.3;
const CO_NEAR_ZERO = 5;
/** so many samples in a row must agree */
const SAMPLES_NEEDED = 8;
const MEMORY = 20;
/** how far a channel has to go to have moved: more than it wanders by itself */
const moves: Partial<Record<ChannelId, number>> = {
  o2: 0.5,
  co: 15,
  co2: 0.5,
  no: 15,
  no2: 15,
  so2: 15,
  stackTemperature: 5,
  airTemperature: 2,
  draft: 5,
};

const median = (values: readonly number[]): number | undefined => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

export function createConfirmation(): Confirmation {
  const recent: Sample[] = [];
  let roomAir: ConfirmState['roomAir'] = 'waiting';
  let probe: ConfirmState['probe'] = 'not-started';
  let moved: ChannelId[] = [];
  let rest = new Map<ChannelId, number>();
  let agreeing = 0;
  let aloneFor = 0;

  const judgeAir = ({ values }: Sample): void => {
    if (roomAir === 'confirmed') return;
    const { o2, co } = values;
    if (o2 === undefined || co === undefined) return;
    const isO2Right = Math.abs(o2 - FRESH_O2) <= O2_TOLERANCE;
    const isCoRight = Math.abs(co) <= CO_NEAR_ZERO;
    agreeing = isO2Right && isCoRight ? agreeing + 1 : 0;
    roomAir = agreeing >= SAMPLES_NEEDED ? 'confirmed' : agreeing > 0 ? 'waiting' : isO2Right ? 'co-differs' : 'o2-differs';
  };

  const judgeProbe = ({ values }: Sample): void => {
    if (probe === 'not-started' || probe === 'confirmed') return;
    moved = [];
    for (const [channel, before] of rest) {
      const now = values[channel];
      if (now !== undefined && Math.abs(now - before) > (moves[channel] ?? Infinity)) moved.push(channel);
    }
    const isStackAlone = moved.length === 1 && moved[0] === 'stackTemperature';
    aloneFor = isStackAlone ? aloneFor + 1 : 0;
    // A column that lags may still follow; the fact stands when it has held for a while.
    if (isStackAlone) probe = aloneFor >= SAMPLES_NEEDED ? 'confirmed' : 'waiting';
    else probe = moved.length === 0 ? 'waiting' : moved.length === 1 ? 'another-moved' : 'several-moved';
  };

  const state = (): ConfirmState => ({ roomAir, probe, moved });
  return {
    push(sample) {
      recent.push(sample);
      if (recent.length > MEMORY) recent.shift();
      judgeAir(sample);
      judgeProbe(sample);
      return state();
    },
    startWarming() {
      rest = new Map();
      for (const channel of Object.keys(moves) as ChannelId[]) {
        const before = median(recent.flatMap(({ values }) => values[channel] ?? []));
        if (before !== undefined) rest.set(channel, before);
      }
      aloneFor = 0;
      moved = [];
      probe = 'waiting';
    },
    get state() {
      return state();
    },
  };
}
