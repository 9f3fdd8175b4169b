import { useState } from 'react';
import { common } from '../../../../shared/words/common.ts';
import { roomCoLevel } from '../../../../shared/tuning/advice/cautions.ts';
import { startWords as words } from '../../../../shared/words/visit/screens/start.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Field } from '../../../components/Field.tsx';
import { errorOf, typedPlain } from '../../../fields/typed.ts';
import { useVisit } from '../use-visit.ts';
import { formatClock } from '../../../../shared/format/duration.ts';
import './safety.css';

const TYPED = 'room-co-typed';

/**
 * Each reading of the room air is written down with its time; the last one counts.
 *
 * @param before the burner was not fired on this visit yet: the safety test that asks for this reading is answered with it
 */
export function RoomCoField({ label = words.roomCo, before = false }: { label?: string; before?: boolean }) {
  const { visits } = useParts();
  const { visit, formats, may, edit } = useVisit();
  // by a key another screen is there without the field being left: what is typed waits for it
  const text = useApp((state) => state.fieldTexts[TYPED]) ?? '';
  const keepText = useApp((state) => state.fieldTyped);
  const [tried, setTried] = useState(false);
  const [refused, setRefused] = useState<string>();
  const typed = typedPlain(text);
  const last = visit.roomCo.at(-1);
  const negative = typed.kind === 'value' && typed.value < 0;
  const write = (): void => {
    // the field was kept as it was left; a press on the button after that has nothing more to keep
    setTried(typed.kind !== 'empty' || last === undefined);
    if (typed.kind !== 'value' || negative) return;
    const wallMs = visits.nowWallMs();
    const asked = before && roomCoLevel(typed.value) === 'clear' && !visit.safety.some(({ test }) => test === 'room-co-before');
    const why = edit(
      { path: ['roomCo', visit.roomCo.length], after: { wallMs, ppm: typed.value } },
      // read before firing is what the first test of the run-through asks for; anything but clear air is judged by a person
      ...(asked
        ? [
            {
              path: ['safety', visit.safety.length],
              after: { test: 'room-co-before', result: 'pass', note: formats.ppm(typed.value), wallMs },
            },
          ]
        : []),
    );
    setRefused(why);
    // what the visit does not take stays in the field: gone, it would look like a saved reading
    if (why !== undefined) return;
    keepText(TYPED, undefined);
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
        change={(next) => {
          keepText(TYPED, next);
          setRefused(undefined);
        }}
        unit="ppm"
        width={150}
        disabled={!may}
        left={() => typed.kind === 'value' && !negative && write()}
        error={refused ?? errorOf(typed) ?? (negative || (tried && typed.kind === 'empty') ? common.fieldErrors.empty : undefined)}
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
