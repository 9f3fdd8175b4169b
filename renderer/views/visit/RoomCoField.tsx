import { useState } from 'react';
import { common } from '../../../shared/words/common.ts';
import { startWords as words } from '../../../shared/words/visit.ts';
import { useParts } from '../../app-parts.ts';
import { Field } from '../../components/Field.tsx';
import { formatClock } from '../../format/duration.ts';
import { errorOf, typedPlain } from '../tune/entries/typed-number.ts';
import { useVisit } from './use-visit.ts';

/** Each reading of the room air is written down with its time; the last one counts. */
export function RoomCoField({ label = words.roomCo }: { label?: string }) {
  const { visits } = useParts();
  const { visit, formats, may, edit } = useVisit();
  const [text, setText] = useState('');
  const [tried, setTried] = useState(false);
  const typed = typedPlain(text);
  const last = visit.roomCo.at(-1);
  const negative = typed.kind === 'number' && typed.value < 0;
  const write = (): void => {
    setTried(true);
    if (typed.kind !== 'number' || negative) return;
    edit({ path: ['roomCo', visit.roomCo.length], after: { wallMs: visits.nowWallMs(), ppm: typed.value } });
    setText('');
    setTried(false);
  };
  return (
    <form
      className="room-co"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        write();
      }}
    >
      <Field
        label={label}
        value={text}
        change={setText}
        unit="ppm"
        width={150}
        disabled={!may}
        error={errorOf(typed) ?? (negative || (tried && typed.kind === 'empty') ? common.fieldErrors.empty : undefined)}
        hint={
          last === undefined ? undefined : words.roomCoLast(formats.ppm(last.ppm), formatClock(last.wallMs, visit.zoneMinutes, 'minutes'))
        }
      />
      <button type="submit" className="button" disabled={!may}>
        {words.roomCoRead}
      </button>
    </form>
  );
}
