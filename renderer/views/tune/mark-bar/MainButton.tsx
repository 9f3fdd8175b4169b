import { Suspense, useState } from 'react';
import { live } from '../../../../shared/words/tune/live.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { later } from '../../../components/Later.tsx';
import { Key } from '../../../components/Key.tsx';
import { useRest } from '../../../components/use-rest.ts';
import { useKey } from '../../../keys/use-key.ts';
import { roomIsOf } from '../../../state/co-alerts.ts';
import { selectMayAct } from '../../../state/selectors.ts';
import { entryAfterReading } from '../entries/entry-after.ts';
import type { MainDeed } from './main-deed.ts';
import '../tune.css';

const RoomAgain = later(() => import('../../visit/WayOutDialogs.tsx').then((found) => found.RoomAgain));

/** The lines may stop while a finger is on its way to the button. */
const SOURCE_RESTS_MS = 800;

/** Takes a reading, and asks for what belongs to it. */
export function useTake(): () => void {
  const { actions, sounds, store } = useParts();
  const entryOpened = useApp((state) => state.entryOpened);
  return () =>
    void actions.takeReading().then((reading) => {
      if (reading === undefined) return;
      sounds.play('mark');
      store.getState().saidChanged(live.announce.taken);
      const next = entryAfterReading(store.getState());
      if (next !== undefined) entryOpened(next);
    });
}

/** Always at the bottom right, in the far view too. */
export function MainButton({ deed, blocked }: { deed: MainDeed; blocked: boolean }) {
  const { store } = useParts();
  const take = useTake();
  const entryOpened = useApp((state) => state.entryOpened);
  const panelOpened = useApp((state) => state.panelOpened);
  const farTurned = useApp((state) => state.farTurned);
  const mayAct = useApp(selectMayAct);
  const [isRoomAsked, setRoomAsked] = useState(false);
  const [roomOf, setRoomOf] = useState<string>();
  const isResting = useRest(`${deed.does} ${deed.text}`, deed.does === 'source' ? SOURCE_RESTS_MS : undefined);
  const run = (): void => {
    switch (deed.does) {
      case 'take':
        return take();
      case 'draft':
      case 'smoke':
        return entryOpened(deed.does);
      case 'probe':
        return entryOpened('probe');
      case 'side':
        if (store.getState().far) farTurned();
        return store.getState().sideTurned();
      case 'values':
        return entryOpened('values');
      case 'source':
        return panelOpened('source');
      case 'room':
        // whose room it is now: another alarm may come while it is typed
        setRoomOf(roomIsOf(store.getState()));
        return setRoomAsked(true);
      case 'air':
        // the far view has no adjusters
        if (store.getState().far) farTurned();
        requestAnimationFrame(() => document.querySelector<HTMLElement>('.bar [role=spinbutton]')?.focus());
        return;
    }
  };
  const active = deed.off !== true && (mayAct || deed.does === 'source');
  useKey('main', run, active && !blocked && !isResting);
  const button = (
    <button
      type="button"
      className={`button main${deed.under === undefined ? '' : ' by-hand'}`}
      disabled={!active}
      aria-disabled={isResting}
      onClick={() => isResting || run()}
    >
      <span>
        {deed.text}
        {deed.under !== undefined && <span className="under"> {deed.under}</span>}
      </span>
      <Key action={deed.key} />
    </button>
  );
  return (
    <>
      {button}
      <Suspense>{isRoomAsked && <RoomAgain of={roomOf} close={() => setRoomAsked(false)} />}</Suspense>
    </>
  );
}
