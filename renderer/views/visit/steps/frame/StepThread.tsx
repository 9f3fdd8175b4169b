import { useEffect, useRef, type KeyboardEvent } from 'react';
import { common } from '../../../../../shared/words/common.ts';
import { stepWords } from '../../../../../shared/words/visit/steps.ts';
import { visitWords } from '../../../../../shared/words/visit/visit-thread.ts';
import { useApp } from '../../../../app-parts.ts';
import { StepSign } from '../../VisitSigns.tsx';
import { useSteps } from '../../use-visit.ts';
import '../../visit.css';
import './StepThread.css';

/** The visit at a glance: what is done, where we are, what is to come. Any step can be gone to at any time. */
export function StepThread() {
  const steps = useSteps();
  const step = useApp((state) => state.visitStep);
  const stepChosen = useApp((state) => state.stepChosen);
  const list = useRef<HTMLOListElement>(null);
  // where the thread is wider than the window, the step at hand is in view
  useEffect(() => {
    const whole = list.current;
    if (whole === null) return undefined;
    const bring = (): void => {
      const now = whole.querySelector('[aria-current]')?.getBoundingClientRect();
      // sideways only: the page may be scrolled to something else
      for (const one of now === undefined ? [] : [whole, whole.parentElement]) {
        const box = one?.getBoundingClientRect();
        if (one && box && now) one.scrollLeft += now.left + now.width / 2 - (box.left + box.width / 2);
      }
    };
    bring();
    // also after a turn of the screen, or a zoom
    const sizes = new ResizeObserver(bring);
    sizes.observe(whole);
    return () => sizes.disconnect();
  }, [step]);
  const walk = (event: KeyboardEvent<HTMLButtonElement>): void => {
    const buttons = [...(list.current?.querySelectorAll<HTMLElement>('button') ?? [])];
    const at = buttons.indexOf(event.currentTarget);
    const to = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: buttons.length - 1 }[event.key];
    const next = to === undefined ? undefined : buttons[to];
    if (next === undefined) return;
    event.preventDefault();
    next.focus();
  };
  return (
    <nav className="thread" aria-label={visitWords.thread}>
      <h1 className="hidden-text">{stepWords[step].name}</h1>
      <ol ref={list}>
        {steps.map(({ id, state }, index) => {
          const isNow = id === step;
          const shape = isNow ? 'now' : state === 'done' ? 'done' : state === 'stale' ? 'stale' : 'todo';
          return (
            <li key={id}>
              {index > 0 && <span className={`wire${steps[index - 1]?.state === 'done' ? '' : ' todo'}`} aria-hidden="true" />}
              <button
                type="button"
                className="thread-step"
                aria-label={`${stepWords[id].name}, ${visitWords.stateOf[state]}`}
                aria-current={isNow ? 'step' : undefined}
                tabIndex={isNow ? 0 : -1}
                onKeyDown={walk}
                onClick={() => stepChosen(id)}
              >
                <StepSign state={shape} />
                {stepWords[id].name}
              </button>
            </li>
          );
        })}
      </ol>
    </nav>
  );
}

/** Number, appliance and fuel; and whether what was typed is kept. */
export function VisitName({ short = false }: { short?: boolean }) {
  const visit = useApp((state) => state.visit);
  const appliance = useApp((state) => state.appliance?.appliance.name);
  const saving = useApp((state) => state.visitSaving);
  if (visit === undefined) return null;
  const ended =
    visit.signature !== undefined
      ? visitWords.signed
      : visit.endedWallMs !== undefined && visit.kind === 'training'
        ? visitWords.closed
        : '';
  const more = [
    short ? '' : (appliance ?? ''),
    short || visit.fuelId === undefined ? '' : (common.fuels[visit.fuelId] ?? visit.fuelId),
    visit.kind === 'training' ? visitWords.training : '',
    ended,
  ];
  return (
    <span className={`visit-name${saving === 'refused' ? ' field-error' : ''}`} role="status">
      {saving === 'refused' ? (
        visitWords.notKept
      ) : (
        <>
          {visitWords.visit(visit.number)}
          <span className="visit-name-more">{more.filter((part) => part !== '').map((part) => ` · ${part}`)}</span>
        </>
      )}
    </span>
  );
}
