import type { ReactNode } from 'react';

type Props<T extends string> = {
  /** what is chosen between, for screen readers */
  label: string;
  options: readonly { value: T; text: ReactNode }[];
  value: T;
  change: (value: T) => void;
};

/** One of a few, side by side in one frame: the chosen one is in the slot. */
export function Switch<T extends string>({ label, options, value, change }: Props<T>) {
  return (
    <div className="switch" role="group" aria-label={label}>
      {options.map((one) => (
        <button key={one.value} type="button" aria-pressed={one.value === value} onClick={() => one.value !== value && change(one.value)}>
          {one.text}
        </button>
      ))}
    </div>
  );
}
