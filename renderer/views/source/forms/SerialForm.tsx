import { useState } from 'react';
import type { CallInput } from '../../../../shared/ipc/contract.ts';
import type { PortInfo } from '../../../../shared/ipc/run-documents.ts';
import { SerialSettings } from '../../../../shared/measurement/run.ts';
import { source } from '../../../../shared/words/source.ts';
import { useParts } from '../../../app-parts.ts';
import { Check, Choice, Field } from '../../../components/Field.tsx';
import { SourceSign } from '../../../components/Signs.tsx';
import { useKey } from '../../../keys/use-key.ts';
import { errorOf, typedPlain, valueOf } from '../../../fields/typed.ts';
import { StartButton } from './StartButton.tsx';
import '../source.css';
import '../SourceKinds.css';

const learnChoice = '';
const numbers = (values: readonly number[]): { value: string; text: string }[] =>
  values.map((value) => ({ value: String(value), text: String(value) }));
const options = <T extends string>(words: Readonly<Record<T, string>>): { value: T; text: string }[] =>
  (Object.entries(words) as [T, string][]).map(([value, text]) => ({ value, text }));

export function SerialForm({ ports, recipes, mayAct }: { ports: readonly PortInfo[]; recipes: readonly string[]; mayAct: boolean }) {
  const { actions } = useParts();
  const [chosen, setChosen] = useState<string>();
  const [typedPath, setTypedPath] = useState('');
  const [recipe, setRecipe] = useState(learnChoice);
  const [baud, setBaud] = useState('9600');
  const [settings, setSettings] = useState<SerialSettings>(() => SerialSettings.parse({}));
  const set = (part: Partial<SerialSettings>): void => setSettings({ ...settings, ...part });
  const path = typedPath.trim() !== '' ? typedPath.trim() : (chosen ?? ports.find(({ inUseByRun }) => inUseByRun === undefined)?.path);
  const label = typedPath.trim() === '' ? ports.find((port) => port.path === path)?.label : undefined;
  const speed = typedPlain(baud);
  const baudRate = valueOf(speed);
  const ready = mayAct && path !== undefined && baudRate !== undefined;
  const start = (): void => {
    if (!ready) return;
    const input: CallInput<'run.start'> = { source: { kind: 'serial', path, settings: { ...settings, baud: baudRate } } };
    void actions.startRun(recipe === learnChoice ? input : { ...input, recipe });
  };
  useKey('main', start, ready);
  return (
    <>
      {ports.length === 0 ? (
        <p className="second">{source.noPorts}</p>
      ) : (
        <ul className="pick-list" role="radiogroup" aria-label={source.ports}>
          {ports.map((port) => (
            <li key={port.path} role="presentation">
              <button
                type="button"
                className="pick inset-focus"
                role="radio"
                aria-checked={typedPath.trim() === '' && path === port.path}
                disabled={port.inUseByRun !== undefined}
                onClick={() => {
                  setChosen(port.path);
                  setTypedPath('');
                }}
              >
                <span className="pick-sign">
                  <SourceSign shape={port.inUseByRun === undefined ? 'connected' : 'none'} />
                </span>
                <span className="grow beside-3">
                  <span className="name">{port.label}</span>
                  <span className="second">
                    {[port.maker, port.path]
                      .filter((part) => part !== undefined && part !== port.label)
                      .map((part) => ` · ${part}`)
                      .join('')}
                  </span>
                </span>
                {port.inUseByRun !== undefined && <span className="second">{source.inUse}</span>}
              </button>
            </li>
          ))}
        </ul>
      )}
      <div className="field-grid">
        <Field label={source.typedPort} value={typedPath} change={setTypedPath} numeric={false} hint={source.typedPortHint} width={320} />
        <Choice
          label={source.recipeChoice}
          value={recipe}
          change={setRecipe}
          width={280}
          options={[{ value: learnChoice, text: source.learnIt }, ...recipes.map((name) => ({ value: name, text: name }))]}
        />
      </div>
      <div>
        <h3 className="size-body below-2">{source.framing}</h3>
        <div className="field-grid">
          <Field label={source.baud} value={baud} change={setBaud} width={120} error={errorOf(speed)} />
          <Choice
            label={source.dataBits}
            width={100}
            value={String(settings.dataBits)}
            options={numbers([5, 6, 7, 8])}
            change={(value) => set({ dataBits: Number(value) as SerialSettings['dataBits'] })}
          />
          <Choice
            label={source.parity}
            width={120}
            value={settings.parity}
            options={options(source.parities)}
            change={(parity) => set({ parity })}
          />
          <Choice
            label={source.stopBits}
            width={100}
            value={String(settings.stopBits)}
            options={numbers([1, 1.5, 2])}
            change={(value) => set({ stopBits: Number(value) as SerialSettings['stopBits'] })}
          />
          <Choice label={source.flow} width={150} value={settings.flow} options={options(source.flows)} change={(flow) => set({ flow })} />
        </div>
        <div className="choice-row serial-checks">
          <Check label={source.dtr} checked={settings.dtr} change={(dtr) => set({ dtr })} />
          <Check label={source.rts} checked={settings.rts} change={(rts) => set({ rts })} />
          <Check label={source.hangUp} checked={settings.hangUpOnClose} change={(hangUpOnClose) => set({ hangUpOnClose })} />
        </div>
      </div>
      <StartButton text={label === undefined ? source.connect : source.next.port(label)} run={start} disabled={!ready} />
    </>
  );
}
