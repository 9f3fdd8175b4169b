/** `saving`: fuel and CO2 saved by an efficiency gain. */
import { co2SavedKg, fuelSavedPercent } from '../../shared/combustion/saving.ts';
import { problem } from '../../shared/problem.ts';
import { L_PER_US_GALLON } from '../../shared/units/convert.ts';
import { EXIT_DONE, fail, readNumber, readOptions, type Command } from './command.ts';
import { fuelOptions, fuelUsage, readFuel } from './input/fuel-option.ts';
import { jsonNumber } from './output/json-number.ts';
import { savingTexts } from '../../shared/words/commands/combustion.ts';

const options = {
  ...fuelOptions,
  before: { type: 'string' },
  after: { type: 'string' },
  'annual-gal': { type: 'string' },
  'annual-l': { type: 'string' },
  json: { type: 'boolean' },
} as const;

const usage = savingTexts.usage(fuelUsage);

export const command: Command = {
  name: 'saving',
  usage,
  run(args, io) {
    const parsed = readOptions(args, options);
    if (!parsed.ok) return Promise.resolve(fail(io, parsed.error));
    const { values } = parsed.value;
    const fuel = readFuel(values);
    if (!fuel.ok) return Promise.resolve(fail(io, fuel.error));
    const numbers: Partial<Record<'before' | 'after' | 'annual-gal' | 'annual-l', number>> = {};
    for (const name of ['before', 'after', 'annual-gal', 'annual-l'] as const) {
      const number = readNumber(name, values[name]);
      if (!number.ok) return Promise.resolve(fail(io, number.error));
      if (number.value !== undefined) numbers[name] = number.value;
    }
    const { before, after } = numbers;
    if (before === undefined || after === undefined) return Promise.resolve(fail(io, problem('usage', 'Give --before and --after.')));
    if (numbers['annual-gal'] !== undefined && numbers['annual-l'] !== undefined)
      return Promise.resolve(fail(io, problem('usage', savingTexts.galOrLitres)));
    const gallons = numbers['annual-gal'] ?? (numbers['annual-l'] === undefined ? undefined : numbers['annual-l'] / L_PER_US_GALLON);
    if (gallons !== undefined && gallons < 0)
      return Promise.resolve(fail(io, problem('value-out-of-range', savingTexts.consumptionNotPossible)));
    const saved = fuelSavedPercent({ beforePercent: before, afterPercent: after });
    if (!saved.ok) return Promise.resolve(fail(io, saved.error));

    const gallonsSaved = gallons === undefined ? undefined : (gallons * saved.value) / 100;
    const co2 = gallonsSaved === undefined ? undefined : co2SavedKg(fuel.value.fuel, gallonsSaved);
    const notes = [...fuel.value.notes, savingTexts.bothEfficienciesMustSameHeating];
    if (saved.value < 0) notes.push(savingTexts.wasted);
    if (gallons === undefined) notes.push(savingTexts.onlyShareKnown);
    else if (co2 === undefined) notes.push(savingTexts.noCo2Factor);
    else notes.push(`CO2 factor: ${co2.source}${co2.biogenic > 0 ? savingTexts.partlyBiogenic : ''}.`);
    const result = {
      fuel: fuel.value.fuel.id,
      fuel_saved_pct: jsonNumber(saved.value),
      gallons_saved: jsonNumber(gallonsSaved),
      litres_saved: jsonNumber(gallonsSaved === undefined ? undefined : gallonsSaved * L_PER_US_GALLON),
      co2_saved_kg: jsonNumber(co2?.total),
      co2_saved_biogenic_kg: jsonNumber(co2?.biogenic),
      notes,
    };
    if (values.json === true) io.out(JSON.stringify(result));
    else
      for (const [key, value] of Object.entries(result))
        io.out(
          `${key.padEnd(24)}${value === null ? '--' : typeof value === 'number' ? Number(value.toPrecision(5)) : Array.isArray(value) ? value.join(' ') : value}`,
        );
    return Promise.resolve(EXIT_DONE);
  },
};
