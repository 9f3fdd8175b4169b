import { useState } from 'react';
import { live } from '../../../../shared/words/tune/live.ts';
import { Dialog } from '../../../components/Dialog.tsx';
import { Field } from '../../../components/Field.tsx';
import { useSaveMark } from './use-save-mark.tsx';

const words = live.noteDialog;

export function NoteEntry({ close }: { close: () => void }) {
  const [text, setText] = useState('');
  const [tried, setTried] = useState(false);
  const { save, question } = useSaveMark(close, { isTyped: text !== '' });
  const submit = (): void => {
    setTried(true);
    if (text.trim() !== '') save({ kind: 'note', text: text.trim().slice(0, 2000) }, text.trim().slice(0, 40));
  };
  return (
    <Dialog
      title={words.title}
      close={close}
      submit={submit}
      foot={
        <>
          <span className="grow" />
          <button type="submit" className="button main">
            {words.use} <kbd aria-hidden="true">Enter</kbd>
          </button>
        </>
      }
    >
      <Field
        label={words.field}
        first
        numeric={false}
        value={text}
        change={setText}
        error={tried && text.trim() === '' ? words.empty : undefined}
      />
      {question}
    </Dialog>
  );
}
