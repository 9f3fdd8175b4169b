// first: it says the order of the layers that every other sheet stands in
import './look/index.css';
import { createRoot } from 'react-dom/client';
import { common } from '../shared/words/common.ts';
import { connect } from './backend/connect.ts';
import { loadTheRest } from './components/Later.tsx';
import { BrokenSlot } from './components/Signs.tsx';
import { idleAfterFirstFigure } from './live/idle.ts';
import { startWindow } from './start-window.tsx';
import { workspaceModules } from './views/workspace.ts';

const element = document.getElementById('root');
if (element === null) throw new Error('no root element');
if (matchMedia('(prefers-color-scheme: light)').matches) document.documentElement.dataset['theme'] = 'light';

// what the window opens with comes while the host is asked; if it cannot be fetched, its part of the window says so
void workspaceModules.tune().catch(() => undefined);
void connect(window).then((connection) => {
  if (connection.kind === 'open') {
    const { parts } = startWindow(element, connection.transport);
    void loadTheRest(idleAfterFirstFigure(parts.store));
    return undefined;
  }
  // without a wire there is no store: one plain sentence
  createRoot(element).render(
    <main className="workspace-empty whole-window">
      <div className="about">
        <div className="row gap-5">
          <BrokenSlot large />
          <h1>{common.wire.refused}</h1>
        </div>
        <p className="second about-next">{`${connection.reason} ${common.wire.refusedNext}`.trim()}</p>
      </div>
    </main>,
  );
  return undefined;
});
