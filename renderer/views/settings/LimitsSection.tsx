import { useState } from 'react';
import type { Settings } from '../../../shared/ipc/settings.ts';
import { common } from '../../../shared/words/common.ts';
import { bandRanges, toleranceRanges } from '../../../shared/measurement/limits.ts';
import { settingsWords as words } from '../../../shared/words/settings.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { selectUnits } from '../../state/selectors.ts';
import { Choice, Field } from '../../components/Field.tsx';
import { errorOf, typedPlain } from '../../fields/typed.ts';
import { formatPosition, shownAs, type UnitSystem } from '../../../shared/format/quantity.ts';

const inPercent = ({ low, high }: { low: number; high: number }) => ({ low: 100 * low, high: 100 * high });
/** `scale`: shown in per cent, stored as a share; `low` and `high` as shown. */
type Shown<K extends string> = { key: K; label: string; unit: string; low: number; high: number; scale?: number };
/** A difference of temperatures is kept in kelvins and shown in the degrees that the rest of the window has. */
function inUnits<K extends string>(one: Shown<K>, units: UnitSystem): Shown<K> {
  const { factor, unit } = shownAs('stackTemperature', units);
  return one.unit !== 'K' || unit !== '°F' ? one : { ...one, unit, low: one.low * factor, high: one.high * factor, scale: factor };
}

const bandFields: readonly Shown<keyof Settings['bands']>[] = [
  { key: 'o2Percent', label: words.bandO2, unit: '%', ...bandRanges.o2Percent },
  { key: 'coPpm', label: words.bandCo, unit: 'ppm', ...bandRanges.coPpm },
  { key: 'coShare', label: words.bandCoShare, unit: '%', ...inPercent(bandRanges.coShare), scale: 100 },
  { key: 'stackK', label: words.bandStack, unit: 'K', ...bandRanges.stackK },
  { key: 'airK', label: words.bandAir, unit: 'K', ...bandRanges.airK },
];
const toleranceFields: readonly Shown<keyof Settings['tolerances']>[] = [
  { key: 'o2Percent', label: words.bandO2, unit: '%', ...toleranceRanges.o2Percent },
  { key: 'coPpm', label: words.bandCo, unit: 'ppm', ...toleranceRanges.coPpm },
  { key: 'coShare', label: words.bandCoShare, unit: '%', ...inPercent(toleranceRanges.coShare), scale: 100 },
  { key: 'stackK', label: words.bandStack, unit: 'K', ...toleranceRanges.stackK },
  { key: 'airK', label: words.bandAir, unit: 'K', ...toleranceRanges.airK },
  { key: 'fuelPoints', label: words.toleranceFuel, unit: words.points, ...toleranceRanges.fuelPoints },
];

/** When a channel counts as settled, and how far the instrument may be off. */
export function LimitsSection() {
  const { actions } = useParts();
  const bands = useApp((state) => state.settings.bands);
  const tolerances = useApp((state) => state.settings.tolerances);
  const mode = useApp((state) => state.settings.settlingMode);
  const units = useApp(selectUnits);
  return (
    <>
      <section>
        <h2>{words.bands}</h2>
        <p className="second below-3">
          {words.bandsAbout} {words.whenRun}
        </p>
        <div className="field-grid">
          {bandFields.map((one) => (
            <LimitField
              key={`${one.key} ${units}`}
              shown={inUnits(one, units)}
              value={bands[one.key]}
              keep={(value) => void actions.changeSettings({ bands: { [one.key]: value } })}
            />
          ))}
        </div>
        <Choice
          label={words.mode}
          value={mode}
          width={300}
          options={(['own', 'field', 'lab'] as const).map((value) => ({ value, text: words.modes[value] }))}
          change={(settlingMode) => void actions.changeSettings({ settlingMode })}
        />
      </section>
      <section>
        <h2>{words.tolerances}</h2>
        <p className="second below-3">{words.tolerancesAbout}</p>
        <div className="field-grid">
          {toleranceFields.map((one) => (
            <LimitField
              key={`${one.key} ${units}`}
              shown={inUnits(one, units)}
              value={tolerances[one.key]}
              keep={(value) => void actions.changeSettings({ tolerances: { [one.key]: value } })}
            />
          ))}
        </div>
      </section>
    </>
  );
}

/** Kept as soon as it is a number inside its limits; until then the sentence says what can be typed. */
function LimitField({ shown, value, keep }: { shown: Shown<string>; value: number; keep: (value: number) => void }) {
  const { label, unit, low, high, scale = 1 } = shown;
  const [text, setText] = useState(formatPosition(value * scale));
  const typed = typedPlain(text);
  const isInside = (one: number): boolean => one >= low && one <= high;
  const change = (next: string): void => {
    setText(next);
    const parsed = typedPlain(next);
    if (parsed.kind === 'value' && isInside(parsed.value)) keep(parsed.value / scale);
  };
  const outside = typed.kind === 'value' && !isInside(typed.value);
  return (
    <Field
      label={label}
      unit={unit}
      width={150}
      value={text}
      change={change}
      error={
        errorOf(typed) ??
        (outside
          ? common.fieldErrors.outside(formatPosition(low), formatPosition(high))
          : typed.kind === 'empty'
            ? common.fieldErrors.empty
            : undefined)
      }
    />
  );
}
