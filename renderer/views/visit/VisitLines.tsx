/** What stands over every screen: an open bypass, and a room that has to be left. */
import { useEffect, useRef, useState } from 'react';
import { bypassLine } from '../../../shared/words/tune/alarms.ts';
import { roomCoWords } from '../../../shared/words/tune/alarms.ts';
import { alarmWords as words } from '../../../shared/words/tune/alarms.ts';
import { common } from '../../../shared/words/common.ts';
import { useApp } from '../../app-parts.ts';
import { HostAlert } from '../../components/alerts/HostAlert.tsx';
import { ViewerStrip } from '../../components/alerts/ViewerStrip.tsx';
import { AlarmSign } from '../../components/Signs.tsx';
import { ChannelName } from '../../components/ChannelName.tsx';
import { Field } from '../../components/Field.tsx';
import { useEscape } from '../../components/use-escape.ts';
import { selectMayAct, selectUnits } from '../../state/selectors.ts';
import { errorOf, typedPlain } from '../../fields/typed.ts';
import { formatsFor } from '../../../shared/words/formats.ts';
import { useSaveRoom } from './use-save-room.ts';
import { RunningWatch } from './safety/RunningWatch.tsx';
import { roomAlarmToLeave, standingCoAlarm } from '../../state/co-alerts.ts';
import './VisitLines.css';

export function BypassLines() {
  return (
    <>
      <CoElsewhere />
      <OpenBypass />
      <RunningWatch />
    </>
  );
}

/** In Tune the alarm stands over the mark bar; on every other screen it stands here. */
function CoElsewhere() {
  const strong = useApp((state) =>
    state.workspace === 'tune' && state.panel === undefined && state.broken === undefined ? undefined : standingCoAlarm(state)?.strong,
  );
  if (strong === undefined) return null;
  return (
    <div className="bypass-line" role="alert">
      <AlarmSign />
      <b>
        <ChannelName text={strong} />
      </b>
    </div>
  );
}

function OpenBypass() {
  const bypasses = useApp((state) => state.visit?.bypasses);
  const open = bypasses?.filter(({ closedWallMs }) => closedWallMs === undefined) ?? [];
  const first = open[0];
  if (first === undefined) return null;
  return (
    <div className="bypass-line" role="alert">
      <AlarmSign />
      <b>{bypassLine(first.what)}</b>
      {open.length > 1 && <span>{common.more(open.length - 1)}</span>}
    </div>
  );
}

/** 100 ppm in the room takes the whole window, and the keys, until somebody has read the air again from outside. */
export function RoomAlarm() {
  const alarm = useApp(roomAlarmToLeave);
  return alarm === undefined ? null : <EverybodyOut key={alarm.visitId} ppm={alarm.ppm} visitId={alarm.visitId} />;
}

/** What is typed goes to the visit whose room it is, also where another one is on screen, or none. */
function EverybodyOut({ ppm, visitId }: { ppm: number; visitId: string }) {
  const saveRoom = useSaveRoom(visitId);
  const units = useApp(selectUnits);
  const isOther = useApp((state) => state.visit?.id !== visitId);
  const [text, setText] = useState('');
  const [refused, setRefused] = useState<string>();
  const mayAct = useApp(selectMayAct);
  const dialog = useRef<HTMLDialogElement>(null);
  const show = (): void => {
    if (dialog.current?.open === false) dialog.current.showModal();
  };
  useEffect(show, []);
  // no way past it by Escape, not even for the moment in which it would come back
  useEscape(dialog, () => undefined);
  const typed = typedPlain(text);
  return (
    <dialog
      ref={dialog}
      className="room-alarm"
      role="alertdialog"
      aria-labelledby="room-alarm-title"
      onCancel={(event) => event.preventDefault()}
      onClose={show}
    >
      <svg width="120" height="120" viewBox="0 0 32 32" aria-hidden="true">
        <path fill="var(--alarm-ink)" d="M10 2H22L30 10V22L22 30H10L2 22V10Z" />
        <path d="M16 8v10M16 21v4" stroke="var(--alarm-fill)" strokeWidth="4" />
      </svg>
      <h1 id="room-alarm-title">{roomCoWords.out(formatsFor(units).ppm(ppm))}</h1>
      <form
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          if (!mayAct) return;
          if (typed.kind !== 'value' || typed.value < 0) return setRefused(errorOf(typed) ?? common.fieldErrors.empty);
          saveRoom(typed.value, (why) => (why === undefined ? setText('') : setRefused(why)));
        }}
      >
        <Field
          label={words.roomAgain}
          value={text}
          change={(next) => {
            setText(next);
            setRefused(undefined);
          }}
          unit="ppm"
          width={200}
          error={errorOf(typed) ?? refused}
          disabled={!mayAct}
          first
        />
        <button type="submit" className="button" disabled={!mayAct}>
          {words.roomUse}
        </button>
        <p>{words.roomCleared}</p>
        {isOther && <p>{words.roomOfOther}</p>}
      </form>
      {/* it lies over everything else: who may only look takes the controls here, and what the host refuses is said here */}
      <ViewerStrip />
      <HostAlert />
    </dialog>
  );
}
