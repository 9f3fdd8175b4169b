/** The fuel of a command: a built-in one, a blend by name, or the user's own analysis. Shared by the combustion commands. */
import { checkAnalysis, fuelFromSpecificGravity } from '../../shared/combustion/analysis.ts';
import { findFuel, fuelIds, type Fuel } from '../../shared/combustion/fuel.ts';
import { problem, type Problem } from '../../shared/problem.ts';
import { err, ok, type Result } from '../../shared/result.ts';
import { parseTypedNumber } from '../../shared/units/parse-number.ts';
import { readNumber } from './command.ts';

export const fuelOptions = {
  fuel: { type: 'string' },
  ultimate: { type: 'string' },
  hhv: { type: 'string' },
  density: { type: 'string' },
  'specific-gravity': { type: 'string' },
} as const;

export const fuelUsage = `Fuel:
  --fuel ID                  ${fuelIds.join(', ')}; b1 to b99 for other biodiesel blends by volume
  --ultimate C,H,O,N,S,W     your own analysis in mass % (sum 100 within 0.5); with decimal commas separate by ';'
    --hhv KJ_PER_KG          its higher heating value
    --density KG_PER_L       at 15 degC, for liquid fuels
  --specific-gravity D       only the specific gravity 60/60 degF is known: composition and heating value by Cragoe's relation`;

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
  if (given === 0) return err(problem('usage', 'Which fuel? Give --fuel, --ultimate or --specific-gravity.'));
  if (given > 1) return err(problem('usage', 'Give only one of --fuel, --ultimate and --specific-gravity.'));

  const hhv = readNumber('hhv', values.hhv);
  if (!hhv.ok) return hhv;
  const density = readNumber('density', values.density);
  if (!density.ok) return density;

  if (values.fuel !== undefined) {
    if (hhv.value !== undefined || density.value !== undefined) return err(problem('usage', '--hhv and --density belong to --ultimate.'));
    const fuel = findFuel(values.fuel.trim().toLowerCase());
    if (fuel === undefined) return err(problem('fuel-unknown', `"${values.fuel}"; there are ${fuelIds.join(', ')}.`));
    return ok({ fuel, notes: [] });
  }
  if (values['specific-gravity'] !== undefined) {
    if (hhv.value !== undefined || density.value !== undefined)
      return err(problem('usage', 'The specific gravity already gives heating value and density.'));
    const gravity = readNumber('specific-gravity', values['specific-gravity']);
    if (!gravity.ok) return gravity;
    const fuel = fuelFromSpecificGravity(gravity.value ?? 0);
    return fuel.ok
      ? ok({ fuel: fuel.value, notes: ["Composition and heating value are estimates by Cragoe's relation, not an analysis."] })
      : fuel;
  }
  const parts = readParts(values.ultimate ?? '');
  if (!parts.ok) return parts;
  if (hhv.value === undefined)
    return err(problem('usage', "--ultimate needs --hhv in kJ/kg. Only the density is known? Use --specific-gravity (Cragoe's relation)."));
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
    return err(problem('usage', `--ultimate takes six numbers, C,H,O,N,S,W; ${numbers.length} came.`));
  }
  return ok([c, h, o, n, s, w]);
}
