import { useState } from 'react';
import type { Settings } from '../../../shared/ipc/settings.ts';
import { common } from '../../../shared/words/common.ts';
import { settingsWords as words } from '../../../shared/words/live.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { saveDownload } from '../../backend/save-download.ts';
import { Check, Choice } from '../../components/Field.tsx';
import { Panel } from '../../components/Panel.tsx';
import { fuelOptions } from '../source/fuel-options.ts';
import { AdjustersSection } from './AdjustersSection.tsx';
import { LimitsSection } from './LimitsSection.tsx';
import { OfficeSection } from './OfficeSection.tsx';
import type { SoundName } from '../../sound/sounds.ts';

const options = <T extends string>(texts: Readonly<Record<T, string>>): { value: T; text: string }[] =>
  (Object.entries(texts) as [T, string][]).map(([value, text]) => ({ value, text }));

export function SettingsPanel() {
  const { actions } = useParts();
  const settings = useApp((state) => state.settings);
  const host = useApp((state) => state.host);
  const panelOpened = useApp((state) => state.panelOpened);
  return (
    <Panel title={words.title} close={() => panelOpened(undefined)}>
      <div className="panel-body">
        <div className="settings-body">
          <section className="column" style={{ gap: 14 }}>
            <Choice
              label={words.units}
              value={settings.units}
              options={options(common.units)}
              change={(units) => void actions.changeSettings({ units })}
            />
            <Choice
              label={words.theme}
              value={settings.theme}
              options={options(common.theme)}
              change={(theme) => void actions.changeSettings({ theme })}
            />
            <Choice
              label={words.fuel}
              value={settings.fuelId}
              options={fuelOptions}
              change={(fuelId) => void actions.changeSettings({ fuelId })}
            />
          </section>
          <SoundSection sound={settings.sound} />
          <LimitsSection />
          <AdjustersSection />
          <OfficeSection />
          <section>
            <h2>{words.version}</h2>
            <p>
              {common.appName} {host?.version ?? ''}
            </p>
            <p className="second">
              {words.host}: {host === undefined ? '' : words.hosts[host.host]}
            </p>
            <p className="second" style={{ overflowWrap: 'anywhere' }}>
              {words.folder} <span className="mono">{host?.dataFolder ?? ''}</span>
            </p>
          </section>
          <SupportSection />
        </div>
      </div>
    </Panel>
  );
}

function SupportSection() {
  const { actions } = useParts();
  const [withReadings, setWithReadings] = useState(false);
  const save = (): void =>
    void actions.ask('session.supportReport', { withReadings }).then((made) => {
      if (made !== undefined) saveDownload(made.download, made.fileName);
    });
  return (
    <section>
      <h2>{words.support}</h2>
      <p className="second" style={{ marginBottom: 12 }}>
        {words.supportAbout}
      </p>
      <Check label={words.supportReadings} checked={withReadings} change={setWithReadings} />
      <button type="button" className="button" onClick={save}>
        {words.supportSave}
      </button>
    </section>
  );
}

function SoundSection({ sound }: { sound: Settings['sound'] }) {
  const { actions, sounds } = useParts();
  const change = (part: Partial<Settings['sound']>): void => void actions.changeSettings({ sound: part });
  const names = Object.entries(words.sounds) as [SoundName, string][];
  const test = (): void => names.forEach(([name], index) => setTimeout(() => sounds.play(name), index * 900));
  return (
    <section>
      <h2>{words.sound}</h2>
      <label className="field-label" htmlFor="volume">
        {words.volume}
      </label>
      <input
        id="volume"
        className="range"
        type="range"
        min={0}
        max={1}
        step={0.05}
        value={sound.volume}
        onChange={(event) => change({ volume: Number(event.target.value) })}
      />
      <Check label={words.muted} checked={sound.muted} change={(muted) => change({ muted })} />
      {names.map(([name, text]) => (
        <div key={name}>
          <Check
            label={text}
            checked={!sound.off.includes(name)}
            change={(on) => change({ off: on ? sound.off.filter((one) => one !== name) : [...sound.off, name] })}
          />
        </div>
      ))}
      <button type="button" className="button" onClick={test}>
        {words.test}
      </button>
    </section>
  );
}
