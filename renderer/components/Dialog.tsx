import { useEffect, useId, useRef, type FormEvent, type ReactNode } from 'react';
import { common } from '../../shared/words/common.ts';
import { useEscape } from './use-escape.ts';

/** Without `close` it has to be answered. */
type Props = { title: string; close?: () => void; submit?: () => void; foot?: ReactNode; wide?: boolean; children: ReactNode };

/** A small window on top. The browser keeps the focus inside, Escape closes it where it may be closed, and the focus goes back to where it was. */
export function Dialog({ title, close, submit, foot, wide = false, children }: Props) {
  const dialog = useRef<HTMLDialogElement>(null);
  const titleId = useId();
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
    submit?.();
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
        <div className="dialog-body">{children}</div>
        {foot !== undefined && <div className="dialog-foot">{foot}</div>}
      </form>
    </dialog>
  );
}
