import { useState } from 'react';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Field } from '../../../components/Field.tsx';

const words = benchResult;

/** Asks what was adjusted before the plan runs once more as left. */
export function AdjustDialog({ close, go }: { close: () => void; go: (text: string) => Promise<unknown> }) {
  const [text, setText] = useState('');
  const ready = text.trim().length >= 3;
  return (
    <Dialog
      title={words.adjustTitle}
      close={close}
      submit={async () => {
        if (ready) await go(text.trim());
      }}
      foot={<DialogFoot main={words.adjustGo} off={!ready} />}
    >
      <p>{words.adjustAbout}</p>
      <Field label={words.adjustment} value={text} change={setText} numeric={false} first hint={words.adjustNeeded} />
    </Dialog>
  );
}
