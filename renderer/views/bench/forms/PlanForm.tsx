import { useState } from 'react';
import { BenchPlan, gasSlots, purposes, type PlanStep } from '../../../../shared/bench/plan.ts';
import { bench } from '../../../../shared/words/bench/bench.ts';
import { common } from '../../../../shared/words/common.ts';
import { formatDuration } from '../../../../shared/format/duration.ts';
import { Choice, Field } from '../../../components/Field.tsx';
import { empty, errorOf, isAnyWrong, typedWhole, valueOf } from '../../../fields/typed.ts';
import { BenchFrame } from '../BenchFrame.tsx';
import { useBench, useBenchScreen, useMayAct } from '../use-bench.ts';
import './forms.css';

const words = bench.plan;
/** @source twenty readings: OIML R 144-2 */
const USUAL_READINGS = 20;
type Draft = { id: string; purpose: PlanStep['purpose']; slot: PlanStep['slot']; hold: string; readings: string };
const draftOf = ({ id, purpose, slot, holdS, readings }: PlanStep): Draft => ({
  id,
  purpose,
  slot,
  hold: String(holdS),
  readings: readings === undefined ? '' : String(readings),
});

/** A plan as a table of steps. An example is copied when it is changed. */
export function PlanForm({ id }: { id: string | undefined }) {
  const screen = useBenchScreen();
  const may = useMayAct();
  const view = useBench((state) => state.view);
  const own = useBench((state) => state.lists['bench-plan'].find((doc) => doc.id === id)?.body);
  const from = own ?? (view.kind === 'plan' && view.copyOf !== undefined && 'steps' in view.copyOf ? view.copyOf : undefined);
  const [name, setName] = useState(own?.name ?? (from === undefined ? '' : words.copyName(from.name)));
  const [steps, setSteps] = useState<Draft[]>(
    from?.steps.map(draftOf) ?? [{ id: 's1', purpose: 'fresh-air', slot: 'air', hold: '60', readings: '' }],
  );
  const set = (index: number, part: Partial<Draft>): void => setSteps(steps.map((step, i) => (i === index ? { ...step, ...part } : step)));
  const swap = (a: number, b: number): void => {
    const next = [...steps];
    const [first, second] = [next[a], next[b]];
    if (first === undefined || second === undefined) return;
    next[a] = second;
    next[b] = first;
    setSteps(next);
  };
  // the field shows for repeatability only: what was typed in it before must not block the plan unseen
  const numbers = steps.map(({ purpose, readings }) => (purpose === 'repeatability' ? typedWhole(readings, { low: 3, high: 50 }) : empty));
  const holds = steps.map(({ hold }) => typedWhole(hold, { low: 30, high: 604_800 }));
  const body = BenchPlan.safeParse({
    format: 1,
    name: name.trim(),
    steps: steps.map(({ id: stepId, purpose, slot }, i) => {
      return {
        id: stepId,
        purpose,
        slot,
        holdS: holds[i] && valueOf(holds[i]),
        ...(purpose === 'repeatability'
          ? { readings: numbers[i]?.kind === 'empty' ? USUAL_READINGS : numbers[i] && valueOf(numbers[i]) }
          : {}),
      };
    }),
  });
  const back = (): void => screen.show({ kind: 'home' });
  const save = (): void => {
    if (body.success) void screen.saveDoc('bench-plan', body.data, { id }).then((saved) => saved !== undefined && back());
  };
  const freshId = (): string => {
    for (let n = steps.length + 1; ; n++) if (!steps.some((step) => step.id === `s${n}`)) return `s${n}`;
  };
  const total = holds.reduce((sum, hold) => sum + (valueOf(hold) ?? 0), 0);
  return (
    <BenchFrame
      title={words.title}
      about={from?.name}
      back={back}
      says={name.trim() === '' ? `${words.name}?` : words.about(steps.length, formatDuration(total * 1000))}
      main={{ text: common.save, run: save, blocked: !may || isAnyWrong([...holds, ...numbers]) || !body.success }}
      others={
        id !== undefined && (
          <button type="button" className="button" disabled={!may} onClick={() => void screen.removeDoc('bench-plan', id).then(back)}>
            {bench.home.remove}
          </button>
        )
      }
    >
      <Field label={words.name} value={name} change={setName} numeric={false} width={360} first />
      <table className="bench-plan" aria-label={words.title}>
        <thead>
          <tr>
            <th>
              <span className="hidden-text">{words.number}</span>
            </th>
            <th>{words.purpose}</th>
            <th>{words.gas}</th>
            <th>{words.hold}</th>
            <th>{words.readings}</th>
            <th>
              <span className="hidden-text">{words.order}</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {steps.map((step, index) => {
            return (
              <tr key={step.id}>
                <td className="second">{index + 1}</td>
                <td>
                  <Choice
                    bare
                    label={`${words.step(index + 1)}: ${words.purpose}`}
                    value={step.purpose}
                    change={(purpose) => set(index, { purpose })}
                    options={purposes.map((value) => ({ value, text: bench.purposes[value] }))}
                    width={170}
                  />
                </td>
                <td>
                  <Choice
                    bare
                    label={`${words.step(index + 1)}: ${words.gas}`}
                    value={step.slot}
                    change={(slot) => set(index, { slot })}
                    options={gasSlots.map((value) => ({ value, text: bench.slots[value] }))}
                    width={180}
                  />
                </td>
                <td>
                  <Field
                    label={`${words.step(index + 1)}: ${words.hold}`}
                    bare
                    value={step.hold}
                    change={(hold) => set(index, { hold })}
                    unit="s"
                    width={110}
                    error={errorOf(holds[index] ?? empty)}
                  />
                </td>
                <td>
                  {step.purpose === 'repeatability' && (
                    <Field
                      label={`${words.step(index + 1)}: ${words.readings}`}
                      bare
                      value={step.readings}
                      change={(readings) => set(index, { readings })}
                      placeholder={String(USUAL_READINGS)}
                      width={76}
                      error={errorOf(numbers[index] ?? empty)}
                    />
                  )}
                </td>
                <td>
                  <span className="row gap-3">
                    <button
                      type="button"
                      className="button"
                      disabled={index === 0}
                      aria-label={`${words.step(index + 1)}: ${words.up}`}
                      onClick={() => swap(index, index - 1)}
                    >
                      {words.up}
                    </button>
                    <button
                      type="button"
                      className="button"
                      disabled={index === steps.length - 1}
                      aria-label={`${words.step(index + 1)}: ${words.down}`}
                      onClick={() => swap(index, index + 1)}
                    >
                      {words.down}
                    </button>
                    <button
                      type="button"
                      className="button"
                      disabled={steps.length === 1}
                      aria-label={`${words.step(index + 1)}: ${words.removeStep}`}
                      onClick={() => setSteps(steps.filter((_, i) => i !== index))}
                    >
                      {words.removeStep}
                    </button>
                  </span>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <div>
        <button
          type="button"
          className="button"
          onClick={() => setSteps([...steps, { id: freshId(), purpose: 'point', slot: 'low', hold: '60', readings: '' }])}
        >
          {words.addStep}
        </button>
      </div>
    </BenchFrame>
  );
}
