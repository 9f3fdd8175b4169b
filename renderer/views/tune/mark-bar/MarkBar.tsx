import { useRef } from 'react';
import { common } from '../../../../shared/words/common.ts';
import { live } from '../../../../shared/words/tune/live.ts';
import { unrestWords } from '../../../../shared/words/tune/states.ts';
import { useApp } from '../../../app-parts.ts';
import { Key } from '../../../components/Key.tsx';
import { useDigits, useKey } from '../../../keys/use-key.ts';
import { runningTrialOf, selectIsRunning, selectMayAct } from '../../../state/selectors.ts';
import type { RunRecord } from '../../../state/run-record.ts';
import type { Entry } from '../../../state/view-slice.ts';
import { isReadyToTake, mainDeedOf, standingAlarmOf } from './main-deed.ts';
import { MainButton, useTake } from './MainButton.tsx';
import { Stepper } from './Stepper.tsx';
import { foundIsChosen, useProbeGate } from '../../visit/use-probe-gate.ts';
import type { PendingDeeds } from './use-pending-mark.ts';
import './MarkBar.css';
import './Stepper.css';
import '../tune.css';

const entries: readonly { entry: Exclude<Entry, undefined>; action: 'pressure' | 'draft' | 'smoke' | 'note' | 'values'; text: string }[] = [
  { entry: 'pressure', action: 'pressure', text: live.pressure },
  { entry: 'draft', action: 'draft', text: live.draft },
  { entry: 'smoke', action: 'smoke', text: live.smoke },
  { entry: 'note', action: 'note', text: live.note },
];

/** Everything that is done at the burner, in reach of one key each. */
export function MarkBar({ record, deeds }: { record: RunRecord; deeds: PendingDeeds }) {
  const bar = useRef<HTMLElement>(null);
  const mayAct = useApp(selectMayAct);
  const isRunning = useApp(selectIsRunning);
  const can = mayAct && isRunning;
  const alarm = useApp(standingAlarmOf);
  const probe = useProbeGate();
  const isFound = useApp(foundIsChosen);
  const running = useApp(runningTrialOf);
  const take = useTake();
  const deed = mainDeedOf(record, alarm, { probe, isFound, trial: running });
  const asksDraft = deed.does === 'draft';
  const entryOpened = useApp((state) => state.entryOpened);
  // its button is the main one then
  useKey('draft', () => entryOpened('draft'), can && asksDraft);
  useMarkKeys(deeds, can, bar);
  return (
    <footer
      ref={bar}
      className={`bar${isReadyToTake(record, alarm, { probe, trial: running }) ? ' ready' : ''}${record.info.source.kind === 'typed' ? ' many' : ''}${deeds.adjusters.length > 2 ? ' crowded' : ''}`}
      data-region="bar"
      role="group"
      aria-label={common.region.bar}
    >
      <div className="mark-label">
        <span className="bold">{live.mark}</span>
        <Key action="mark" />
      </div>
      {deeds.adjusters.map((adjuster) => (
        <Stepper key={adjuster.name} adjuster={adjuster} deeds={deeds} disabled={!can} />
      ))}
      {/* one of them is the main button while it is what comes next */}
      {entries
        .filter(({ entry }) => !(asksDraft && entry === 'draft'))
        .map((one) => (
          <EntryButton key={one.entry} {...one} disabled={!can} />
        ))}
      {record.info.source.kind === 'typed' && <EntryButton entry="values" action="values" text={live.values} disabled={!can} />}
      <span className="grow" />
      {asksDraft && (
        <button type="button" className="button tall reading-by-hand" disabled={!can} onClick={take}>
          {unrestWords.byHand}
        </button>
      )}
      <MainButton deed={deed} blocked={deeds.pending !== undefined} />
    </footer>
  );
}

function EntryButton({ entry, action, text, disabled }: (typeof entries)[number] & { disabled: boolean }) {
  const entryOpened = useApp((state) => state.entryOpened);
  useKey(action, () => entryOpened(entry), !disabled);
  return (
    <button type="button" className="button tall" data-entry={entry} disabled={disabled} onClick={() => entryOpened(entry)}>
      {text}
      <Key action={action} />
    </button>
  );
}

/** Space steps from adjuster to adjuster; digits go to the one in focus, or to the first. */
export function useMarkKeys(deeds: PendingDeeds, can: boolean, bar: React.RefObject<HTMLElement | null>): void {
  const spinners = (): HTMLElement[] => [...(bar.current?.querySelectorAll<HTMLElement>('[role=spinbutton]') ?? [])];
  useKey(
    'mark',
    () => {
      const all = spinners();
      const index = all.indexOf(document.activeElement as HTMLElement);
      all[(index + 1) % Math.max(1, all.length)]?.focus();
    },
    can,
  );
  useDigits((digit) => {
    const name = deeds.pending?.name ?? deeds.adjusters[0]?.name;
    if (name === undefined) return;
    spinners()
      .find((one) => one.closest('[data-adjuster]')?.getAttribute('data-adjuster') === name)
      ?.focus();
    deeds.type(name, digit);
  }, can);
  useKey('main', deeds.commit, can && deeds.pending !== undefined);
  useKey('back', deeds.cancel, deeds.pending !== undefined);
  // what is not marked yet is what is taken back, not the mark before it
  useKey('undo', deeds.cancel, deeds.pending !== undefined);
}
