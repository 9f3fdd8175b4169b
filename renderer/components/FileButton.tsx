import { useRef, type ChangeEvent } from 'react';

type Props = {
  text: string;
  /** endings and types, as the browser wants them */
  accept: string;
  choose: (files: readonly [File, ...File[]]) => void;
  multiple?: boolean;
  disabled?: boolean;
};

/** Asks for a file. The same file may be chosen twice: what was wrong in it may be right now. */
export function FileButton({ text, accept, choose, multiple, disabled }: Props) {
  const input = useRef<HTMLInputElement>(null);
  const chosen = ({ target }: ChangeEvent<HTMLInputElement>): void => {
    const [first, ...more] = target.files ?? [];
    target.value = '';
    if (first !== undefined) choose([first, ...more]);
  };
  return (
    <>
      <button type="button" className="button" disabled={disabled} onClick={() => input.current?.click()}>
        {text}
      </button>
      <input ref={input} type="file" hidden multiple={multiple} accept={accept} aria-label={text} onChange={chosen} />
    </>
  );
}
