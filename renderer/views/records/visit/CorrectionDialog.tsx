import { useState } from 'react';
import { withCorrections, type Visit } from '../../../../shared/tuning/visit/visit.ts';
import { records } from '../../../../shared/words/records/records.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { useRefusal } from '../../../components/alerts/use-refusal.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Choice, Field } from '../../../components/Field.tsx';
import { correctionFields } from './correction-fields.ts';
import { problemLine } from '../../../../shared/words/problems.ts';
import { defined } from '../../../../shared/defined.ts';
import './visit.css';

const words = records.correct;

/** A signed visit stays as it was signed; what is put right stands beside it, with who, when and why. */
export function CorrectionDialog({ visit, close }: { visit: Visit; close: () => void }) {
  const { client } = useParts();
  const { refused, refuse, isHere } = useRefusal();
  const units = useApp((state) => state.settings.units);
  const [openedMs] = useState(() => Date.now());
  const fields = correctionFields(withCorrections(visit), units, openedMs);
  const [key, setKey] = useState(fields[0]?.key ?? '');
  const field = fields.find((one) => one.key === key) ?? fields[0];
  const [typed, setTyped] = useState('');
  const [reason, setReason] = useState('');
  const [wrong, setWrong] = useState<{ value?: string; reason?: string }>({});
  if (field === undefined) return null;
  const save = async (): Promise<void> => {
    const read = field.read(typed);
    const isSame = typed.trim() === field.shown;
    const value =
      read.kind === 'wrong' ? read.error : isSame ? words.same : read.kind === 'empty' && !field.mayBeEmpty ? words.empty : undefined;
    const why = reason.trim().length < 3 ? words.reasonMissing : undefined;
    if (value !== undefined || why !== undefined) return setWrong(defined({ value, reason: why }));
    const after = read.kind === 'value' ? { after: read.value as never } : {};
    const done = await client.call('visit.edit', { id: visit.id, changes: [{ path: field.path, ...after }], reason: reason.trim() });
    if (!done.ok) return refuse(done.error);
    // closed before the answer came: what is open by then is another window
    if (isHere.current) close();
  };
  return (
    <Dialog
      title={words.title(visit.number)}
      close={close}
      submit={save}
      foot={
        <DialogFoot
          main={words.save}
          withoutKey
          says={
            <span className="grow second" role="status">
              {refused === undefined ? '' : problemLine(refused)}
            </span>
          }
        />
      }
    >
      <div className="correction-form">
        <p>{words.about}</p>
        <Choice
          label={words.field}
          value={field.key}
          change={(next) => {
            setKey(next);
            setTyped(fields.find((one) => one.key === next)?.shown ?? '');
            setWrong({});
          }}
          options={fields.map((one) => ({ value: one.key, text: one.label }))}
        />
        {field.shown !== '' && (
          <p className="second">
            {words.stands}: {field.shown} {field.unit}
          </p>
        )}
        <Field label={words.value} value={typed} change={setTyped} unit={field.unit} numeric={field.unit !== ''} error={wrong.value} />
        <Field label={words.reason} value={reason} change={setReason} numeric={false} error={wrong.reason} hint={words.reasonHint} />
      </div>
    </Dialog>
  );
}
