import { decisionRules } from '../../../../shared/measurement/decision-rule.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchSetUp } from '../../../../shared/words/bench/bench-run.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Choice } from '../../../components/Field.tsx';
import { useBench } from '../use-bench.ts';
import type { SectionProps } from './section.ts';
import '../bench.css';

const words = benchSetUp;

/** Limits and the decision rule. A card of one's own brings the rule that was chosen with it; a published one brings none. */
export function LimitsSection({ draft: { limitsName, rule }, facts: { cards, card }, set }: SectionProps) {
  const own = useBench((state) => state.lists['bench-limits']);
  const pickLimits = (name: string): void =>
    set({ limitsName: name, rule: own.find(({ body }) => body.name === name)?.body.decisionRule ?? '' });
  return (
    <section className="bench-fields" aria-label={words.limits}>
      <h3>{words.limits}</h3>
      <Choice
        label={words.limits}
        value={limitsName}
        change={pickLimits}
        options={[
          { value: '', text: words.chooseLimits },
          ...cards.map(({ name }) => ({ value: name, text: name })),
          { value: 'none', text: words.noLimits },
        ]}
      />
      {card !== undefined && (
        <>
          <p className="second small">
            <ChannelName text={card.lines.map(({ channel, source }) => `${bench.channels[channel]}: ${source}`).join('. ')} />
          </p>
          <Choice
            label={bench.limits.rule}
            value={rule}
            change={(next) => set({ rule: next })}
            options={[
              { value: '' as const, text: words.chooseLimits },
              ...decisionRules.map((one) => ({ value: one, text: bench.ruleNames[one] })),
            ]}
            hint={rule === '' ? undefined : bench.rules[rule]}
          />
        </>
      )}
    </section>
  );
}
