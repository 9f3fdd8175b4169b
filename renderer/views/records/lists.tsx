import { useEffect, useState, type KeyboardEvent, type ReactNode } from 'react';
import { formatDay } from '../../../shared/format/date.ts';
import type { applianceSorts, StoredAppliance, VisitSummary } from '../../../shared/ipc/store-commands.ts';
import type { Problem } from '../../../shared/problem.ts';
import { records as words } from '../../../shared/words/records/records.ts';
import { useApp } from '../../app-parts.ts';
import { BrokenSlot } from '../../components/Signs.tsx';
import { RecordSign } from './RecordSign.tsx';
import { Choice } from '../../components/Field.tsx';
import { optionsOf } from '../../fields/KeptField.tsx';
import { dueWords, isoDayHere } from './due.ts';
import { useAnswerOrProblem } from '../../queries/use-answer.ts';
import { useGrowing } from '../../queries/use-growing.ts';
import { problems } from '../../../shared/words/problems.ts';
import './records.css';

type Props = { search: string; chosen: string | undefined; choose: (id: string) => void };

export function VisitList({ search, chosen, choose }: Props) {
  const { limit, grow } = useGrowing();
  const answer = useAnswerOrProblem('visit.list', { search, limit }, { keepLast: true });
  const list = answer !== undefined && 'value' in answer ? answer.value : undefined;
  const first = list?.visits[0]?.id;
  useEffect(() => {
    if (chosen === undefined && first !== undefined) choose(first);
  }, [chosen, first, choose]);
  if (answer !== undefined && 'problem' in answer) return <NoList title={words.sections.visits} problem={answer.problem} />;
  if (list === undefined) return <nav className="records-list" aria-label={words.sections.visits} aria-busy="true" />;
  return (
    <List
      title={words.sections.visits}
      search={search}
      shown={list.visits.length}
      total={list.total}
      grow={limit < 500 ? grow : undefined}
      empty={<EmptyVisits />}
    >
      {list.visits.map((visit) => (
        <VisitRow key={visit.id} visit={visit} isChosen={visit.id === chosen} choose={() => choose(visit.id)} />
      ))}
    </List>
  );
}

export function VisitRow({
  visit,
  isChosen,
  choose,
  side,
}: {
  visit: VisitSummary;
  isChosen: boolean;
  choose: () => void;
  side?: ReactNode;
}) {
  const about = [visit.applianceName ?? words.withoutAppliance, words.status[visit.status]].join(' · ');
  return (
    <li>
      <button type="button" className="record-row" aria-current={isChosen ? 'true' : undefined} onClick={choose}>
        <RecordSign status={visit.status} />
        <span className="grow">
          <b>
            {words.visit(visit.number)} · {formatDay(visit.startedWallMs, visit.zoneMinutes)}
          </b>
          <span className="second">{about}</span>
        </span>
        {side}
      </button>
    </li>
  );
}

export function ApplianceList({ search, chosen, choose }: Props) {
  const { limit, grow } = useGrowing();
  const [sort, setSort] = useState<(typeof applianceSorts)[number]>('due');
  const [openedMs] = useState(() => Date.now());
  const answer = useAnswerOrProblem('appliance.list', { search, limit, sort, today: isoDayHere(openedMs) }, { keepLast: true });
  const list = answer !== undefined && 'value' in answer ? answer.value : undefined;
  const first = list?.appliances[0]?.id;
  useEffect(() => {
    if (chosen === undefined && first !== undefined) choose(first);
  }, [chosen, first, choose]);
  if (answer !== undefined && 'problem' in answer) return <NoList title={words.sections.appliances} problem={answer.problem} />;
  if (list === undefined) return <nav className="records-list" aria-label={words.sections.appliances} aria-busy="true" />;
  return (
    <List
      title={words.sections.appliances}
      search={search}
      shown={list.appliances.length}
      total={list.total}
      grow={limit < 500 ? grow : undefined}
      empty={
        <>
          <b>{words.noAppliances}</b>
          <p className="second">{words.noAppliancesAbout}</p>
        </>
      }
      tools={
        <>
          {list.overdue > 0 && <p className="overdue">{words.overdueCount(list.overdue)}</p>}
          <Choice label={words.sortedBy} value={sort} change={setSort} options={optionsOf(words.sorts)} />
        </>
      }
    >
      {list.appliances.map((stored) => (
        <ApplianceRow key={stored.id} stored={stored} nowMs={openedMs} isChosen={stored.id === chosen} choose={() => choose(stored.id)} />
      ))}
    </List>
  );
}

