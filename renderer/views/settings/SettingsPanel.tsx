import { useState } from 'react';
import type { Settings } from '../../../shared/ipc/settings.ts';
import { common } from '../../../shared/words/common.ts';
import { settingsWords as words } from '../../../shared/words/settings.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { saveDownload } from '../../backend/save-download.ts';
import { Check, Choice } from '../../components/Field.tsx';
import { Panel } from '../../components/Panel.tsx';
import { fuelOptions } from '../source/fuel-options.ts';
import { AdjustersSection } from './AdjustersSection.tsx';
import { LimitsSection } from './LimitsSection.tsx';
import { OfficeSection } from './OfficeSection.tsx';
import { keyName } from '../../keys/key-registry.ts';
import { keyWords } from '../../../shared/words/keys.ts';
import type { SoundName } from '../../sound/sounds.ts';
import './settings.css';

const options = <T extends string>(texts: Readonly<Record<T, string>>): { value: T; text: string }[] =>
  (Object.entries(texts) as [T, string][]).map(([value, text]) => ({ value, text }));

export function SettingsPanel() {
  const { actions } = useParts();
  const settings = useApp((state) => state.settings);
  const host = useApp((state) => state.host);
  const panelOpened = useApp((state) => state.panelOpened);
  // the host takes settings from the window that has the controls, not from an instructor's either
  const mayChange = useApp((state) => state.role === 'operator' && state.wire.phase === 'open');
  return (
    <Panel title={words.title} close={() => panelOpened(undefined)}>
      <div className="panel-body" tabIndex={0} role="region" aria-label={words.title}>
        {!mayChange && (
          <p className="say" role="note">
            <b>{common.viewer.title}</b>
          </p>
        )}
        <fieldset disabled={!mayChange} style={{ display: 'contents' }}>
          <div className="settings-body">
            <section className="column gap-4">
              <h2>{words.general}</h2>
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
            <HandsSection speech={settings.speech} foot={settings.foot} />
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
              <p className="second breaks">
                {words.folder} <span className="mono">{host?.dataFolder ?? ''}</span>
              </p>
            </section>
            <SupportSection />
          </div>
        </fieldset>
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
      <p className="second below-3">{words.supportAbout}</p>
      <Check label={words.supportReadings} checked={withReadings} change={setWithReadings} />
      <button type="button" className="button" onClick={save}>
        {words.supportSave}
      </button>
    </section>
  );
}

/** Held for another key, or none of its own: as a switch every capital letter that is typed would press it. */
const noSwitch: ReadonlySet<string> = new Set([
  'Shift',
  'Control',
  'Alt',
  'AltGraph',
  'Meta',
  'CapsLock',
  'Dead',
  'Process',
  'Unidentified',
]);

/** Speech and a foot switch: for hands that are busy. */
function HandsSection({ speech, foot }: { speech: boolean; foot: Settings['foot'] }) {
  const { actions } = useParts();
  return (
    <section>
      <h2>{words.hands}</h2>
      <Check label={words.speech} checked={speech} change={(on) => void actions.changeSettings({ speech: on })} />
      <div className="form-row">
        <div className="one-field" style={{ width: 230 }}>
          <label className="field-label" htmlFor="foot-key">
            {words.footKey}
          </label>
          <div className="field">
            <input
              id="foot-key"
              readOnly
              value={foot.key}
              placeholder={words.footPress}
              aria-describedby="foot-about"
              onKeyDown={(event) => {
                if (event.key === 'Tab' || event.key === 'Escape') return;
                if (noSwitch.has(event.key)) return;
                event.preventDefault();
                event.stopPropagation();
                const key = event.key === 'Backspace' || event.key === 'Delete' ? '' : keyName({ key: event.key, ctrl: event.ctrlKey });
                void actions.changeSettings({ foot: { ...foot, key } });
              }}
            />
          </div>
        </div>
        <Choice
          label={words.footDoes}
          value={foot.action}
          width={230}
          change={(action) => void actions.changeSettings({ foot: { ...foot, action } })}
          options={footActions.map((action) => ({ value: action as string, text: keyWords[action] ?? action }))}
        />
      </div>
      <p className="second small" id="foot-about">
        {words.footAbout}
      </p>
    </section>
  );
}
const footActions = ['main', 'mark', 'smoke', 'far', 'pass'] as const;

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
