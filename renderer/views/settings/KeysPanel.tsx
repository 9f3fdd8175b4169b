import { common } from '../../../shared/words/common.ts';
import { keyWords } from '../../../shared/words/keys.ts';
import { useApp } from '../../app-parts.ts';
import { Key } from '../../components/Key.tsx';
import { Panel } from '../../components/Panel.tsx';
import { keyActions } from '../../keys/default-keys.ts';
import './settings.css';

export function KeysPanel() {
  const panelOpened = useApp((state) => state.panelOpened);
  return (
    <Panel title={common.keysTitle} about={common.keysNote} close={() => panelOpened(undefined)}>
      <div className="panel-body" tabIndex={0} role="region" aria-label={common.keysTitle}>
        <ul className="keys-list">
          {keyActions
            .filter((action) => action !== 'curve')
            .map((action) => (
              <li key={action}>
                <span>{keyWords[action]}</span>
                <KeyShown action={action} />
              </li>
            ))}
          <li>
            <span>{keyWords['workspace']}</span>
            <kbd>Ctrl 1 … 4</kbd>
          </li>
        </ul>
      </div>
    </Panel>
  );
}

const KeyShown = ({ action }: { action: (typeof keyActions)[number] }) => (
  <span>
    <Key action={action} />
  </span>
);
