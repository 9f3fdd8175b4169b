/** `compute`: one set of values in, the whole combustion result out. */
import { derive } from '../../shared/combustion/figures/derive.ts';
import { co2MaxDoubt, co2MaxRefusal, withCo2Max } from '../../shared/combustion/co2-max.ts';
import { checkGasConsistency } from '../../shared/combustion/f-factors.ts';
import type { BlankReason, Derived } from '../../shared/measurement/derived.ts';
import { problem } from '../../shared/problem.ts';
import { EXIT_DONE, fail, readOptions, type Command } from './command.ts';
import { fuelUsage, readFuel } from './input/fuel-option.ts';
import type { DeriveInput } from '../../shared/combustion/figures/figures.ts';
import { whenDefined } from '../../shared/defined.ts';
import { computeTexts } from '../../shared/words/commands/combustion.ts';
import { blankSentences } from '../../shared/words/core/blank-sentences.ts';
import { options, readNumbers, prepare } from './input/combustion-options.ts';
import { toJson, toLines } from './output/combustion-result.ts';

const usage = computeTexts.usage(fuelUsage);

export const command: Command = {
  name: 'compute',
  usage,
  run(args, io) {
    const parsed = readOptions(args, options);
    if (!parsed.ok) return Promise.resolve(fail(io, parsed.error));
    const { values } = parsed.value;
    const fuel = readFuel(values);
    if (!fuel.ok) return Promise.resolve(fail(io, fuel.error));
    const numbers = readNumbers(values);
    if (!numbers.ok) return Promise.resolve(fail(io, numbers.error));
    const co2Max = numbers.value['co2-max'];
    const refusal = co2Max === undefined ? undefined : co2MaxRefusal(fuel.value.fuel, co2Max);
    if (refusal !== undefined) return Promise.resolve(fail(io, problem('value-out-of-range', refusal)));
    const prepared = prepare(withCo2Max(fuel.value.fuel, co2Max), numbers.value);
    if (!prepared.ok) return Promise.resolve(fail(io, prepared.error));
    const { input, notes } = prepared.value;
    const derived = derive(input);
    const allNotes = [...fuel.value.notes, ...notes, ...blankNotes(derived), ...co2MaxNotes(input), ...gasNotes(input, derived)];
    if (values.json === true) io.out(JSON.stringify(toJson(input, derived, allNotes)));
    else for (const line of toLines(input, derived, allNotes)) io.out(line);
    return Promise.resolve(EXIT_DONE);
  },
};

/** One sentence per reason, not one per figure. */
const blankNotes = ({ blank }: Derived): string[] =>
  [...new Set(Object.values(blank))].map((reason: BlankReason) => blankSentences[reason]);

const co2MaxNotes = ({ fuel, o2PercentDry }: DeriveInput): string[] =>
  fuel.co2MaxSetPercent === undefined
    ? []
    : [
        ...whenDefined(co2MaxDoubt(fuel, fuel.co2MaxSetPercent)),
        o2PercentDry === undefined ? computeTexts.co2MaxGivesO2 : computeTexts.co2MaxLeavesLosses,
      ];

function gasNotes({ fuel, o2PercentDry, co2PercentDry, coPpmDry, stackC }: DeriveInput, { values }: Derived): string[] {
  const notes: string[] = [];
  if (o2PercentDry !== undefined && co2PercentDry !== undefined) {
    const check = checkGasConsistency(fuel, o2PercentDry, co2PercentDry, coPpmDry);
    if (check !== undefined) notes.push(check.text);
  }
  if ((values.excessAirPercent ?? 0) < 0) notes.push(computeTexts.tooMuchCo);
  if (values.efficiencyHhvPercent !== undefined && stackC !== undefined && (stackC > 600 || stackC < 50))
    notes.push(computeTexts.stackOutsideMethod);
  const airFree = values.coAirFreePpm;
  if (airFree !== undefined && airFree > 400) notes.push(computeTexts.coStop);
  else if (airFree !== undefined && airFree >= 100) notes.push(computeTexts.coFindCause);
  if (values.acidDewPointMarginK !== undefined && values.acidDewPointMarginK < 0) notes.push(computeTexts.belowAcidDewPoint);
  return notes;
}
