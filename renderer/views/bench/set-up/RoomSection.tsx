import { freshAirReference } from '../../../../shared/bench/references.ts';
import { formatNumber } from '../../../../shared/format/quantity.ts';
import { benchSetUp } from '../../../../shared/words/bench/bench-run.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Check, Field } from '../../../components/Field.tsx';
import { errorOf } from '../../../fields/typed.ts';
import type { SectionProps } from './section.ts';
import '../bench.css';

const words = benchSetUp;

/** The room's air: what fresh air should read follows from its humidity, unless the instrument dries its sample. */
export function RoomSection({ draft: { room }, facts, set }: SectionProps) {
  const { numbers } = facts;
  const air = freshAirReference(facts.room);
  return (
    <section className="bench-fields" aria-label={words.room}>
      <h3>{words.room}</h3>
      <div className="form-row">
        <Field
          label={words.airC}
          value={room.airC}
          change={(airC) => set({ room: { ...room, airC } })}
          unit="°C"
          width={152}
          error={errorOf(numbers.airC)}
        />
        <Field
          label={words.humidity}
          value={room.humidity}
          change={(humidity) => set({ room: { ...room, humidity } })}
          unit="%"
          width={152}
          error={errorOf(numbers.humidity)}
        />
        <Field
          label={words.pressure}
          value={room.pressure}
          change={(text) => set({ room: { ...room, pressure: text } })}
          unit="hPa"
          width={152}
          error={errorOf(numbers.pressure)}
        />
      </div>
      <Check label={words.dried} checked={facts.room.dried} change={(next) => set({ dried: next })} />
      <p className="second">
        <ChannelName text={words.airO2(`${formatNumber(air.value, 2)} ±${formatNumber(air.expanded, 2)} %`)} />
      </p>
      <Field
        label={words.place}
        value={room.place}
        change={(text) => set({ room: { ...room, place: text } })}
        numeric={false}
        hint={words.placeHint}
      />
    </section>
  );
}
