/** How the simulated instrument's lines are read: known, because we write them ourselves. */
import type { LineShape, SimulatedChannel } from '../../shared/burner/scenario.ts';
import { LineRecipe, type LineRecipeInput } from '../../shared/measurement/recipe.ts';
import type { SentUnit } from '../../shared/measurement/sent-unit.ts';
import { defined } from '../../shared/defined.ts';

const units: Record<SimulatedChannel, SentUnit> = { o2: '%', co: 'ppm', stackTemperature: 'C', airTemperature: 'C', draft: 'Pa' };
const keys: Record<SimulatedChannel, string> = { o2: 'O2', co: 'CO', stackTemperature: 'TS', airTemperature: 'TA', draft: 'DR' };
const jsonKeys: Record<SimulatedChannel, string> = {
  o2: 'o2',
  co: 'co',
  stackTemperature: 't_stack',
  airTemperature: 't_air',
  draft: 'draft_pa',
};
const tags: Record<SimulatedChannel, string> = { o2: 'A', co: 'B', stackTemperature: 'C', airTemperature: 'D', draft: 'E' };
const fixedFields: Record<SimulatedChannel, { width: number; decimals: number }> = {
  o2: { width: 4, decimals: 2 },
  co: { width: 5, decimals: 0 },
  stackTemperature: { width: 5, decimals: 1 },
  airTemperature: { width: 4, decimals: 1 },
  draft: { width: 5, decimals: 1 },
};
const words = { WARM: 'warming-up', PURGE: 'purge', OK: 'measuring' } as const;

type Parts = Pick<LineRecipeInput, 'shape' | 'fields'> & Partial<LineRecipeInput>;

function partsFor(shape: LineShape, channels: readonly SimulatedChannel[], header: string | undefined): Parts {
  const at = (place: (channel: SimulatedChannel, index: number) => number | string): LineRecipeInput['fields'] =>
    channels.map((channel, index) => ({ channel, at: place(channel, index), unit: units[channel] }));
  const seconds = (place: number | string) => ({ kind: 'field', at: place, format: 'seconds' }) as const;
  switch (shape) {
    case 'columns':
    case 'semicolon': {
      const delimiter = shape === 'columns' ? ',' : ';';
      return {
        shape: { kind: 'columns', delimiter, count: channels.length + 1, ...defined({ header: header?.split(delimiter) }) },
        fields: at((_, index) => index + 1),
        time: seconds(0),
        decimal: shape === 'columns' ? '.' : ',',
      };
    }
    case 'blanks':
      return { shape: { kind: 'columns', delimiter: 'blanks', count: channels.length }, fields: at((_, index) => index) };
    case 'keyed':
      return {
        shape: { kind: 'keyed', separator: '=', between: 'blank' },
        fields: at((channel) => keys[channel]),
        status: { at: 'ST', words },
      };
    case 'json':
      return { shape: { kind: 'json' }, fields: at((channel) => jsonKeys[channel]), time: seconds('t') };
    case 'nmea':
      return {
        shape: { kind: 'columns', delimiter: ',', startsWith: '$FSGAS', count: channels.length + 1 },
        fields: at((_, index) => index + 1),
        check: { kind: 'xor', lead: '*', skip: 1 },
      };
    case 'cyclic':
      return {
        shape: { kind: 'tagged', delimiter: 'blanks', gather: { order: channels.map((channel) => tags[channel]) } },
        fields: at((channel) => `${tags[channel]}.1`),
      };
    case 'fixed': {
      let start = 0;
      const fields = channels.map((channel) => {
        const { width, decimals } = fixedFields[channel];
        const field = { channel, at: { start, end: start + width }, unit: units[channel], scale: 10 ** -decimals };
        start += width;
        return field;
      });
      return {
        shape: { kind: 'fixed', length: start + 2 },
        fields,
        status: { at: { start: start + 1, end: start + 2 }, words: { '0': 'measuring', '1': 'warming-up', '2': 'purge' } },
        sentinels: channels.map((channel) => ({ channel, value: Number('9'.repeat(fixedFields[channel].width)), means: 'over-range' })),
      };
    }
  }
}

export function simulatedRecipe(shape: LineShape, channels: readonly SimulatedChannel[], header: string | undefined): LineRecipe {
  return LineRecipe.parse({ format: 'flueside-recipe', version: 1, name: `simulated, ${shape}`, ...partsFor(shape, channels, header) });
}
