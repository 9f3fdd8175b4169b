import { useId, type ReactNode } from 'react';
import { useReportWrong } from '../fields/wrong-fields.ts';
import { ChannelName } from './ChannelName.tsx';

type Props = {
  label: string;
  value: string;
  change: (value: string) => void;
  unit?: string;
  error?: string | undefined;
  hint?: ReactNode;
  width?: number | string | undefined;
  first?: boolean;
  numeric?: boolean;
  disabled?: boolean;
  /** label only for screen readers: inside tables */
  bare?: boolean;
  /** what holds while the field is empty */
  placeholder?: string;
  /** a sentence: it grows downwards instead of being cut at the side; still one line of text */
  long?: boolean;
  /** the focus went elsewhere */
  left?: () => void;
};

/** “4.4 mm” is not followed by its unit once more: a narrow field has room for one. */
const saysUnit = (value: string): boolean => /\d\s*[\p{L}"″′]/u.test(value);

/** Label above, unit at the right inside; what was typed is never cleared for the person. */
export function Field(props: Props) {
  const {
    label,
    value,
    change,
    unit,
    error,
    hint,
    width,
    first = false,
    numeric = true,
    disabled = false,
    bare = false,
    placeholder,
    long = false,
    left,
  } = props;
  const id = useId();
  useReportWrong(error !== undefined);
  const typed = {
    id,
    value,
    disabled,
    placeholder,
    inputMode: numeric ? ('decimal' as const) : ('text' as const),
    autoComplete: 'off',
    spellCheck: false,
    'aria-label': bare ? label : undefined,
    'aria-invalid': error !== undefined,
    'aria-describedby': error === undefined && hint === undefined ? undefined : `${id}-note`,
    ...(first ? { 'data-first': '' } : {}),
  };
  return (
    <div className="one-field" style={width === undefined ? undefined : { width }} onBlur={left}>
      {!bare && (
        <label className="field-label" htmlFor={id}>
          <ChannelName text={label} />
        </label>
      )}
      <div className={`field${error === undefined ? '' : ' wrong'}${long ? ' long' : ''}`}>
        {long ? (
          <textarea
            {...typed}
            rows={1}
            onChange={(event) => {
              const { inputType } = event.nativeEvent as InputEvent;
              // Enter breaks no line; pasted breaks part words
              change(event.target.value.replace(/[\r\n]+/g, inputType === 'insertLineBreak' ? '' : ' '));
            }}
            onKeyDown={(event) => {
              // without a form it goes on to the keys of the window, where a foot switch may mean it
              if (event.key !== 'Enter' || event.nativeEvent.isComposing || event.currentTarget.form === null) return;
              event.preventDefault();
              if (!event.repeat) event.currentTarget.form.requestSubmit();
            }}
          />
        ) : (
          <input {...typed} onChange={(event) => change(event.target.value)} />
        )}
        {unit !== undefined && unit !== '' && !saysUnit(value) && <span className="unit">{unit}</span>}
      </div>
      {error !== undefined ? (
        <div className="field-error" id={`${id}-note`} role="alert">
          <ChannelName text={error} />
        </div>
      ) : (
        hint !== undefined && (
          <div className="field-hint" id={`${id}-note`}>
            {lowered(hint)}
          </div>
        )
      )}
    </div>
  );
}

const lowered = (node: ReactNode): ReactNode => (typeof node === 'string' ? <ChannelName text={node} /> : node);

type ChoiceProps<T extends string> = {
  label: string;
  value: T;
  change: (value: T) => void;
  options: readonly { value: T; text: string }[];
  width?: number | string;
  hint?: ReactNode;
  disabled?: boolean;
  /** label only for screen readers: inside tables and lines; it has no hint */
  bare?: boolean;
};

export function Choice<T extends string>({ label, value, change, options, width, hint, disabled = false, bare = false }: ChoiceProps<T>) {
  const id = useId();
  const style = width === undefined ? undefined : { width };
  const list = (
    <>
      <select
        id={id}
        value={value}
        disabled={disabled}
        aria-label={bare ? label : undefined}
        aria-describedby={hint === undefined ? undefined : `${id}-note`}
        onChange={(event) => change(event.target.value as T)}
      >
        {options.map((one) => (
          <option key={one.value} value={one.value}>
            {one.text}
          </option>
        ))}
      </select>
      <svg width="14" height="10" viewBox="0 0 14 10" aria-hidden="true">
        <path className="stroke-second" strokeWidth="2.5" d="M1 1.5L7 8L13 1.5" />
      </svg>
    </>
  );
  if (bare)
    return (
      <div className="field" style={style}>
        {list}
      </div>
    );
  return (
    <div style={style}>
      <label className="field-label" htmlFor={id}>
        <ChannelName text={label} />
      </label>
      <div className="field">{list}</div>
      {hint !== undefined && (
        <div className="field-hint" id={`${id}-note`}>
          {lowered(hint)}
        </div>
      )}
    </div>
  );
}

type CheckProps = { label: ReactNode; checked: boolean; change: (checked: boolean) => void; disabled?: boolean };

export function Check({ label, checked, change, disabled = false }: CheckProps) {
  return (
    <label className="check">
      <input type="checkbox" checked={checked} disabled={disabled} onChange={(event) => change(event.target.checked)} />
      <span>{lowered(label)}</span>
    </label>
  );
}
