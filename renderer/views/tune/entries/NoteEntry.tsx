import { useState } from 'react';
import { live } from '../../../../shared/words/tune/live.ts';
import { OneFieldEntry } from './OneFieldEntry.tsx';
import { useSaveMark } from './use-save-mark.tsx';

const words = live.noteDialog;

export function NoteEntry({ close }: { close: () => void }) {
  const [text, setText] = useState('');
  const [tried, setTried] = useState(false);
  const { save, question } = useSaveMark(close, { isTyped: text !== '' });
  const submit = async (): Promise<void> => {
    setTried(true);
    if (text.trim() !== '') await save({ kind: 'note', text: text.trim().slice(0, 2000) }, text.trim().slice(0, 40));
  };
  return (
    <OneFieldEntry
      words={words}
      close={close}
      submit={submit}
      field={{ numeric: false, value: text, change: setText, error: tried && text.trim() === '' ? words.empty : undefined }}
    >
      {question}
    </OneFieldEntry>
  );
}
