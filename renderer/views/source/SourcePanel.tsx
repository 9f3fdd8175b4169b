import { useEffect, useState } from 'react';
import { source } from '../../../shared/words/source.ts';
import { useApp } from '../../app-parts.ts';
import { Panel } from '../../components/Panel.tsx';
import { useAnswer } from '../../queries/use-answer.ts';
import { selectInfo, selectMayAct } from '../../state/selectors.ts';
import { sourceLabel } from '../../state/source-state.ts';
import type { SourceKind } from '../../state/view-slice.ts';
import { CurrentRun } from './CurrentRun.tsx';
import { ReplayForm } from './forms/ReplayForm.tsx';
import { SerialForm } from './forms/SerialForm.tsx';
import { SimulatedForm } from './forms/SimulatedForm.tsx';
import { SourceKinds } from './SourceKinds.tsx';
import { TypedForm } from './forms/TypedForm.tsx';
import './source.css';
import './SourceKinds.css';
import './SourcePanel.css';

/** Choose another source, or end, reconnect and adjust the run under way. */
export function SourcePanel() {
  const panelOpened = useApp((state) => state.panelOpened);
  const wanted = useApp((state) => state.sourceKind);
  const info = useApp(selectInfo);
  const mayAct = useApp(selectMayAct);
  const ports = useApp((state) => state.ports);
  const portsChanged = useApp((state) => state.portsChanged);
  const list = useAnswer('source.list', {}, { when: 'once' });
  const [kind, setKind] = useState<SourceKind>(
    wanted ?? (info === undefined || info.source.kind === 'serial' ? 'serial' : info.source.kind),
  );
  useEffect(() => {
    if (list !== undefined) portsChanged(list.ports);
  }, [list, portsChanged]);
  const isOpen = info !== undefined && info.phase !== 'ended';
  return (
    <Panel title={source.panelTitle} about={info === undefined ? '' : sourceLabel(info)} close={() => panelOpened(undefined)}>
      <div className="source-panel">
        <div className="kinds">
          {isOpen && <CurrentRun info={info} mayAct={mayAct} />}
          <SourceKinds chosen={kind} choose={setKind} />
        </div>
        <div className="detail">
          <h2>{source.kinds[kind].title}</h2>
          {kind === 'serial' && <SerialForm ports={ports} recipes={list?.recipes ?? []} mayAct={mayAct} />}
          {kind === 'simulated' && <SimulatedForm scenarios={list?.scenarios ?? []} shapes={list?.shapes ?? []} mayAct={mayAct} />}
          {kind === 'replay' && <ReplayForm runs={list?.runs ?? []} mayAct={mayAct} />}
          {kind === 'typed' && <TypedForm mayAct={mayAct} />}
        </div>
      </div>
    </Panel>
  );
}
