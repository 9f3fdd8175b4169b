import { common } from '../../shared/words/common.ts';
import { useApp } from '../app-parts.ts';
import { BrokenSlot } from './Signs.tsx';

/** Says honestly that a workspace does nothing so far. */
export function NotThereYet({ workspace }: { workspace: 'bench' | 'warm-up' | 'records' }) {
  const workspaceChosen = useApp((state) => state.workspaceChosen);
  const words = common.notThere[workspace];
  return (
    <div className="workspace-empty" data-region="main">
      <div className="about">
        <div className="row" style={{ gap: 22 }}>
          <BrokenSlot large />
          <h1>{words.title}</h1>
        </div>
        <p className="second" style={{ fontSize: 20, margin: '20px 0 28px' }}>
          {words.about}
        </p>
        <button type="button" className="button" style={{ minHeight: 64 }} onClick={() => workspaceChosen('tune')}>
          {common.notThere.next} <kbd>Ctrl 1</kbd>
        </button>
      </div>
    </div>
  );
}
