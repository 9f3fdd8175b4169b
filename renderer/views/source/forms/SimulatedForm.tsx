import { useState } from 'react';
import { source } from '../../../../shared/words/source.ts';
import { useParts } from '../../../app-parts.ts';
import { Choice, Field } from '../../../components/Field.tsx';
import { useKey } from '../../../keys/use-key.ts';
import { errorOf, typedPlain, valueOf } from '../../../fields/typed.ts';
import type { SourceList } from './source-list.ts';
import { StartButton } from './StartButton.tsx';
import { ChannelName } from '../../../components/ChannelName.tsx';
import '../source.css';
import '../SourceKinds.css';

const DEFAULT = 'tune-up';

export function SimulatedForm({
  scenarios,
  shapes,
  mayAct,
}: {
  scenarios: SourceList['scenarios'];
  shapes: readonly string[];
  mayAct: boolean;
}) {
  const { actions } = useParts();
  const [scenario, setScenario] = useState<string>();
  const [seed, setSeed] = useState('1');
  const [rate, setRate] = useState('1');
  const [shape, setShape] = useState('columns');
  const typedSeed = typedPlain(seed);
  const name = scenario ?? scenarios.find((one) => one.name === DEFAULT)?.name ?? scenarios[0]?.name ?? DEFAULT;
  const seedValue = valueOf(typedSeed);
  const ready = mayAct && seedValue !== undefined;
  const start = (): void => {
    if (ready)
      void actions.startRun({
        source: { kind: 'simulated', scenario: name, seed: Math.trunc(seedValue), shape, ratePerSecond: Number(rate) },
      });
  };
  useKey('main', start, ready);
  return (
    <>
      <ul className="pick-list" role="radiogroup" aria-label={source.scenarioLabel}>
        {scenarios.map((one) => (
          <li key={one.name} role="presentation">
            <button
              type="button"
              className="pick inset-focus"
              role="radio"
              aria-checked={one.name === name}
              onClick={() => setScenario(one.name)}
            >
              <span className="grow">
                <span className="name">{one.title}</span>{' '}
                <span className="second">
                  <ChannelName text={one.about} />
                </span>
              </span>
            </button>
          </li>
        ))}
      </ul>
      <div className="field-grid">
        <Field label={source.seed} value={seed} change={setSeed} width={140} hint={source.seedHint} error={errorOf(typedSeed)} />
        <Choice
          label={source.rate}
          width={140}
          value={rate}
          change={setRate}
          options={['0.5', '1', '2', '5', '10'].map((value) => ({ value, text: source.shapes[value] ?? value }))}
        />
        <Choice
          label={source.shape}
          width={200}
          value={shape}
          change={setShape}
          options={[...new Set(['columns', ...shapes])].map((value) => ({ value, text: source.shapes[value] ?? value }))}
        />
      </div>
      <StartButton text={source.startSimulated} run={start} disabled={!ready} />
    </>
  );
}
