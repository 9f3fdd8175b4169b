import { Suspense, useEffect, useRef, useState } from 'react';
import { common } from '../../../shared/words/common.ts';
import { live } from '../../../shared/words/tune/live.ts';
import { useApp } from '../../app-parts.ts';
import { later } from '../../components/Later.tsx';
import { Key } from '../../components/Key.tsx';
import type { KeyAction } from '../../keys/default-keys.ts';
import { useKey } from '../../keys/use-key.ts';
import { useNarrow } from '../../look/use-wide.ts';
import { VisitOffer } from '../visit/VisitOffer.tsx';
import './Tools.css';
import './TrialsColumn.css';

const StepThread = later(() => import('../visit/steps/frame/StepThread.tsx').then((found) => found.StepThread));
const VisitName = later(() => import('../visit/steps/frame/StepThread.tsx').then((found) => found.VisitName));

/** The row under the source bar: which run this is, and the other ways to look at it. The step thread of a visit goes to its left. */
export function Tools({ title, about }: { title: string; about: string }) {
  const panelOpened = useApp((state) => state.panelOpened);
  const farTurned = useApp((state) => state.farTurned);
  const trialsTurned = useApp((state) => state.trialsTurned);
  const trialsOpen = useApp((state) => state.trialsOpen);
  const entryOpened = useApp((state) => state.entryOpened);
  const inVisit = useApp((state) => state.visit !== undefined);
  const isNarrow = useNarrow();
  // where the column is always there, the key walks into it
  const turnTrials = (): void => {
    const column = document.querySelector<HTMLElement>('[data-region=right]');
    if (column !== null && column.offsetParent !== null && !trialsOpen)
      return column.querySelector<HTMLElement>('tr[tabindex="0"]')?.focus();
    return trialsTurned();
  };
  return (
    <div className={`tools${inVisit ? ' in-visit' : ''}`} data-region="tools" role="toolbar" aria-label={common.region.tools}>
      {inVisit ? (
        <Suspense>
          <StepThread />
        </Suspense>
      ) : (
        <>
          <h1 className="title small size-body">{title}</h1>
          <span>· {about}</span>
          <VisitOffer compact />
        </>
      )}
      <span className="grow" />
      <Suspense>{inVisit && <VisitName short />}</Suspense>
      <Tool action="far" text={live.farView} run={farTurned} />
      <Tool action="trials" text={live.trials} run={turnTrials} pressed={trialsOpen} narrow />
      <More folds={inVisit || isNarrow}>
        <Tool action="table" text={live.table} run={() => entryOpened('table')} />
        <Tool action="lines" text={live.lines} run={() => panelOpened('lines')} />
        <Tool action="settings" text={live.settings} run={() => panelOpened('settings')} />
        <Tool action="keys" text={live.keys} run={() => panelOpened('keys')} />
      </More>
    </div>
  );
}

/** The thread of a visit leaves little room: what is seldom needed folds under one button there, with its words. The keys work all the same. */
function More({ folds, children }: { folds: boolean; children: React.ReactNode }) {
  const [isOpen, setIsOpen] = useState(false);
  const whole = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (!isOpen) return undefined;
    const onPress = ({ target }: Event): void => {
      if (!whole.current?.contains(target as Node)) setIsOpen(false);
    };
    addEventListener('pointerdown', onPress);
    return () => removeEventListener('pointerdown', onPress);
  }, [isOpen]);
  useKey('back', () => setIsOpen(false), isOpen);
  return (
    <div ref={whole} className={`more${folds ? ' folds' : ''}${isOpen ? ' open' : ''}`}>
      <button type="button" className="button quiet more-button" aria-expanded={isOpen} onClick={() => setIsOpen(!isOpen)}>
        {live.more}
      </button>
      <div className="more-list" onClick={() => setIsOpen(false)}>
        {children}
      </div>
    </div>
  );
}

function Tool({
  action,
  text,
  run,
  pressed,
  narrow = false,
}: {
  action: KeyAction;
  text: string;
  run: () => void;
  pressed?: boolean;
  narrow?: boolean;
}) {
  useKey(action, run);
  return (
    <button type="button" className={`button quiet${narrow ? ' only-narrow' : ''}`} aria-pressed={pressed} onClick={run}>
      <span>{text}</span> <Key action={action} />
    </button>
  );
}
