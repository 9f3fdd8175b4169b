import { useEffect, useId, useRef, type KeyboardEvent } from 'react';
import { leadWords as words } from '../../../../shared/words/geometry/lead.ts';
import { useParts } from '../../../app-parts.ts';
import type { LeadField } from '../use-lead.ts';
import './FractionField.css';

/** more characters than the field has room for at full size */
const LONG = 6;
/** Letters of a length with its unit stay in the field; every other letter is a key of the screen. */
const ofLengths = /^[mMiInNcChH]$/;

/** One big field: digits go into it, Space is always the next thing, arrows are one press more or less. */
export function FractionField({
  field,
  act,
  disabled,
  size,
  focusKey,
}: {
  field: LeadField;
  act: () => void;
  disabled: boolean;
  size: 'near' | 'far';
  focusKey: string;
}) {
  const { keys } = useParts();
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => {
    if (document.querySelector('dialog[open]') !== null) return;
    input.current?.focus();
    input.current?.select();
  }, [focusKey]);
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>): void => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.nativeEvent.isComposing) return;
    const { key } = event;
    if (key === ' ' || key === 'Enter') {
      event.preventDefault();
      if (!event.repeat) act();
    } else if (key === 'ArrowUp' || key === 'ArrowDown') {
      event.preventDefault();
      field.nudge(key === 'ArrowUp' ? 1 : -1);
    } else if (/^[a-zA-Z?]$/.test(key) && !(field.isLength && ofLengths.test(key))) {
      event.preventDefault();
      keys.press({ key, ctrl: false, alt: false, repeat: event.repeat, focus: 'other', dialogOpen: false });
    }
  };
  return (
    <div className={`fraction-field ${size}${field.text.length > LONG ? ' long' : ''}`}>
      <label htmlFor={id}>{field.label}</label>
      <div className={`fraction-row${field.error === undefined ? '' : ' wrong'}`}>
        {size === 'near' && (
          <button type="button" aria-label={words.less} disabled={disabled} onClick={() => field.nudge(-1)}>
            −
          </button>
        )}
        <span className="fraction-value">
          <input
            ref={input}
            id={id}
            value={field.text}
            disabled={disabled}
            autoComplete="off"
            spellCheck={false}
            aria-invalid={field.error !== undefined}
            aria-describedby={`${id}-note`}
            style={{ width: `${Math.max(2, field.text.length) + 0.15}ch` }}
            onChange={(event) => field.change(event.target.value)}
            onKeyDown={onKeyDown}
          />
          {field.unit !== '' && <span className="fraction-unit">{field.unit}</span>}
        </span>
        {size === 'near' && (
          <button type="button" aria-label={words.more} disabled={disabled} onClick={() => field.nudge(1)}>
            +
          </button>
        )}
      </div>
      <div
        id={`${id}-note`}
        className={field.error === undefined ? 'small second' : 'field-error'}
        role={field.error === undefined ? undefined : 'alert'}
      >
        {field.error ?? (size === 'near' ? field.hint : '')}
      </div>
    </div>
  );
}
