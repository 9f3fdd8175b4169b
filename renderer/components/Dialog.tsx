import { useEffect, useId, useRef, type FormEvent, type ReactNode } from 'react';
import { common } from '../../shared/words/common.ts';
import { AnswerHere } from './alerts/AnswerHere.tsx';
import { useEscape } from './use-escape.ts';

/** Without `close` it has to be answered. While a `submit` waits for the host's answer, a second press of Enter does nothing. */
type Props = {
  title: string;
  close?: () => void;
  submit?: () => void | Promise<unknown>;
  foot?: ReactNode;
  wide?: boolean;
  children: ReactNode;
};

/** A small window on top. The browser keeps the focus inside, Escape closes it where it may be closed, and the focus goes back to where it was. */
export function Dialog({ title, close, submit, foot, wide = false, children }: Props) {
  const dialog = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  const isSending = useRef(false);
  useEffect(() => {
    const element = dialog.current;
    const before = document.activeElement;
    if (element !== null && !element.open) element.showModal();
    element?.querySelector<HTMLElement>('[data-first]')?.focus();
    return () => {
      element?.close();
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, []);
  useEscape(dialog, () => close?.());
  const onSubmit = (event: FormEvent): void => {
    event.preventDefault();
    if (isSending.current) return;
    const sent = submit?.();
    if (sent === undefined) return;
    isSending.current = true;
    void sent.finally(() => (isSending.current = false));
  };
  return (
    <dialog
      ref={dialog}
      aria-labelledby={titleId}
      style={wide ? { width: 'min(1000px, calc(100vw - 40px))' } : undefined}
      onCancel={(event) => {
        event.preventDefault();
        close?.();
      }}
      onClose={({ currentTarget }) => {
        if (close === undefined && !currentTarget.open) currentTarget.showModal();
      }}
    >
      <form onSubmit={onSubmit} noValidate>
        <div className="dialog-head">
          <h2 id={titleId}>{title}</h2>
          <span className="grow" />
          {close !== undefined && (
            <button type="button" className="button" onClick={close}>
              {common.close} <kbd aria-hidden="true">Esc</kbd>
            </button>
          )}
        </div>
        <div className="dialog-body">
          <AnswerHere />
          {children}
        </div>
        {foot !== undefined && <div className="dialog-foot">{foot}</div>}
      </form>
    </dialog>
  );
}

type FootProps = {
  main: ReactNode;
  off?: boolean;
  /** what has the focus where there is no field */
  first?: boolean;
  withoutKey?: boolean;
  /** what is said beside the button, as wide as there is room */
  says?: ReactNode;
  children?: ReactNode;
};

/** The foot of a small window: what else can be done, and the main button at its right; Enter in a field does the same. */
export const DialogFoot = ({ main, off, first = false, withoutKey = false, says = <span className="grow" />, children }: FootProps) => (
  <>
    {children}
    {says}
    <button type="submit" className="button main" disabled={off} {...(first && { 'data-first': '' })}>
      {main}
      {!withoutKey && (
        <>
          {' '}
          <kbd aria-hidden="true">Enter</kbd>
        </>
      )}
    </button>
  </>
);
