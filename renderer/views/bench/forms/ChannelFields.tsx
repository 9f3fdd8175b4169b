import type { ReactNode } from 'react';
import type { BenchChannel } from '../../../../shared/bench/instrument.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { unitOf } from '../../../../shared/words/bench/bench-format.ts';
import { Choice, Field } from '../../../components/Field.tsx';
import { empty, errorOf, type Typed } from '../../../fields/typed.ts';
import './forms.css';

type Props<Key extends string> = {
  label: string;
  typed: { readonly channel: BenchChannel } & Readonly<Record<Key, string>>;
  /** channels that no other row has */
  free: readonly BenchChannel[];
  figures: readonly { key: Key; label: string; width: number }[];
  read: Readonly<Record<Key, Typed<number>>> | undefined;
  change: (part: { channel: BenchChannel } | Partial<Record<Key, string>>) => void;
  children?: ReactNode;
};

/** One channel and what is typed of it, in the channel's own unit. */
export function ChannelFields<Key extends string>({ label, typed, free, figures, read, change, children }: Props<Key>) {
  const { channel } = typed;
  return (
    <fieldset className="bench-cell">
      <legend className="hidden-text">{bench.channels[channel]}</legend>
      <Choice
        label={label}
        width={110}
        value={channel}
        change={(next) => change({ channel: next })}
        options={[channel, ...free].map((value) => ({ value, text: bench.channels[value] }))}
      />
      {figures.map(({ key, label: name, width }) => (
        <Field
          key={key}
          label={name}
          value={typed[key]}
          change={(text) => change({ [key]: text } as Partial<Record<Key, string>>)}
          unit={unitOf(channel)}
          width={width}
          error={errorOf(read?.[key] ?? empty)}
        />
      ))}
      {children}
    </fieldset>
  );
}
