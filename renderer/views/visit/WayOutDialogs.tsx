import { useState, type ReactNode } from 'react';
import { leftOffWords as left } from '../../../shared/words/tune/advice.ts';
import { wayOutWords as words } from '../../../shared/words/tune/way-out.ts';
import { alarmWords } from '../../../shared/words/tune/alarms.ts';
import { useApp, useParts } from '../../app-parts.ts';
import type { VisitChange } from '../../backend/visit-edits.ts';
import { Dialog, DialogFoot } from '../../components/Dialog.tsx';
import { Check, Field } from '../../components/Field.tsx';
import { errorOf, typedPlain } from '../../fields/typed.ts';
import { selectMayAct } from '../../state/selectors.ts';
import { useSaveRoom } from './use-save-room.ts';
import { useVisit } from './use-visit.ts';

/** Closes the window when the visit took it; else what was typed stays, with why it was refused. */
function useSend(close: () => void): { send: (...changes: VisitChange[]) => void; refused: ReactNode } {
  const { edit } = useVisit();
  const [why, setWhy] = useState<string>();
  return {
    send(...changes) {
      const said = edit(...changes);
      setWhy(said);
      if (said === undefined) close();
    },
    refused: (
      <span className="grow field-error" role="alert">
        {why}
      </span>
    ),
  };
}

/**
 * The room is read again; the step goes on when it is below 35 ppm.
 *
 * @param of whose room it is: a visit, or 'none' where an instrument without a visit measures it; the visit on screen by itself
 */
export function RoomAgain({ close, of }: { close: () => void; of?: string | undefined }) {
  const { visit, may: mayHere } = useVisit();
  const mayAct = useApp(selectMayAct);
  // whose room it was when it was opened: another visit may come to the front meanwhile
  const [owner] = useState(of ?? visit.id);
  const may = owner === visit.id ? mayHere : mayAct && owner !== 'none';
  const saveRoom = useSaveRoom(owner);
  const [text, setText] = useState('');
  const [why, setWhy] = useState<string>();
  const typed = typedPlain(text);
  const isGood = typed.kind === 'value' && typed.value >= 0;
  const write = (): void => {
    if (!may || typed.kind !== 'value' || typed.value < 0) return;
    saveRoom(typed.value, (said) => (said === undefined ? close() : setWhy(said)));
  };
  const refused = (
    <span className="grow field-error" role="alert">
      {why}
    </span>
  );
  if (owner === 'none')
    return (
      <Dialog title={words.roomAgain} close={close} submit={close} foot={<DialogFoot main={words.roomLeft} withoutKey />}>
        <p>{words.roomOfNone}</p>
      </Dialog>
    );
  return (
    <Dialog
      title={words.roomAgain}
      close={close}
      submit={write}
      foot={<DialogFoot main={words.roomSave} off={!may || !isGood} withoutKey says={refused} />}
    >
      <p>{words.roomFromOutside}</p>
      {owner !== visit.id && <p>{alarmWords.roomOfOther}</p>}
      <Field label={words.roomField} value={text} change={setText} unit="ppm" width={160} error={errorOf(typed)} disabled={!may} />
    </Dialog>
  );
}

/** What the oil on the paper came from: without it there is no other reading. */
export function OilCause({ close }: { close: () => void }) {
  const { visits } = useParts();
  const { visit, may } = useVisit();
  const { send, refused } = useSend(close);
  const [text, setText] = useState('');
  const write = (): void => {
    if (!may || text.trim().length < 3) return;
    send({ path: ['oilCauses'], after: [...(visit.oilCauses ?? []), { wallMs: visits.nowWallMs(), text: text.trim().slice(0, 500) }] });
  };
  return (
    <Dialog
      title={words.oilCause}
      close={close}
      submit={write}
      foot={<DialogFoot main={words.oilSave} off={!may || text.trim().length < 3} withoutKey says={refused} />}
    >
      <p>{words.oilAbout}</p>
      <Field label={words.oilField} value={text} change={setText} numeric={false} width={480} disabled={!may} />
    </Dialog>
  );
}

/** What was done with a burner that is not safe to leave running: asked before such a visit can be signed. */
export function LeftOff({ close }: { close: () => void }) {
  const { visits } = useParts();
  const { visit, may } = useVisit();
  const { send, refused } = useSend(close);
  const [off, setOff] = useState(visit.notLeftRunning?.leftOff ?? false);
  const [tagged, setTagged] = useState(visit.notLeftRunning?.redTagged ?? false);
  const [owner, setOwner] = useState(visit.notLeftRunning?.ownerTold ?? '');
  const isWhole = off && tagged && owner.trim() !== '';
  const write = (): void => {
    if (!may || !isWhole) return;
    send({
      path: ['notLeftRunning'],
      after: { wallMs: visits.nowWallMs(), leftOff: off, redTagged: tagged, ownerTold: owner.trim().slice(0, 120) },
    });
  };
  return (
    <Dialog
      title={left.title}
      close={close}
      submit={write}
      foot={<DialogFoot main={left.save} off={!may || !isWhole} withoutKey says={refused} />}
    >
      <p>{left.asks}</p>
      <Check label={left.leftOff} checked={off} change={setOff} />
      <Check label={left.redTagged} checked={tagged} change={setTagged} />
      <Field label={left.ownerTold} value={owner} change={setOwner} numeric={false} width={320} disabled={!may} />
    </Dialog>
  );
}
