/**
 * Numbers that boards send for 'no value', though the gas or the chimney could have them too: which it is, the values before say.
 * -1 for CO and temperatures: common practice. 85 degC is what a one-wire temperature sensor holds before its first conversion: from memory.
 */
import type { ChannelId } from '../../measurement/channel.ts';
import type { RecipeField } from '../../measurement/recipe.ts';
import type { AbsentReason } from '../../measurement/sample.ts';

const CODE = -1;
const POWER_ON_C = 85;
/** ppm from one line to the next: a cell that drifts around nought does not come from so far */
const CO_FALL = 9;
/** K from one line to the next */
const STACK_LEAP = 12;

type Code = {
  readonly is: (sent: number, inner: number) => boolean;
  readonly means: AbsentReason;
  /** so far from the value before it is no value */
  readonly leap: number;
  /** before any other value, too: nothing has been measured yet */
  readonly atFirst: boolean;
};
const isMinusOne = (sent: number): boolean => sent === CODE;
const codes: Partial<Record<ChannelId, readonly Code[]>> = {
  co: [{ is: isMinusOne, means: 'error', leap: CO_FALL, atFirst: true }],
  stackTemperature: [
    { is: isMinusOne, means: 'error', leap: STACK_LEAP, atFirst: false },
    { is: (_, inner) => Math.abs(inner - POWER_ON_C) < 1e-6, means: 'warming-up', leap: STACK_LEAP, atFirst: true },
  ],
  airTemperature: [
    { is: isMinusOne, means: 'error', leap: STACK_LEAP, atFirst: false },
    { is: (_, inner) => Math.abs(inner - POWER_ON_C) < 1e-6, means: 'warming-up', leap: STACK_LEAP, atFirst: true },
  ],
};

/** Told every value of one channel in turn. @returns why it is none */
export function createFaultCodes({
  channel,
}: Pick<RecipeField, 'channel'>): ((sent: number, inner: number) => AbsentReason | undefined) | undefined {
  const mine = codes[channel];
  if (mine === undefined) return undefined;
  let last: number | undefined;
  return (sent, inner) => {
    const code = mine.find(({ is }) => is(sent, inner));
    if (code !== undefined && (last === undefined ? code.atFirst : Math.abs(inner - last) > code.leap)) return code.means;
    last = inner;
    return undefined;
  };
}
