/** The fuel of a command: a built-in one, a blend by name, or the user's own analysis. Shared by the combustion commands. */
import { checkAnalysis, fuelFromSpecificGravity } from '../../../shared/combustion/analysis.ts';
import { findFuel, fuelIds, type Fuel } from '../../../shared/combustion/fuel.ts';
import { problem, type Problem } from '../../../shared/problem.ts';
import { err, ok, type Result } from '../../../shared/result.ts';
import { parseTypedNumber } from '../../../shared/units/parse-number.ts';
import { readNumber } from '../command.ts';
import { fuelOptionTexts } from '../../../shared/words/commands/combustion.ts';

export const fuelOptions = {
  fuel: { type: 'string' },
  ultimate: { type: 'string' },
  hhv: { type: 'string' },
  density: { type: 'string' },
  'specific-gravity': { type: 'string' },
} as const;

export const fuelUsage = fuelOptionTexts.usage(fuelIds.join(', '));

type FuelValues = {
  readonly fuel?: string | undefined;
  readonly ultimate?: string | undefined;
  readonly hhv?: string | undefined;
  readonly density?: string | undefined;
  readonly 'specific-gravity'?: string | undefined;
};

export type ChosenFuel = { readonly fuel: Fuel; readonly notes: readonly string[] };

export function readFuel(values: FuelValues): Result<ChosenFuel, Problem> {
  const given = [values.fuel, values.ultimate, values['specific-gravity']].filter((value) => value !== undefined).length;
  if (given === 0) return err(problem('usage', fuelOptionTexts.whichFuel));
  if (given > 1) return err(problem('usage', fuelOptionTexts.oneFuel));

  const hhv = readNumber('hhv', values.hhv);
  if (!hhv.ok) return hhv;
  const density = readNumber('density', values.density);
  if (!density.ok) return density;

  if (values.fuel !== undefined) {
    if (hhv.value !== undefined || density.value !== undefined) return err(problem('usage', fuelOptionTexts.belongToUltimate));
    const fuel = findFuel(values.fuel.trim().toLowerCase());
    if (fuel === undefined) return err(problem('fuel-unknown', `"${values.fuel}"; there are ${fuelIds.join(', ')}.`));
    return ok({ fuel, notes: [] });
  }
  if (values['specific-gravity'] !== undefined) {
    if (hhv.value !== undefined || density.value !== undefined) return err(problem('usage', fuelOptionTexts.gravityGivesBoth));
    const gravity = readNumber('specific-gravity', values['specific-gravity']);
    if (!gravity.ok) return gravity;
    const fuel = fuelFromSpecificGravity(gravity.value ?? 0);
    return fuel.ok ? ok({ fuel: fuel.value, notes: [fuelOptionTexts.estimated] }) : fuel;
  }
  const parts = readParts(values.ultimate ?? '');
  if (!parts.ok) return parts;
  if (hhv.value === undefined) return err(problem('usage', fuelOptionTexts.ultimateNeedsHhv));
  return checkAnalysis({ massPercent: parts.value, hhvKjPerKg: hhv.value, densityKgPerL: density.value });
}

/** 'C,H,O,N,S,W'; with ';' or blanks between, a comma is a decimal comma. */
function readParts(text: string): Result<[number, number, number, number, number, number], Problem> {
  const pieces = (/[;\s]/.test(text.trim()) ? text.trim().split(/\s*;\s*|\s+/) : text.split(',')).map((piece) => parseTypedNumber(piece));
  const numbers: number[] = [];
  for (const piece of pieces) {
    if (!piece.ok) return err({ code: piece.error.code, detail: `--ultimate ${piece.error.detail ?? ''}`.trim() });
    numbers.push(piece.value);
  }
  const [c, h, o, n, s, w] = numbers;
  if (
    numbers.length !== 6 ||
    c === undefined ||
    h === undefined ||
    o === undefined ||
    n === undefined ||
    s === undefined ||
    w === undefined
  ) {
    return err(problem('usage', fuelOptionTexts.sixNumbers(numbers.length)));
  }
  return ok([c, h, o, n, s, w]);
}
