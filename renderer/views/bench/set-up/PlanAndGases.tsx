import { gasFlaws } from '../../../../shared/bench/instrument.ts';
import type { BottleSlot } from '../../../../shared/bench/plan.ts';
import { practiceGases } from '../../../../shared/bench/practice.ts';
import { certified } from '../../../../shared/words/bench/bench-format.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchSetUp } from '../../../../shared/words/bench/bench-run.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Choice, Field } from '../../../components/Field.tsx';
import { useBench, useBenchScreen } from '../use-bench.ts';
import type { SectionProps } from './section.ts';
import '../bench.css';
import './set-up.css';

const words = benchSetUp;
const NEW = 'new';

/** The plan and a bottle for each of its gases. A doubtful bottle needs a reason. */
export function PlanAndGases({
  draft: { bottles, reasons },
  facts: { plans, plan, slots, bottleFor, isPractice, warnings },
  set,
  today,
}: SectionProps & { today: string }) {
  const screen = useBenchScreen();
  const known = useBench((state) => state.lists.gas);
  /** a bottle that is not in the list yet is typed now, and chosen on the way back */
  const pickBottle = (slot: BottleSlot, chosen: string): void =>
    chosen === NEW ? screen.show({ kind: 'gas', id: undefined, wantedFor: { slot } }) : set({ bottles: { ...bottles, [slot]: chosen } });
  const optionsFor = (slot: BottleSlot) => [
    { value: '', text: words.chooseBottle },
    ...(isPractice ? [{ value: 'practice', text: words.practiceBottle(practiceGases[slot].name) }] : []),
    ...known.map(({ id, body }) => ({ value: id, text: body.name })),
    { value: NEW, text: words.newBottle },
  ];
  return (
    <section className="bench-fields" aria-label={words.gases}>
      <h2>{words.plan}</h2>
      <Choice
        label={words.plan}
        value={plan?.name ?? ''}
        change={(planName) => set({ planName })}
        width={340}
        options={plans.map(({ name }) => ({ value: name, text: name }))}
      />
      <h2>{words.gases}</h2>
      {slots.map((slot) => {
        const gas = bottleFor(slot);
        const flaws = gas === undefined ? [] : gasFlaws(gas, today);
        return (
          <div key={slot} className="form-row">
            <Choice
              label={words.bottleFor(bench.slots[slot])}
              width={340}
              value={bottles[slot] ?? (isPractice ? 'practice' : '')}
              change={(chosen) => pickBottle(slot, chosen)}
              options={optionsFor(slot)}
            />
            {gas !== undefined && (
              <p className="bench-gas-line second">
                <ChannelName
                  text={gas.components.map((one) => `${bench.channels[one.channel]} ${certified(one.channel, one.value)}`).join(', ')}
                />
                {gas.pressureBar === undefined ? '' : ` · ${bench.gas.left(gas.pressureBar)}`}
              </p>
            )}
            {flaws.length > 0 && (
              <Field
                label={bench.gas.reason}
                value={reasons[slot] ?? ''}
                change={(text) => set({ reasons: { ...reasons, [slot]: text } })}
                numeric={false}
                width={420}
                error={
                  (reasons[slot]?.trim().length ?? 0) < 3
                    ? words.missing.reason(gas?.name ?? '', flaws.map((flaw) => bench.gas.flaws[flaw]).join(', '))
                    : undefined
                }
              />
            )}
          </div>
        );
      })}
      {warnings.map((text) => (
        <p key={text} className="notice-text">
          <ChannelName text={text} />
        </p>
      ))}
    </section>
  );
}
