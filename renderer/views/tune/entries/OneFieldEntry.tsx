import type { ComponentProps, ReactNode } from 'react';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Field } from '../../../components/Field.tsx';

type Props = {
  words: { readonly title: string; readonly field: string; readonly use: string };
  close: () => void;
  submit: () => Promise<void>;
  field: Omit<ComponentProps<typeof Field>, 'label' | 'first'>;
  children?: ReactNode;
};

/** A window with one field and one button. */
export function OneFieldEntry({ words, close, submit, field, children }: Props) {
  return (
    <Dialog title={words.title} close={close} submit={submit} foot={<DialogFoot main={words.use} />}>
      <Field label={words.field} first {...field} />
      {children}
    </Dialog>
  );
}
