import { useEffect, useRef, useState, type CSSProperties } from 'react';
import { tour } from '../../../shared/words/warm-up.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { ChannelName } from '../../components/ChannelName.tsx';
import { Key } from '../../components/Key.tsx';
import { useKey } from '../../keys/use-key.ts';
import { selectRun } from '../../state/selectors.ts';
import { placeBeside, type Box } from './place-beside.ts';
import './Tour.css';

/** What each step points at; the step is told without a ring where that is not on screen. */
const targets = [
  '.tape',
  '.rows',
  '[data-adjuster]',
  '[data-region="bar"] .button.main',
  '[data-region="bar"] [data-entry="draft"]',
  '[data-region="bar"] [data-entry="smoke"]',
  '.begin-visit',
  '.tabs',
  '[data-region="source"]',
] as const;
const LOW_WINDOW = 500;
const CARD_WIDTH = 400;
/** before the card was measured */
const CARD_HEIGHT = 300;
/** of the right column above the card: the trials stay in sight */
const COLUMN_HEAD = 150;

/**
 * The first start shows the simulated burner; this says in nine steps what is where. It lies in the empty right column and blocks nothing: every key and
 * button works meanwhile. Ended once, it never comes again.
 */
export function Tour() {
  const { actions } = useParts();
  const isOpen = useApp(
    (state) =>
      state.host?.newcomer === true &&
      state.settings.tourSeenWallMs === undefined &&
      state.role === 'operator' &&
      state.panel === undefined &&
      state.entry === undefined &&
      selectRun(state)?.info.source.kind === 'simulated',
  );
  if (!isOpen) return null;
  return <Steps end={() => void actions.changeSettings({ tourSeenWallMs: Date.now() })} />;
}

/** Where something is on screen; the same object while it has not moved. */
function boxOf(selector: string, before: Box | undefined): Box | undefined {
  const found = document.querySelector(selector)?.getBoundingClientRect();
  if (found === undefined || found.width === 0) return undefined;
  const { left, top, width, height } = found;
  const isSame = before?.left === left && before.top === top && before.width === width && before.height === height;
  return isSame ? before : { left, top, width, height };
}

function Steps({ end }: { end: () => void }) {
  const [step, setStep] = useState(0);
  const [box, setBox] = useState<Box>();
  const [column, setColumn] = useState<Box>();
  const [height, setHeight] = useState(CARD_HEIGHT);
  const card = useRef<HTMLElement>(null);
  const next = useRef<HTMLButtonElement>(null);
  const { title, text } = tour.steps[step] ?? tour.steps[0];
  const isLast = step === tour.steps.length - 1;
  useKey('back', end);
  useEffect(() => {
    document.querySelector(targets[step] ?? '')?.scrollIntoView({ block: 'nearest' });
    next.current?.focus({ preventScroll: true });
  }, [step]);
  useEffect(() => {
    // what it points at may move while lines come: the first seconds, a smaller window
    const look = (): void => {
      setBox((before) => boxOf(targets[step] ?? '', before));
      setColumn((before) => boxOf('.trials', before));
      setHeight(card.current?.offsetHeight || CARD_HEIGHT);
    };
    look();
    const again = setInterval(look, 500);
    addEventListener('resize', look);
    const sizes = new ResizeObserver(look);
    if (card.current !== null) sizes.observe(card.current);
    return () => {
      sizes.disconnect();
      clearInterval(again);
      removeEventListener('resize', look);
    };
  }, [step]);
  const hasRoom = column !== undefined && column.width >= 260 && column.height - COLUMN_HEAD >= CARD_HEIGHT;
  // a low window (text at 200 %) has more room across than down
  const width = Math.min(window.innerHeight < LOW_WINDOW ? Infinity : CARD_WIDTH, window.innerWidth - 32);
  const place: CSSProperties = hasRoom
    ? { left: column.left + 9, width: column.width - 9, bottom: window.innerHeight - column.top - column.height + 4 }
    : {
        ...placeBeside(box, { width, height }, { width: window.innerWidth, height: window.innerHeight }),
        width,
      };
  const ring: CSSProperties | undefined =
    box === undefined ? undefined : { left: box.left - 4, top: box.top - 4, width: box.width + 8, height: box.height + 8 };
  return (
    <>
      {ring !== undefined && <div className="tour-ring" style={ring} aria-hidden="true" />}
      <section ref={card} className="tour" style={place} aria-label={tour.title}>
        <div className="row">
          <span className="second unwrapped">{tour.place(step + 1, tour.steps.length)}</span>
          <span className="grow" />
          <button type="button" className="button quiet" onClick={end}>
            {tour.end} <Key action="back" />
          </button>
        </div>
        <div aria-live="polite">
          <h2>{title}</h2>
          <p>
            <ChannelName text={text} />
          </p>
        </div>
        <div className="row tour-foot">
          <button type="button" className="button" disabled={step === 0} onClick={() => setStep(step - 1)}>
            {tour.before}
          </button>
          <span className="grow" />
          <button
            ref={next}
            type="button"
            className="button main"
            onClick={isLast ? end : () => setStep(step + 1)}
            onKeyDown={(event) => {
              // the card tells people to press Space for the shutter: it has to do that here as well
              const shutter = document.querySelector<HTMLElement>('[data-adjuster] [role=spinbutton]');
              if (event.key !== ' ' || shutter === null) return;
              event.preventDefault();
              shutter.focus();
            }}
          >
            {isLast ? tour.done : tour.next}
          </button>
        </div>
      </section>
    </>
  );
}
