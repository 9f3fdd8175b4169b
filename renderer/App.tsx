import { Suspense, useEffect } from 'react';
import { common } from '../shared/words/common.ts';
import { useApp, useParts } from './app-parts.ts';
import { BrandMark, BrokenSlot } from './components/Signs.tsx';
import { ViewerStrip } from './components/alerts/ViewerStrip.tsx';
import { ExportLines } from './components/ExportLines.tsx';
import { later, Opening, Place } from './components/Later.tsx';
import { MainPart, SmallPart } from './components/Parts.tsx';
import { SaidAloud } from './components/SaidAloud.tsx';
import { useKey } from './keys/use-key.ts';
import { focusNextRegion } from './keys/regions.ts';
import { useTheme } from './look/use-theme.ts';
import { selectMayAct, selectRun } from './state/selectors.ts';
import { tapeOf } from './state/source-state.ts';
import { workspaces, type Panel, type Workspace } from './state/view-slice.ts';
import { SourceBar } from './views/source/SourceBar.tsx';
import { BypassLines, RoomAlarm } from './views/visit/VisitLines.tsx';
import { workspaceModules } from './views/workspace.ts';

const views = Object.fromEntries(
  workspaces.map((name) => [name, later(() => workspaceModules[name]().then((found) => found.default))]),
) as Record<Workspace, React.ComponentType>;
const panels: Readonly<Record<NonNullable<Panel>, React.ComponentType>> = {
  source: later(() => import('./views/source/SourcePanel.tsx').then(({ SourcePanel }) => SourcePanel)),
  lines: later(() => import('./views/lines/LineView.tsx').then(({ LineView }) => LineView)),
  settings: later(() => import('./views/settings/SettingsPanel.tsx').then(({ SettingsPanel }) => SettingsPanel)),
  keys: later(() => import('./views/settings/KeysPanel.tsx').then(({ KeysPanel }) => KeysPanel)),
  'port-help': later(() => import('./views/source/PortHelp.tsx').then(({ PortHelp }) => PortHelp)),
};
const ReplayStrip = later(() => import('./views/warm-up/ReplayStrip.tsx').then((found) => found.ReplayStrip));
const Tour = later(() => import('./views/tour/Tour.tsx').then((found) => found.Tour));

export function App() {
  const { actions, keys } = useParts();
  const workspace = useApp((state) => state.workspace);
  const panel = useApp((state) => state.panel);
  const wire = useApp((state) => state.wire);
  const far = useApp((state) => state.far && state.workspace === 'tune' && state.panel === undefined && selectRun(state) !== undefined);
  const tape = useApp((state) => tapeOf(selectRun(state), { onBench: state.workspace === 'bench' }));
  const isReplay = useApp((state) => selectRun(state)?.info.replay !== undefined);
  const isNewcomer = useApp((state) => state.host?.newcomer === true && state.settings.tourSeenWallMs === undefined);
  const workspaceChosen = useApp((state) => state.workspaceChosen);
  const panelOpened = useApp((state) => state.panelOpened);
  const turnTheme = useTheme();
  useKey('theme', turnTheme);
  useKey('region', focusNextRegion);
  useKey('source', () => panelOpened('source'));
  useKey('lines', () => panelOpened('lines'));
  useKey('keys', () => panelOpened('keys'));
  // it takes back the last mark of the run on screen: where no run is seen, a press would take back what nobody sees
  const seesRun = useApp(
    (state) => selectMayAct(state) && (state.workspace === 'tune' || state.workspace === 'warm-up') && (state.panel ?? 'lines') === 'lines',
  );
  useKey('undo', () => void actions.undoMark(), seesRun);
  const isInstructor = useApp((state) => state.role === 'instructor');
  useEffect(() => {
    if (isInstructor) workspaceChosen('warm-up');
  }, [isInstructor, workspaceChosen]);
  useEffect(() => keys.onWorkspace((index) => workspaceChosen(workspaces[index] ?? 'tune')), [keys, workspaceChosen]);
  const View = views[workspace];
  const PanelView = panel === undefined ? undefined : panels[panel];
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
        ) : PanelView === undefined ? (
          <MainPart where={workspace}>
            <Place>
              <View />
            </Place>
          </MainPart>
        ) : (
          <MainPart where={panel ?? ''}>
            <Place back={() => panelOpened(undefined)}>
              <PanelView />
            </Place>
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
        <Suspense>{isReplay && <ReplayStrip isFar={far} />}</Suspense>
      </SmallPart>
      <SmallPart where="tour">
        <Suspense>{isNewcomer && <Tour />}</Suspense>
      </SmallPart>
      <SmallPart where="sounds">
        <SaidAloud />
      </SmallPart>
    </div>
  );
}

function WireState() {
  const wire = useApp((state) => state.wire);
  if (wire.phase === 'connecting' || wire.phase === 'open') return <Opening text={common.wire.connecting} />;
  const refused = wire.phase === 'refused';
  return (
    <div className="workspace-empty">
      <div className="about">
        <div className="row gap-5">
          <BrokenSlot large />
          <h1>{refused ? common.wire.refused : common.wire.closed}</h1>
        </div>
        <p className="second about-next">{refused ? `${wire.reason} ${common.wire.refusedNext}`.trim() : common.wire.closedNext}</p>
        {!refused && (
          <button type="button" className="button main" onClick={() => location.reload()}>
            {common.wire.reload}
          </button>
        )}
      </div>
    </div>
  );
}
