import { setFigure, type BlankReason, type Derived, type DerivedKey } from '../../measurement/derived.ts';
import { ACID_DEW_POINT_EXPANDED_K } from '../dew-point.ts';
import { checkedInput } from './checked-input.ts';
import { computeFigures, gasInput, type DeriveInput, type GasInput } from './figures.ts';
import { inputUncertainties, type InputUncertainty } from './input-uncertainty.ts';
import { defaultTolerances } from '../../measurement/limits.ts';
import { quantities } from '../../units/quantities.ts';
import { COVERAGE_FACTOR, fromHalfWidth, halfWidthsAt } from './uncertainty.ts';

const squared = ({ systematic, random }: InputUncertainty): number => systematic * systematic + random * random;
const isAcidKey = (key: DerivedKey): boolean => key === 'acidDewPointC' || key === 'acidDewPointOkkesC' || key === 'acidDewPointMarginK';

/**
 * All derived figures of one set of inputs, with expanded uncertainty (U = 2 u_c), each key as a value or as a blank with its reason.
 * Pure; never throws on a number, never gives NaN. A value that is no finite number, or that nothing physical could have, is not used.
 *
 * @source FORMULAS.md; JCGM 100:2008 for the uncertainty
 */
export function derive(raw: DeriveInput): Derived {
  const input = checkedInput(raw);
  const gas: GasInput = gasInput(input);
  const u = inputUncertainties(input, gas.isFromCo2);
  const gas2 = squared(u.gas);
  const co2 = squared(u.co);
  const stack2 = squared(u.stack);
  const air2 = squared(u.air);
  const hydrogen2 = squared(u.hydrogen);
  const points2 = squared(u.points);
  const values: Partial<Record<DerivedKey, number>> = {};
  const expanded: Partial<Record<DerivedKey, number>> = {};
  const blank: Partial<Record<DerivedKey, BlankReason>> = {};
  computeFigures(input, gas, {
    value(key, value, gGas, gCo, gStack, gAir, gHydrogen, gPoints) {
      const variance =
        gGas * gGas * gas2 +
        gCo * gCo * co2 +
        gStack * gStack * stack2 +
        gAir * gAir * air2 +
        gHydrogen * gHydrogen * hydrogen2 +
        gPoints * gPoints * points2;
      setFigure[key](values, value);
      setFigure[key](
        expanded,
        isAcidKey(key)
          ? Math.hypot(ACID_DEW_POINT_EXPANDED_K, COVERAGE_FACTOR * Math.sqrt(variance))
          : COVERAGE_FACTOR * Math.sqrt(variance),
      );
    },
    blank(key, reason) {
      setFigure[key](blank, reason);
    },
  });
  return { timeMs: input.timeMs, values, expanded, blank, ...co2Beside(input, gas, values.co2Percent, expanded.co2Percent) };
}

/** CO2 that was measured beside O2: it computes nothing, it says whether the two and the fuel agree. */
function co2Beside(
  { co2PercentDry, tolerances, spreads }: DeriveInput,
  { isFromCo2 }: GasInput,
  computed: number | undefined,
  expanded = 0,
): Pick<Derived, 'co2Measured'> {
  const [least, most] = quantities.co2.possible;
  const isPossible = co2PercentDry !== undefined && co2PercentDry >= least && co2PercentDry <= most;
  if (isFromCo2 || !isPossible || computed === undefined) return {};
  const u = Math.hypot(fromHalfWidth(tolerances?.co2 ?? halfWidthsAt(defaultTolerances, undefined).co2), spreads?.co2 ?? 0);
  return {
    co2Measured: { percent: co2PercentDry, difference: co2PercentDry - computed, expanded: Math.hypot(expanded, COVERAGE_FACTOR * u) },
  };
}
