/**
 * What the values say against the names: two names that stand over each other's values, lines of two instruments by turns, numbers
 * written in hexadecimal. None of it chooses a column; it opens the question, or takes a column out.
 */
import { instrumentState } from '../../reading/absent-words.ts';
import { toInner } from '../../to-inner.ts';
import type { ChannelId } from '../../../measurement/channel.ts';
import type { SentUnit } from '../../../measurement/sent-unit.ts';
import type { Column } from '../tables/table.ts';

/** a column that is used as a channel, and how it is read */
export type Used = { readonly channel: ChannelId; readonly column: Column; readonly unit: SentUnit; readonly scale: number };

const innerValues = ({ channel, column, unit, scale }: Used): (number | undefined)[] => {
  const conversion = toInner(channel, unit) ?? { factor: 1, offset: 0 };
  return column.values.map((value) => (value === undefined ? undefined : value * scale * conversion.factor + conversion.offset));
};

const pairsOf = (a: Used, b: Used): [number, number][] => {
  const [x, y] = [innerValues(a), innerValues(b)];
  return x.flatMap((one, at) => {
    const other = y[at];
    return one === undefined || other === undefined ? [] : [[one, other] as [number, number]];
  });
};

/** so many rows at least show a contradiction */
const LEAST_ROWS = 4;
/** a cold chimney is cooler than the room, though never by so much, K */
const COOLER_THAN_AIR = 25;

const areTemperaturesSwapped = (stack: Used, air: Used): boolean => {
  const pairs = pairsOf(stack, air);
  return pairs.length >= LEAST_ROWS && pairs.filter(([x, y]) => y > x + COOLER_THAN_AIR).length >= pairs.length * 0.4;
};

/** Oxygen of dry air, %vol; as in the combustion core. */
const AIR_O2 = 20.946;
const quantile = (sorted: Float64Array, q: number): number => sorted[Math.round(q * (sorted.length - 1))] ?? 0;
const sortedOf = (values: readonly number[]): Float64Array => Float64Array.from(values).sort();

/** CO2max that each row gives; of one fuel it is the same in all rows. */
const spreadOfMaximum = (pairs: readonly (readonly [number, number])[]): { median: number; spread: number } | undefined => {
  const maxima = sortedOf(pairs.filter(([o2]) => o2 < 17 && o2 > -0.5).map(([o2, co2]) => co2 / (1 - o2 / AIR_O2)));
  if (maxima.length < 8) return undefined;
  return { median: quantile(maxima, 0.5), spread: quantile(maxima, 0.9) - quantile(maxima, 0.1) };
};

const areGasesSwapped = (o2: Used, co2: Used): boolean => {
  const pairs = pairsOf(o2, co2);
  // Room air is 20.9 % oxygen; nothing burns to 20.9 % carbon dioxide and no oxygen.
  const air = pairs.filter(([x, y]) => x < 0.6 && y > 20.2 && y < 21.6).length;
  if (air >= LEAST_ROWS && air >= pairs.length * 0.08) return true;
  const levels = sortedOf(pairs.map(([x]) => x));
  if (quantile(levels, 0.9) - quantile(levels, 0.1) < 1) return false;
  const named = spreadOfMaximum(pairs);
  const turned = spreadOfMaximum(pairs.map(([x, y]) => [y, x]));
  return (
    turned !== undefined &&
    turned.median > 10.5 &&
    turned.median < 21 &&
    turned.spread < 0.9 &&
    (named === undefined || named.spread > 3 * turned.spread + 1)
  );
};

/** Pairs of channels whose names stand over each other's values. */
export function swappedChannels(used: readonly Used[]): (readonly [ChannelId, ChannelId])[] {
  const of = (channel: ChannelId): Used | undefined => used.find((one) => one.channel === channel);
  const [stack, air, o2, co2] = [of('stackTemperature'), of('airTemperature'), of('o2'), of('co2')];
  return [
    ...(stack !== undefined && air !== undefined && areTemperaturesSwapped(stack, air)
      ? [['stackTemperature', 'airTemperature'] as const]
      : []),
    ...(o2 !== undefined && co2 !== undefined && areGasesSwapped(o2, co2) ? [['o2', 'co2'] as const] : []),
  ];
}

/** a step from one line to the next that no gas and no probe makes and takes back at once */
const jump: Partial<Record<ChannelId, number>> = { o2: 0.5, co: 15, co2: 0.5, stackTemperature: 8 };

