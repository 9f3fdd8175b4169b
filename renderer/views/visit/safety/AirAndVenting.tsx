/** Air for combustion and venting, beside the safety tests: one list, and what is looked at. */
import { useState } from 'react';
import { VerdictSign } from '../../../../shared/report/drawings/VerdictSign.tsx';
import type { VentItem, Venting } from '../../../../shared/tuning/safety/venting.ts';
import { ventWords as words } from '../../../../shared/words/visit/venting.ts';
import { safetyScreen } from '../../../../shared/words/visit/screens/safety.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { Field } from '../../../components/Field.tsx';
import { JudgeButton } from './SafetyParts.tsx';
import { StepFrame } from '../steps/frame/StepFrame.tsx';
import { useVisit } from '../use-visit.ts';
import { formatClock } from '../../../../shared/format/duration.ts';
import { WorstCaseTest } from './WorstCaseTest.tsx';
import { noVenting, savedOf, worstSign } from './worst-case.ts';
import '../visit.css';
import './safety.css';

type Chosen = VentItem | 'worst-case';
const rows: readonly Chosen[] = ['openings', 'worst-case', 'regulator', 'pitch', 'joints', 'chimney', 'exchanger'];

export function AirAndVenting({ toTests }: { toTests: React.ReactNode }) {
  const [chosen, choose] = useState<Chosen>('openings');
  const { visit } = useVisit();
  const venting = visit.venting ?? noVenting;
  const list = <VentList venting={venting} chosen={chosen} choose={choose} toTests={toTests} />;
  return chosen === 'worst-case' ? (
    <WorstCaseTest venting={venting} list={list} />
  ) : (
    <OneItem key={chosen} item={chosen} venting={venting} list={list} goOn={() => choose(rows[rows.indexOf(chosen) + 1] ?? chosen)} />
  );
}

function VentList({
  venting,
  chosen,
  choose,
  toTests,
}: {
  venting: Venting;
  chosen: Chosen;
  choose: (item: Chosen) => void;
  toTests: React.ReactNode;
}) {
  const latest = new Map(venting.checks.map((check) => [check.item, check]));
  return (
    <nav className="safety-list vent-list" aria-label={words.title}>
      {toTests}
      <ul>
        {rows.map((row) => {
          const isNow = row === chosen;
          const check = row === 'worst-case' ? undefined : latest.get(row);
          const sign = row === 'worst-case' ? worstSign(savedOf(venting)) : (check?.result ?? (isNow ? 'now' : 'open'));
          return (
            <li key={row}>
              <button
                type="button"
                className={`safety-row${isNow ? ' now' : ''}`}
                aria-current={isNow ? 'step' : undefined}
                onClick={() => choose(row)}
              >
                <VerdictSign verdict={sign} />
                <span className={`safety-name${isNow ? ' bold' : ''}`}>{row === 'worst-case' ? words.worst : words.items[row]}</span>
                <span className="grow" />
                <span className="small second unwrapped">{check === undefined ? '' : words.results[check.result]}</span>
              </button>
            </li>
          );
        })}
      </ul>
    </nav>
  );
}

function OneItem({ item, venting, list, goOn }: { item: VentItem; venting: Venting; list: React.ReactNode; goOn: () => void }) {
  const { visits, sounds } = useParts();
  const { visit, may, put } = useVisit();
  const before = venting.checks.findLast((check) => check.item === item);
  // a note that is typed stays with its item while another one is looked at
  const noteName = `vent-note.${item}`;
  const keepText = useApp((state) => state.fieldTyped);
  const note = useApp((state) => state.fieldTexts[noteName]) ?? before?.note ?? '';
  const judge = (result: 'pass' | 'fail' | 'not-applicable'): void => {
    const check = { item, result, ...(note.trim() === '' ? {} : { note: note.trim().slice(0, 300) }), wallMs: visits.nowWallMs() };
    const isSaved = put(
      visit.venting === undefined
        ? { path: ['venting'], after: { ...noVenting, checks: [check] } }
        : { path: ['venting', 'checks', venting.checks.length], after: check },
    );
    // the note stays in its field, and the item in front
    if (!isSaved) return;
    keepText(noteName, undefined);
    sounds.play('mark');
    goOn();
  };
  return (
    <StepFrame
      step="safety"
      bar={
        <div className="judge-row">
          <JudgeButton sign="pass" text={words.pass} action="pass" ready may={may} run={() => judge('pass')} />
          <JudgeButton sign="fail" text={words.fail} action="fail" ready may={may} run={() => judge('fail')} />
          <JudgeButton sign="not-applicable" text={words.na} action="notApplicable" ready may={may} run={() => judge('not-applicable')} />
        </div>
      }
    >
      <div className="safety">
        {list}
        <section className="safety-test" aria-labelledby="vent-title">
          <h2 id="vent-title">{words.items[item]}</h2>
          <p className="todo">{words.todo[item]}</p>
          <p className="second">
            {safetyScreen.passesWhen}: {words.passes[item]}
          </p>
          {before !== undefined && (
            <p>
              <b>{words.results[before.result]}</b> {words.at(formatClock(before.wallMs, visit.zoneMinutes, 'minutes'))}
            </p>
          )}
          <Field
            label={words.note}
            numeric={false}
            width="min(560px, 100%)"
            disabled={!may}
            value={note}
            change={(text) => keepText(noteName, text)}
          />
        </section>
      </div>
    </StepFrame>
  );
}
