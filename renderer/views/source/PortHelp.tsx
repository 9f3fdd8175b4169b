import { source } from '../../../shared/words/source.ts';
import { useApp } from '../../app-parts.ts';
import { Panel } from '../../components/Panel.tsx';
import './source.css';

export function PortHelp() {
  const panelOpened = useApp((state) => state.panelOpened);
  return (
    <Panel title={source.portHelpTitle} close={() => panelOpened(undefined)}>
      <div className="panel-body port-help" tabIndex={0} role="region" aria-label={source.portHelpTitle}>
        {source.portHelp.map((text) => (
          <p key={text}>{text}</p>
        ))}
      </div>
    </Panel>
  );
}
