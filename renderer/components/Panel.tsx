import { useEffect, useRef, type ReactNode } from 'react';
import { common } from '../../shared/words/common.ts';
import { HostAlert } from './alerts/HostAlert.tsx';
import { useKey } from '../keys/use-key.ts';
import { Key } from './Key.tsx';

/** Lies over the workspace; Escape closes it and the focus goes back to where it was. */
export function Panel({
  title,
  about = '',
  close,
  tools,
  children,
}: {
  title: string;
  about?: string;
  close: () => void;
  tools?: ReactNode;
  children: ReactNode;
}) {
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    const before = document.activeElement;
    head.current?.focus();
    return () => {
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, []);
  useKey('back', close);
  return (
    <div className="panel" data-region="main">
      <div className="panel-head">
        <h1 ref={head} tabIndex={-1} className="size-h2">
          {title}
        </h1>
        <span className="second">{about}</span>
        <span className="grow" />
        {tools}
        <button type="button" className="button" onClick={close}>
          {common.close} <Key action="back" />
        </button>
      </div>
      {/* the panel lies over the place where the workspace would say that something was refused */}
      <HostAlert />
      {children}
    </div>
  );
}
