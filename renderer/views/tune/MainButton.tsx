import { useEffect, useRef } from 'react';
import { live } from '../../../shared/words/live.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { Key } from '../../components/Key.tsx';
import { useKey } from '../../keys/use-key.ts';
import { selectMayAct } from '../../state/selectors.ts';
import type { MainDeed } from './main-deed.ts';

const MEANT_BEFORE_MS = 800;

/** Always at the bottom right, in the far view too. */
export function MainButton({ deed, blocked }: { deed: MainDeed; blocked: boolean }) {
  const { actions, sounds, store } = useParts();
  const entryOpened = useApp((state) => state.entryOpened);
  const panelOpened = useApp((state) => state.panelOpened);
  const mayAct = useApp(selectMayAct);
  const changed = useRef({ does: deed.does, at: 0 });
  useEffect(() => {
    if (changed.current.does !== deed.does) changed.current = { does: deed.does, at: performance.now() };
  }, [deed.does]);
  const run = (): void => {
    switch (deed.does) {
      case 'take':
        void actions.takeReading().then((reading) => {
          if (reading === undefined) return;
          sounds.play('mark');
          store.getState().saidChanged(live.announce.taken);
        });
        return;
      case 'smoke':
        return entryOpened('smoke');
      case 'values':
        return entryOpened('values');
      case 'source':
        // the lines stopped while a finger was on its way to the button: that press was meant for what it said before
        if (performance.now() - changed.current.at < MEANT_BEFORE_MS) return;
        return panelOpened('source');
    }
  };
  const active = deed.off !== true && (mayAct || deed.does === 'source');
  useKey('main', run, active && !blocked);
  return (
    <button type="button" className={`button main${deed.under === undefined ? '' : ' by-hand'}`} disabled={!active} onClick={run}>
      <span>
        {deed.text}
        {deed.under !== undefined && <span className="under"> {deed.under}</span>}
      </span>
      <Key action={deed.key} />
    </button>
  );
}