/** The values come back every second, third or fourth line, and are far off in between. */
function isByTurns(used: Used): boolean {
  const least = jump[used.channel];
  const values = innerValues(used).filter((value) => value !== undefined);
  if (least === undefined || values.length < 12) return false;
  const steps = (lag: number): Float64Array => {
    const list = new Float64Array(values.length - lag);
    for (let at = 0; at < list.length; at++) list[at] = Math.abs((values[at + lag] ?? 0) - (values[at] ?? 0));
    return list.sort();
  };
  const single = steps(1);
  return ([2, 3, 4] as const).some((lag) => {
    const q = lag === 2 ? 0.5 : 0.7;
    const away = quantile(single, q);
    return away > least && away > least + 6 * quantile(steps(lag), q);
  });
}

/** A word in front of the values that is another in most lines, and one of a few: names of instruments or places. */
function isTagOfPlace({ texts, statistics, foreign }: Column): boolean {
  const filled = texts.filter((text) => text.trim() !== '');
  if (statistics !== undefined || foreign !== undefined || !filled.every((text) => /^["'#]?[A-Za-z]/.test(text))) return false;
  if (filled.length < LEAST_ROWS || filled.length < texts.length * 0.8) return false;
  const kinds = new Map<string, number>();
  for (const text of filled) kinds.set(text, (kinds.get(text) ?? 0) + 1);
  if (kinds.size < 2 || kinds.size > 8 || [...kinds.values()].some((times) => times < filled.length * 0.1)) return false;
  const changes = filled.filter((text, at) => at > 0 && text !== filled[at - 1]).length;
  return changes >= (filled.length - 1) * 0.6;
}

/**
 * A word in front that changes, and the values of a channel leap with it: rows of another kind, limits among readings. A word that says what the instrument is doing is its state.
 */
function areKindsApart({ texts, statistics }: Column, used: readonly Used[]): boolean {
  if (statistics !== undefined) return false;
  const kinds = new Set(texts.map((text) => text.trim()));
  if (kinds.size < 2 || kinds.size > 8 || ![...kinds].every((kind) => /^[A-Za-z]/.test(kind))) return false;
  if ([...kinds].every((kind) => instrumentState(kind) !== undefined)) return false;
  return used.some((one) => {
    const least = jump[one.channel];
    if (least === undefined) return false;
    const values = innerValues(one);
    const steps: number[] = [];
    const leaps: number[] = [];
    for (let at = 1; at < values.length; at++) {
      const [before, now] = [values[at - 1], values[at]];
      if (before === undefined || now === undefined) continue;
      (texts[at] === texts[at - 1] ? steps : leaps).push(Math.abs(now - before));
    }
    const usual = steps.length === 0 ? 0 : quantile(sortedOf(steps), 0.5);
    return leaps.length > 0 && quantile(sortedOf(leaps), 0.25) > least + 6 * usual;
  });
}

/** Lines of two instruments, of two places, or of two kinds by turns: no run is made of both. */
export const areMixed = (used: readonly Used[], columns: readonly Column[]): boolean => {
  const first = Math.min(...used.map(({ column }) => columns.findIndex(({ at }) => at === column.at)));
  const before = columns.slice(0, Math.max(0, first));
  return used.some(isByTurns) || before.some((column) => isTagOfPlace(column) || areKindsApart(column, used));
};

/** '01c4': digits of base sixteen, all of one length; most of them look like plain numbers. */
export function isHexadecimal({ texts, statistics }: Column): boolean {
  // '180C' is a temperature with its unit: what reads as numbers throughout is none of it
  if ((statistics?.share ?? 0) > 0.95) return false;
  const filled = texts.map((text) => text.trim()).filter((text) => text !== '');
  if (filled.length < LEAST_ROWS || !filled.every((text) => /^(?:0x)?[0-9a-f]{2,8}$/i.test(text))) return false;
  if (new Set(filled.map(({ length }) => length)).size > 1) return false;
  return filled.filter((text) => /[a-f]|x/i.test(text)).length >= filled.length * 0.15;
}

/** Whole numbers that go up by the same each time: records are numbered so, however few there are yet. */
export function isNumbering({ values, statistics }: Column): boolean {
  if (statistics === undefined || statistics.decimals > 0 || statistics.distinct < LEAST_ROWS) return false;
  const numbers = values.filter((value) => value !== undefined);
  const steps = numbers.slice(1).map((value, at) => value - (numbers[at] ?? 0));
  const usual = quantile(sortedOf(steps), 0.5);
  return usual > 0 && Number.isInteger(usual) && steps.filter((step) => step === usual).length >= steps.length * 0.8;
}
