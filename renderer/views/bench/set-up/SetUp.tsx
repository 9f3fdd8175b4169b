import { benchSetUp } from '../../../../shared/words/bench/bench-run.ts';
import { useApp } from '../../../app-parts.ts';
import { Field } from '../../../components/Field.tsx';
import { typedText, valueOf } from '../../../fields/typed.ts';
import { defined } from '../../../../shared/defined.ts';
import { NoticeSign } from '../../../components/Signs.tsx';
import { useAnswer } from '../../../queries/use-answer.ts';
import { BenchFrame } from '../BenchFrame.tsx';
import { useBench, useBenchScreen, useMayAct, useToday } from '../use-bench.ts';
import { LimitsSection } from './LimitsSection.tsx';
import { OnBenchSection } from './OnBenchSection.tsx';
import { PlanAndGases } from './PlanAndGases.tsx';
import { RoomSection } from './RoomSection.tsx';
import type { SectionProps } from './section.ts';
import { emptyDraft } from './set-up-draft.ts';
import { setUpFacts } from './set-up-facts.ts';
import '../bench.css';

const words = benchSetUp;

/** From instruments on the bench to the first step: sources, bottles, room, limits and the rule. */
export function SetUp() {
  const screen = useBenchScreen();
  const may = useMayAct();
  const lists = useBench((state) => state.lists);
  const runs = useApp((state) => state.runs);
  const technician = useApp((state) => state.settings.technician.name);
  const sources = useAnswer('source.list', {}, { when: 'once' });
  const draft = useBench((state) => state.draft) ?? emptyDraft(technician);
  const today = useToday()();
  const facts = setUpFacts({ draft, lists, runs, today });
  const section: SectionProps = { draft, facts, set: (part) => screen.setDraft((known) => ({ ...known, ...part })) };
  const { seats, plan, gases, room, limits, missing } = facts;
  const { person, place } = draft;
  const start = (): void => {
    if (missing !== undefined || plan === undefined || limits === undefined) return;
    void screen.start({
      seats: seats.flatMap(({ run, instrumentId, instrument }) =>
        instrument === undefined ? [] : [{ runId: run.runId, instrumentId, instrument }],
      ),
      plan,
      gases: [...gases],
      room,
      ...defined({ bench: valueOf(typedText(place)), person: valueOf(typedText(person)) }),
      limits,
    });
  };
  const titleOf = (scenario: string): string => sources?.scenarios.find(({ name }) => name === scenario)?.title ?? scenario;
  return (
    <BenchFrame
      title={words.title}
      back={() => screen.show({ kind: 'home' })}
      says={missing ?? words.ready}
      main={{ text: words.start, run: start, blocked: !may || missing !== undefined }}
      right={
        <>
          <RoomSection {...section} />
          <LimitsSection {...section} />
          <section className="bench-fields" aria-label={words.people}>
            <div className="form-row">
              <Field label={words.people} value={person} change={(person) => section.set({ person })} numeric={false} width={196} />
              <Field label={words.bench} value={place} change={(place) => section.set({ place })} numeric={false} width={196} />
            </div>
          </section>
        </>
      }
    >
      <OnBenchSection {...section} today={today} titleOf={titleOf} />
      <PlanAndGases {...section} today={today} />
      <div className="say notice">
        <NoticeSign />
        <div>
          <b>{words.feed}</b> <span className="second">{words.roomCo}</span>
        </div>
      </div>
    </BenchFrame>
  );
}
