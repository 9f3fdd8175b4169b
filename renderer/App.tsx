import { Suspense, lazy, useEffect } from 'react';
import { common } from '../shared/words/common.ts';
import { useApp, useParts } from './app-parts.ts';
import { BrandMark, BrokenSlot } from './components/Signs.tsx';
import { ExportLines } from './components/ExportLines.tsx';
import { MainPart, SmallPart } from './components/Parts.tsx';
import { SaidAloud } from './components/SaidAloud.tsx';
import { useKey } from './keys/use-key.ts';
import { focusNextRegion } from './keys/regions.ts';
import { useTheme } from './look/use-theme.ts';
import { selectRun } from './state/selectors.ts';
import { tapeOf } from './state/source-state.ts';
import { workspaces, type Workspace } from './state/view-slice.ts';
import { LineView } from './views/lines/LineView.tsx';
import { KeysPanel } from './views/settings/KeysPanel.tsx';
import { SettingsPanel } from './views/settings/SettingsPanel.tsx';
import { ReplayStrip } from './views/warm-up/ReplayStrip.tsx';
import { Tour } from './views/tour/Tour.tsx';
import { PortHelp } from './views/source/PortHelp.tsx';
import { SourceBar } from './views/source/SourceBar.tsx';
import { SourcePanel } from './views/source/SourcePanel.tsx';
import { BypassLines, RoomAlarm } from './views/visit/VisitLines.tsx';
import { workspaceModules } from './views/workspace.ts';

const views = Object.fromEntries(workspaces.map((name) => [name, lazy(workspaceModules[name])])) as Record<
  Workspace,
  React.LazyExoticComponent<React.ComponentType>
>;

export function App() {
  const { actions, keys } = useParts();
  const workspace = useApp((state) => state.workspace);
  const panel = useApp((state) => state.panel);
  const wire = useApp((state) => state.wire);
  const far = useApp((state) => state.far && state.workspace === 'tune' && state.panel === undefined && selectRun(state) !== undefined);
  const tape = useApp((state) => tapeOf(selectRun(state), { onBench: state.workspace === 'bench' }));
  const workspaceChosen = useApp((state) => state.workspaceChosen);
  const panelOpened = useApp((state) => state.panelOpened);
  const turnTheme = useTheme();
  useKey('theme', turnTheme);
  useKey('region', focusNextRegion);
  useKey('source', () => panelOpened('source'));
  useKey('lines', () => panelOpened('lines'));
  useKey('keys', () => panelOpened('keys'));
  useKey('undo', () => void actions.undoMark());
  const isInstructor = useApp((state) => state.role === 'instructor');
  useEffect(() => {
    if (isInstructor) workspaceChosen('warm-up');
  }, [isInstructor, workspaceChosen]);
  useEffect(() => keys.onWorkspace((index) => workspaceChosen(workspaces[index] ?? 'tune')), [keys, workspaceChosen]);
  const View = views[workspace];
  return (
    <div className="app">
      {!far && (
        <header className="top">
          <div className="brand">
            <BrandMark />
            {common.appName}
          </div>
          <nav className="tabs" aria-label={common.workspacesLabel}>
            {workspaces.map((name) => (
              <button
                key={name}
                type="button"
                className="tab"
                aria-current={name === workspace ? 'page' : undefined}
                onClick={() => workspaceChosen(name)}
              >
                {common.workspaces[name]}
              </button>
            ))}
          </nav>
          <SmallPart where="source bar">
            <SourceBar />
          </SmallPart>
        </header>
      )}
      {tape !== undefined && !far && (
        <section className="tape" aria-label={common.region.tape}>
          <span>{tape}</span>
        </section>
      )}
      <SmallPart where="alarm lines">
        <BypassLines />
      </SmallPart>
      <main className="workspace">
        {wire.phase !== 'open' ? (
          <WireState />
        ) : panel === undefined ? (
          <MainPart where={workspace}>
            <Suspense fallback={<Opening text={common.loading} />}>
              <View />
            </Suspense>
          </MainPart>
        ) : (
          <MainPart where={panel}>
            <PanelView panel={panel} />
          </MainPart>
        )}
        <SmallPart where="room alarm">
          <RoomAlarm />
        </SmallPart>
        <SmallPart where="strips">
          <ExportLines />
          <ViewerStrip />
        </SmallPart>
      </main>
      <SmallPart where="replay bar">
        <ReplayStrip isFar={far} />
      </SmallPart>
      <SmallPart where="tour">
        <Tour />
      </SmallPart>
      <SmallPart where="sounds">
        <SaidAloud />
      </SmallPart>
    </div>
  );
}

function PanelView({ panel }: { panel: 'source' | 'lines' | 'settings' | 'keys' | 'port-help' }) {
  switch (panel) {
    case 'source':
      return <SourcePanel />;
    case 'lines':
      return <LineView />;
    case 'settings':
      return <SettingsPanel />;
    case 'keys':
      return <KeysPanel />;
    case 'port-help':
      return <PortHelp />;
  }
}

const Opening = ({ text }: { text: string }) => (
  <div className="loading">
    <BrokenSlot />
    {text}
  </div>
);

function WireState() {
  const wire = useApp((state) => state.wire);
  if (wire.phase === 'connecting' || wire.phase === 'open') return <Opening text={common.wire.connecting} />;
  const refused = wire.phase === 'refused';
  return (
    <div className="workspace-empty">
      <div className="about">
        <div className="row" style={{ gap: 22 }}>
          <BrokenSlot large />
          <h1>{refused ? common.wire.refused : common.wire.closed}</h1>
        </div>
        <p className="second" style={{ fontSize: 20, margin: '20px 0 28px' }}>
          {refused ? `${wire.reason} ${common.wire.refusedNext}`.trim() : common.wire.closedNext}
        </p>
        {!refused && (
          <button type="button" className="button main" onClick={() => location.reload()}>
            {common.wire.reload}
          </button>
        )}
      </div>
    </div>
  );
}

/** A second window looks on until it takes over. */
function ViewerStrip() {
  const { actions, store } = useParts();
  const isViewer = useApp((state) => state.role === 'viewer' && state.wire.phase === 'open');
  if (!isViewer) return null;
  const takeOver = (): void =>
    void actions
      .ask('session.takeOver', {})
      .then((answer) => answer !== undefined && store.getState().roleChanged(answer.role, store.getState().host?.otherWindows ?? 0));
  return (
    <div className="say" role="status">
      <b className="grow">{common.viewer.title}</b>
      <button type="button" className="button" onClick={takeOver}>
        {common.viewer.takeOver}
      </button>
    </div>
  );
}
