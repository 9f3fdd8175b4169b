/** Fields of the visit: kept while they are typed, never cleared for the person; what can't be understood stays in the field and says so. */
import { useState, type ReactNode } from 'react';
import { useApp } from '../app-parts.ts';
import { Field } from '../components/Field.tsx';
import { common } from '../../shared/words/common.ts';
import type { Typed } from './typed.ts';

type Props<T> = {
  /** tells fields apart, also after the screen was left */
  name: string;
  label: string;
  /** label only for screen readers: inside tables */
  bare?: boolean;
  shown: string;
  parse: (text: string) => Typed<T>;
  /** @returns why it cannot be kept */
  keep: (value: T | undefined) => string | undefined;
  unit?: string;
  width?: number | string;
  hint?: ReactNode;
  disabled?: boolean;
  numeric?: boolean;
  first?: boolean;
  /** grows downwards, as a sentence does */
  long?: boolean;
};

export function KeptField<T>({
  name,
  label,
  bare = false,
  shown,
  parse,
  keep,
  unit = '',
  width,
  hint,
  disabled = false,
  numeric = true,
  first = false,
  long = false,
}: Props<T>) {
  const kept = useApp((state) => state.fieldTexts[name]);
  const fieldTyped = useApp((state) => state.fieldTyped);
  const [typed, setTyped] = useState<string>();
  const [refused, setRefused] = useState<string>();
  /** what stood there before somebody began to type, once a beginning of it was saved */
  const [before, setBefore] = useState<{ readonly value: T | undefined }>();
  const text = typed ?? kept ?? shown;
  const parsed = kept === undefined ? undefined : parse(kept);
  // after the screen was left nobody knows why any more, only that it is not what the visit holds
  const wasRefused = kept !== undefined && typed === undefined && parsed?.kind === 'value' ? common.fieldErrors.notKept : undefined;
  const error = refused ?? (parsed?.kind === 'wrong' ? parsed.error : wasRefused);
  /** '14' of a '140' that cannot be is not left behind: nobody typed it */
  const putBack = (): void => {
    if (before === undefined) return;
    keep(before.value);
    setBefore(undefined);
  };
  const change = (next: string): void => {
    setTyped(next);
    const read = parse(next);
    if (read.kind === 'wrong') {
      setRefused(undefined);
      putBack();
      return fieldTyped(name, next);
    }
    const old = parse(shown);
    const why = keep(read.kind === 'empty' ? undefined : read.value);
    setRefused(why);
    fieldTyped(name, why === undefined ? undefined : next);
    if (why !== undefined) putBack();
    else if (before === undefined && old.kind !== 'wrong') setBefore({ value: old.kind === 'value' ? old.value : undefined });
  };
  return (
    <Field
      label={label}
      bare={bare}
      value={text}
      change={change}
      unit={unit}
      width={width}
      hint={hint}
      error={error}
      disabled={disabled}
      numeric={numeric}
      first={first}
      long={long}
      left={() => {
        setTyped(undefined);
        setBefore(undefined);
      }}
    />
  );
}

export const optionsOf = <T extends string>(words: Readonly<Record<T, string>>): { value: T; text: string }[] =>
  (Object.entries(words) as [T, string][]).map(([value, text]) => ({ value, text }));
