import type { KeyboardEvent } from 'react';
import { live } from '../../../../shared/words/tune/live.ts';
import type { StepperAdjuster } from '../../../state/selectors.ts';
import type { PendingDeeds } from './use-pending-mark.ts';
import { formatPosition } from '../../../../shared/format/quantity.ts';
import './Stepper.css';

type Props = { adjuster: StepperAdjuster; deeds: PendingDeeds; disabled: boolean };

/** One adjuster of the burner on the user's own scale. Left and right step it, digits type it, Enter marks it. */
export function Stepper({ adjuster, deeds, disabled }: Props) {
  const { name, value, min, max } = adjuster;
  const pending = deeds.pending?.name === name ? deeds.pending : undefined;
  const shown = pending?.text.replace('-', '−') ?? (value === undefined ? live.unknownPosition : formatPosition(value));
  const onKeyDown = (event: KeyboardEvent): void => {
    if (disabled || event.ctrlKey || event.metaKey || event.altKey) return;
    const { key } = event;
    if (key === 'ArrowRight' || key === 'ArrowUp' || key === '+') deeds.step(name, 1);
    else if (key === 'ArrowLeft' || key === 'ArrowDown') deeds.step(name, -1);
    else if (/^[0-9.,]$/.test(key) || key === '-') deeds.type(name, key);
    else if (key === 'Backspace') deeds.erase();
    else if (key === 'Enter' && pending !== undefined) deeds.commit();
    else if (key === 'Escape' && pending !== undefined) deeds.cancel();
    else return;
    event.preventDefault();
  };
  return (
    <div
      className={`stepper${pending === undefined ? '' : ' pending'}${pending?.error === undefined ? '' : ' wrong'}`}
      data-adjuster={name}
    >
      <button
        type="button"
        className="inset-focus"
        tabIndex={-1}
        disabled={disabled}
        aria-label={live.less(name)}
        onClick={() => deeds.step(name, -1)}
      >
        −
      </button>
      <div
        className="position inset-focus"
        role="spinbutton"
        tabIndex={0}
        aria-label={live.position(name)}
        aria-valuenow={value ?? 0}
        aria-valuetext={pending?.error ?? shown}
        aria-valuemin={min}
        aria-valuemax={max}
        aria-disabled={disabled}
        aria-invalid={pending?.error !== undefined}
        onKeyDown={onKeyDown}
      >
        <span>{pending === undefined ? name.charAt(0).toUpperCase() + name.slice(1) : live.pending}</span>
        <b>{shown}</b>
      </div>
      <button
        type="button"
        className="inset-focus"
        tabIndex={-1}
        disabled={disabled}
        aria-label={live.moreOf(name)}
        onClick={() => deeds.step(name, 1)}
      >
        +
      </button>
    </div>
  );
}
