import { useState } from 'react';
import { amounts, namedGases, noInletGas, switches, type AmountName, type SwitchName } from '../../../shared/burner/parts.ts';
import { warmUp } from '../../../shared/words/warm-up.ts';
import { Check, Choice } from '../../components/Field.tsx';
import { useBurnerParts } from './use-parts-of-burner.ts';
import { formatNumber, formatWithUnit, withUnit, type UnitSystem } from '../../../shared/format/quantity.ts';
import { selectUnits } from '../../state/selectors.ts';
import { useApp } from '../../app-parts.ts';
import type { QuantityId } from '../../../shared/units/quantities.ts';
import './warm-up.css';

const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
const overChoices = [0, 60, 300, 900];
/** Steps over the whole span that a slider has. */
const STEPS = 100;

const quantities: Partial<Record<AmountName, QuantityId>> = {
  pumpPressurePa: 'pumpPressure',
  roomDepressionPa: 'draft',
  roomCoPpm: 'ambientCo',
};
const fixedUnits: Partial<Record<AmountName, string>> = { creepPpmPerMinute: 'ppm/min', afterDripSeconds: 's' };

const figure = (name: AmountName, value: number, units: UnitSystem): string => {
  const quantity = quantities[name];
  if (quantity !== undefined) return formatWithUnit(quantity, value, units);
  const { low, high } = amounts[name];
  return withUnit(formatNumber(value, high - low > 20 ? 0 : 2), fixedUnits[name] ?? '');
};

/** Every part of the simulated burner with how it stands now; a change acts at once or over a time. */
export function BurnerControls({ runId, mayAct = true }: { runId: string; mayAct?: boolean }) {
  const { parts, wished, set } = useBurnerParts(runId);
  const units = useApp(selectUnits);
  const [overS, setOverS] = useState(0);
  const gases = [noInletGas, ...Object.keys(namedGases), ...(parts?.inlet === 'other' ? ['other'] : [])];
  return (
    <fieldset className="burner-controls" disabled={!mayAct || parts === undefined}>
      <legend className="hidden-text">{warmUp.teachTitle}</legend>
      <div className="teach-switches">
        {(Object.entries(switches) as [SwitchName, string][]).map(([name, about]) => (
          <Check key={name} label={sentence(about)} checked={parts?.switches[name] ?? false} change={(on) => set(name, on, 0)} />
        ))}
      </div>
      <div className="teach-switches">
        <Choice
          label={warmUp.inlet}
          value={parts?.inlet ?? noInletGas}
          change={(gas) => gas !== 'other' && set('inlet', gas, 0)}
          options={gases.map((value) => ({ value, text: warmUp.inlets(value) }))}
        />
        <Choice
          label={warmUp.moves}
          value={String(overS)}
          change={(value) => setOverS(Number(value))}
          options={overChoices.map((value) => ({ value: String(value), text: warmUp.movesOver(value) }))}
        />
      </div>
      <ul className="teach-amounts">
        {(Object.entries(amounts) as [AmountName, (typeof amounts)[AmountName]][]).map(([name, { low, high, about }]) => {
          const now = parts?.amounts[name];
          const wish = wished[name];
          return (
            <li key={name}>
              <label htmlFor={`part-${name}`}>{sentence(about)}</label>
              <input
                id={`part-${name}`}
                type="range"
                min={low}
                max={high}
                step={(high - low) / STEPS}
                value={wish ?? now ?? low}
                aria-valuetext={figure(name, wish ?? now ?? low, units)}
                onChange={({ target }) => set(name, Number(target.value), overS)}
              />
              <output htmlFor={`part-${name}`} className="num">
                {now === undefined ? '–' : figure(name, now, units)}
                {wish !== undefined && now !== undefined && <span className="second">{` → ${figure(name, wish, units)}`}</span>}
              </output>
            </li>
          );
        })}
      </ul>
    </fieldset>
  );
}
