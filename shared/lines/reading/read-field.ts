import type { ChannelId } from '../../measurement/channel.ts';
import type { LineRecipe, RecipeField, RecipeFlag } from '../../measurement/recipe.ts';
import type { AbsentReason, Bound, Sample } from '../../measurement/sample.ts';
import { quantities, type Quantity } from '../../units/quantities.ts';
import { TWO_VALUES } from './extraction.ts';
import { createFaultCodes } from './fault-codes.ts';
import { absentReason, instrumentState } from './absent-words.ts';
import { readValue } from './read-number.ts';
import { toInner } from '../to-inner.ts';
import { classicSentinel, sentinelTest } from './sentinels.ts';

export type FieldReader = {
  readonly channel: ChannelId;
  /** A number as sent, through sentinels, scale, unit and range; writes into the sample. */
  take(value: number, sample: Sample): void;
  takeText(text: string, sample: Sample): 'value' | 'absent' | 'unknown';
};

const markAbsent = (sample: Sample, channel: ChannelId, why: AbsentReason): void => {
  (sample.absent ??= {})[channel] = why;
};

export function createFieldReader(recipe: LineRecipe, field: RecipeField): FieldReader {
  const { channel, scale, offset, valid } = field;
  const conversion = toInner(channel, field.unit) ?? { factor: 1, offset: 0 };
  const isAsSent = scale === 1 && offset === 0 && conversion.factor === 1 && conversion.offset === 0;
  const sentinel = sentinelTest(recipe.sentinels, channel);
  const { possible }: Quantity = quantities[channel];
  const faultCode = createFaultCodes(field);
  const [lowest, highest] = possible ?? [-Infinity, Infinity];

  const convert = (value: number): number => {
    if (isAsSent) return value;
    const scaled = (value * scale + offset) * conversion.factor + conversion.offset;
    // Twelve significant digits take off what binary fractions add (0.041 * 100).
    return Number(scaled.toPrecision(12));
  };

  const take = (value: number, sample: Sample): void => {
    const why = sentinel(value);
    if (why !== undefined) return markAbsent(sample, channel, why);
    const inner = convert(value);
    // 9e307 hPa is a number, in pascal it is none any more
    if (!Number.isFinite(inner)) return markAbsent(sample, channel, inner === -Infinity ? 'under-range' : 'over-range');
    if (inner < lowest || inner > highest) {
      const classic = classicSentinel(value);
      if (classic !== undefined) return markAbsent(sample, channel, classic);
    }
    if (valid !== undefined && (inner < valid[0] || inner > valid[1])) {
      return markAbsent(sample, channel, inner < valid[0] ? 'under-range' : 'over-range');
    }
    const code = faultCode?.(value, inner);
    if (code !== undefined) return markAbsent(sample, channel, code);
    sample.values[channel] = inner;
  };

  const ownWords = new Map(Object.entries(recipe.words).map(([word, why]) => [word.toUpperCase(), why]));

  return {
    channel,
    take,
    takeText(text, sample) {
      if (text === TWO_VALUES) {
        markAbsent(sample, channel, 'two-values');
        return 'absent';
      }
      if (ownWords.size > 0) {
        const why = ownWords.get(text.trim().toUpperCase());
        if (why !== undefined) {
          markAbsent(sample, channel, why);
          return 'absent';
        }
      }
      const read = readValue(text, recipe);
      switch (read.kind) {
        case 'absent':
          markAbsent(sample, channel, read.why);
          return 'absent';
        case 'unknown':
          markAbsent(sample, channel, 'not-a-number');
          return 'unknown';
        case 'number':
        case 'bound': {
          let value = read.value;
          if (read.unit !== undefined && read.unit !== field.unit) {
            // The text names its own unit and wins over the recipe; a unit that the channel can't have is noise.
            const own = toInner(channel, read.unit);
            const back = toInner(channel, field.unit);
            if (own === undefined || back === undefined) {
              markAbsent(sample, channel, 'not-a-number');
              return 'unknown';
            }
            value = Number(((value * own.factor + own.offset - back.offset) / back.factor).toPrecision(12));
          }
          if (read.kind === 'number') {
            take(value, sample);
          } else {
            const bound: Bound = { kind: read.bound, value: convert(value) };
            if (Number.isFinite(bound.value)) (sample.bounds ??= {})[channel] = bound;
            markAbsent(sample, channel, read.bound === 'above' ? 'over-range' : 'under-range');
          }
          return 'value';
        }
      }
    },
  };
}

/** The status column: a state where its word or flags have one, else the words, shown as they are. */
export function createStatusReader(recipe: LineRecipe): (text: string, sample: Sample) => void {
  const { status } = recipe;
  if (status === undefined) return () => undefined;
  const words = new Map(Object.entries(status.words).map(([word, state]) => [word.toUpperCase(), state]));
  return (text, sample) => {
    const bare = text.trim().replace(/^"|"$/g, '');
    if (bare === '') return;
    const digits = bare.replace(/^0x/i, '');
    const flags = status.masks.length > 0 && /^[0-9A-Fa-f]{1,8}$/.test(digits) ? Number.parseInt(digits, status.radix) : undefined;
    const masked = flags === undefined ? undefined : status.masks.find(({ mask, equals }) => (flags & mask) >>> 0 === equals)?.state;
    const state = words.get(bare.toUpperCase()) ?? masked ?? instrumentState(bare);
    if (state === undefined) sample.words = bare.slice(0, 80);
    else sample.state = state;
  };
}

/** 'HIGH', 'CO ALARM': that a value is far off is no reason to take it away, least of all CO. */
const ofHeight = /OVER|HIGH|HOCH|ALARM|ALERT|LIMIT|EXCEED|WARNING|DANGER|GEFAHR/;
const isFaultWord = (bare: string): boolean =>
  /^(?:FALSE|NO|OFF|INVALID|BAD)$/.test(bare) ||
  absentReason(bare) !== undefined ||
  !['measuring', undefined].includes(instrumentState(bare));

/** A flag beside the values: where it is not good they are none, of its own channel or of all. */
export function createFlagReader({ channel, good, means }: RecipeFlag): (text: string | undefined, sample: Sample) => void {
  const known = new Set(good);
  return (text, sample) => {
    const bare = text?.trim().replace(/^"|"$/g, '').toUpperCase() ?? '';
    if (bare === '' || known.has(bare)) return;
    const why = absentReason(bare);
    // 'OVERRANGE' beside one value: the number is a placeholder, and over its range is an alarm of its own
    const isOver = channel !== undefined && why === 'over-range' && bare.startsWith('O');
    if (ofHeight.test(bare) && !isOver) return;
    // of one value a word counts only where it is known to be a fault
    if (channel !== undefined && /^[A-Z]{2}/.test(bare) && !isFaultWord(bare)) return;
    if (channel === undefined) sample.state = means === 'warming-up' ? 'warming-up' : 'fault';
    else if (sample.values[channel] !== undefined) {
      delete sample.values[channel];
      markAbsent(sample, channel, why ?? means);
    }
  };
}
