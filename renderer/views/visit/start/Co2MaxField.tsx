import { co2MaxDoubt, co2MaxOfAnalysis, co2MaxRefusal } from '../../../../shared/combustion/co2-max.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import { startWords as words } from '../../../../shared/words/visit/screens/start.ts';
import { KeptField } from '../../../fields/KeptField.tsx';
import { type Typed, typedPlain } from '../../../fields/typed.ts';
import { useVisit } from '../use-visit.ts';
import { fuelOf } from '../visit-facts.ts';

/** CO2max that CO2 is computed from O2 with: blank is the fuel's own. What was typed is said with where it came from. */
export function Co2MaxField() {
  const { visit, may, edit } = useVisit();
  const fuel = fuelOf(visit);
  if (fuel === undefined) return null;
  const set = visit.co2MaxPercent;
  const own = formatNumber(co2MaxOfAnalysis(fuel), 1);
  const parse = (text: string): Typed<number> => {
    const typed = typedPlain(text);
    const refusal = typed.kind === 'value' ? co2MaxRefusal(fuel, typed.value) : undefined;
    return refusal === undefined ? typed : { kind: 'wrong', error: refusal };
  };
  return (
    <KeptField
      // a text that was typed for another fuel does not stay
      key={fuel.id}
      name={`co2max-${fuel.id}`}
      label={words.co2Max}
      unit="%"
      width={334}
      disabled={!may}
      shown={set === undefined ? '' : String(set)}
      parse={parse}
      keep={(value) => edit({ path: ['co2MaxPercent'], after: value })}
      hint={set === undefined ? words.co2MaxOfFuel(own) : (co2MaxDoubt(fuel, set) ?? words.co2MaxSet(formatNumber(set, 1), own))}
    />
  );
}
