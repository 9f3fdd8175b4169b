import { source } from '../../../shared/words/source.ts';
import { useApp } from '../../app-parts.ts';
import { Panel } from '../../components/Panel.tsx';

export function PortHelp() {
  const panelOpened = useApp((state) => state.panelOpened);
  return (
    <Panel title={source.portHelpTitle} close={() => panelOpened(undefined)}>
      <div className="panel-body" tabIndex={0} role="region" aria-label={source.portHelpTitle} style={{ padding: 20, maxWidth: 820 }}>
        {source.portHelp.map((text) => (
          <p key={text} style={{ padding: '13px 0', borderBottom: '1px solid var(--hairline)', fontSize: 18 }}>
            {text}
          </p>
        ))}
      </div>
    </Panel>
  );
}