function ApplianceRow({
  stored,
  nowMs,
  isChosen,
  choose,
}: {
  stored: StoredAppliance;
  nowMs: number;
  isChosen: boolean;
  choose: () => void;
}) {
  const { appliance, visits, lastVisitWallMs, lastVisitZoneMinutes } = stored;
  const due = dueWords(appliance.nextDue, nowMs);
  return (
    <li>
      <button type="button" className="record-row" aria-current={isChosen ? 'true' : undefined} onClick={choose}>
        <span className="grow">
          <b>{appliance.name}</b>
          <span className="second">
            {[
              words.appliance(visits, undefined),
              lastVisitWallMs === undefined
                ? undefined
                : formatDay(lastVisitWallMs, lastVisitZoneMinutes ?? -new Date(lastVisitWallMs).getTimezoneOffset()),
              due !== undefined && !due.isOver ? due.text : undefined,
            ]
              .filter(Boolean)
              .join(' · ')}
          </span>
          {due?.isOver === true && <span className="overdue">{due.text}</span>}
        </span>
      </button>
    </li>
  );
}

/** The records cannot be opened, or not be read: said where they would stand. */
function NoList({ title, problem }: { title: string; problem: Problem }) {
  return (
    <nav className="records-list" aria-label={title}>
      <div className="records-list-head">
        <h2>{title}</h2>
      </div>
      <div className="records-none">
        <BrokenSlot />
        <b>{problems[problem.code].title}</b>
        <p className="second">{[problem.detail, problems[problem.code].nextStep].filter(Boolean).join(' ')}</p>
      </div>
    </nav>
  );
}

type ListProps = {
  title: string;
  search: string;
  shown: number;
  total: number;
  grow: (() => void) | undefined;
  empty: ReactNode;
  tools?: ReactNode;
  children: ReactNode;
};

export function List({ title, search, shown, total, grow, empty, tools, children }: ListProps) {
  return (
    <nav className="records-list" aria-label={title} onKeyDown={walk}>
      <div className="records-list-head">
        <h2>{title}</h2>
        <span className="second" role="status">
          {words.count(shown, total)}
        </span>
      </div>
      {shown > 0 && tools !== undefined && <div className="records-list-tools">{tools}</div>}
      {shown === 0 ? (
        <div className="records-none">
          {search.trim() === '' ? (
            empty
          ) : (
            <>
              <b>{words.noneFound(search.trim())}</b>
              <p className="second">{words.noneFoundNext}</p>
            </>
          )}
        </div>
      ) : (
        <ul>{children}</ul>
      )}
      {shown < total && grow !== undefined && (
        <button type="button" className="button" onClick={grow}>
          {words.more}
        </button>
      )}
    </nav>
  );
}

function EmptyVisits() {
  const workspaceChosen = useApp((state) => state.workspaceChosen);
  return (
    <>
      <b>{words.empty}</b>
      <p className="second">{words.emptyAbout}</p>
      <button type="button" className="button" onClick={() => workspaceChosen('tune')}>
        {words.toTune}
      </button>
    </>
  );
}

/** Up and down walk the rows. */
function walk(event: KeyboardEvent<HTMLElement>): void {
  if (event.key !== 'ArrowDown' && event.key !== 'ArrowUp') return;
  const rows = [...event.currentTarget.querySelectorAll<HTMLButtonElement>('.record-row')];
  const at = rows.indexOf(document.activeElement as HTMLButtonElement);
  const next = rows[at + (event.key === 'ArrowDown' ? 1 : -1)];
  if (at < 0 || next === undefined) return;
  event.preventDefault();
  next.focus();
}
