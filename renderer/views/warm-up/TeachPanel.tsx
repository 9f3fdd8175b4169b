import { useState } from 'react';
import { amounts, namedGases, noInletGas, switches, type AmountName, type SwitchName } from '../../../shared/burner/parts.ts';
import { warmUp } from '../../../shared/words/warm-up.ts';
import { useParts } from '../../app-parts.ts';
import { Dialog } from '../../components/Dialog.tsx';
import { Check, Choice } from '../../components/Field.tsx';
import { formatNumber } from '../../format/quantity.ts';

const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** What an instructor may do to the simulated burner while somebody else looks at it. */
export function TeachPanel({ runId, close }: { runId: string; close: () => void }) {
  const { actions } = useParts();
  const [values, setValues] = useState<Partial<Record<string, number | boolean | string>>>({});
  const set = (part: string, value: number | boolean | string): void => {
    setValues((before) => ({ ...before, [part]: value }));
    void actions.ask('simulator.part', { runId, part, value });
  };
  return (
    <Dialog title={warmUp.teachTitle} close={close} wide>
      <p className="second">{warmUp.teachAbout}</p>
      <div className="teach-switches">
        {(Object.entries(switches) as [SwitchName, string][]).map(([name, about]) => (
          <Check
            key={name}
            label={sentence(about)}
            checked={(values[name] as boolean | undefined) ?? name !== 'purge'}
            change={(on) => set(name, on)}
          />
        ))}
        <Choice
          label={warmUp.inlet}
          value={(values['inlet'] as string | undefined) ?? noInletGas}
          change={(gas) => set('inlet', gas)}
          options={[noInletGas, ...Object.keys(namedGases)].map((value) => ({ value, text: value }))}
        />
      </div>
      <ul className="teach-amounts">
        {(Object.entries(amounts) as [AmountName, (typeof amounts)[AmountName]][]).map(([name, { low, high, about }]) => {
          const value = values[name] as number | undefined;
          return (
            <li key={name}>
              <label htmlFor={`teach-${name}`}>{sentence(about)}</label>
              <input
                id={`teach-${name}`}
                type="range"
                min={low}
                max={high}
                step={(high - low) / 100}
                value={value ?? (name === 'chimneyDraftFactor' || name === 'fouling' ? 1 : low)}
                onChange={({ target }) => set(name, Number(target.value))}
              />
              <output>{value === undefined ? '–' : formatNumber(value, high - low > 50 ? 0 : 2)}</output>
            </li>
          );
        })}
      </ul>
    </Dialog>
  );
}
