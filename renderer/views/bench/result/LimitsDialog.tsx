import { useState } from 'react';
import type { BenchTest } from '../../../../shared/bench/bench-test.ts';
import { exampleLimits } from '../../../../shared/bench/limits.ts';
import { decisionRules, type DecisionRule } from '../../../../shared/measurement/decision-rule.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { benchSetUp } from '../../../../shared/words/bench/bench-run.ts';
import { benchResult } from '../../../../shared/words/bench/bench-result.ts';
import { useParts } from '../../../app-parts.ts';
import { ChannelName } from '../../../components/ChannelName.tsx';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { Choice } from '../../../components/Field.tsx';
import { useBench, useBenchScreen } from '../use-bench.ts';

const words = benchResult;

/** Judges the same measured figures by other limits or another decision rule. */
export function LimitsDialog({ test, testId, close }: { test: BenchTest; testId: string; close: () => void }) {
  const screen = useBenchScreen();
  const { actions } = useParts();
  const own = useBench((state) => state.lists['bench-limits']);
  const cards = [...own.map(({ body }) => body), ...exampleLimits];
  const [name, setName] = useState(test.limits?.name ?? '');
  const [rule, setRule] = useState<DecisionRule | ''>(test.limits?.decisionRule ?? '');
  const card = cards.find((one) => one.name === name) ?? (test.limits?.name === name ? test.limits : undefined);
  const ready = card !== undefined && rule !== '';
  return (
    <Dialog
      title={words.changeLimits}
      close={close}
      submit={async () => {
        if (!ready) return;
        const done = await actions.ask('bench.limits', { testId, limits: { ...card, decisionRule: rule } });
        if (done !== undefined) close();
      }}
      foot={
        <DialogFoot main={benchSetUp.limits} off={!ready}>
          <button
            type="button"
            className="button"
            onClick={() => screen.show({ kind: 'limits', id: own.find(({ body }) => body.name === name)?.id, copyOf: card })}
            disabled={card === undefined}
          >
            {bench.home.edit}
          </button>
        </DialogFoot>
      }
    >
      <Choice
        label={benchSetUp.limits}
        value={name}
        change={setName}
        options={[{ value: '', text: benchSetUp.chooseLimits }, ...cards.map((one) => ({ value: one.name, text: one.name }))]}
      />
      {card !== undefined && (
        <p className="second">
          <ChannelName text={card.lines.map(({ channel, source }) => `${bench.channels[channel]}: ${source}`).join('. ')} />
        </p>
      )}
      <Choice
        label={bench.limits.rule}
        value={rule}
        change={setRule}
        options={[
          { value: '' as const, text: benchSetUp.chooseLimits },
          ...decisionRules.map((value) => ({ value, text: bench.rules[value] })),
        ]}
      />
      {rule === '' && <p className="second">{bench.noRule}</p>}
    </Dialog>
  );
}
