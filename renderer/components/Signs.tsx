/** The small shapes: each state has its own, colour only repeats it. */
import type { SourceShape } from '../state/source-state.ts';

export function BrandMark() {
  return (
    <svg width="26" height="26" viewBox="0 0 26 26" aria-hidden="true">
      <path className="stroke-ink" strokeWidth="3" d="M9 3H3V23H9M17 3H23V23H17" />
      <rect className="fill-accent" x="9.5" y="7" width="7" height="12" />
    </svg>
  );
}

export function BrokenSlot({ large = false }: { large?: boolean }) {
  return large ? (
    <svg width="76" height="88" viewBox="0 0 76 88" aria-hidden="true">
      <path className="stroke-third" strokeWidth="7" strokeDasharray="18 7" d="M26 5H6V83H26M50 5H70V83H50" />
    </svg>
  ) : (
    <svg width="30" height="20" viewBox="0 0 30 20" aria-hidden="true">
      <path className="stroke-third" strokeWidth="3" strokeDasharray="6 3" d="M9 2H5V18H9M21 2H25V18H21" />
    </svg>
  );
}

const slot = 'M11 2H7V18H11M19 2H23V18H19';

/** Cable, slot and pin: what the source bar shows before any word. */
export function SourceSign({ shape }: { shape: SourceShape }) {
  switch (shape) {
    case 'none':
      return <BrokenSlot />;
    case 'cut':
      return (
        <svg width="34" height="22" viewBox="0 0 34 22" aria-hidden="true">
          <path className="stroke-current" strokeWidth="3" d="M0 11H10M14 2l-5 18M34 11H24M25 2l-5 18" />
        </svg>
      );
    case 'learning':
      return (
        <svg width="30" height="20" viewBox="0 0 30 20" aria-hidden="true">
          <path className="stroke-second" strokeWidth="3" d="M0 10H7M23 10H30" />
          <path className="stroke-second" strokeWidth="3" strokeDasharray="6 3" d={slot} />
          <path className="stroke-second" strokeWidth="3" d="M12 10h1M15 10h1M18 10h1" />
        </svg>
      );
    case 'connected':
      return (
        <svg width="30" height="20" viewBox="0 0 30 20" aria-hidden="true">
          <path className="stroke-accent" strokeWidth="3" d="M0 10H30" />
          <path className="stroke-accent" strokeWidth="3" d={slot} />
          <rect className="fill-accent" x="12" y="6" width="6" height="8" />
        </svg>
      );
    case 'simulated':
      return (
        <svg width="30" height="20" viewBox="0 0 30 20" aria-hidden="true">
          <path className="stroke-accent" strokeWidth="3" strokeDasharray="4 3" d="M0 10H7M23 10H30" />
          <path className="stroke-accent" strokeWidth="3" d={slot} />
          <path className="stroke-accent" strokeWidth="2" d="M11.5 14l3-8M15.5 14l3-8" />
        </svg>
      );
    case 'replay':
      return (
        <svg width="30" height="20" viewBox="0 0 30 20" aria-hidden="true">
          <path className="stroke-accent" strokeWidth="3" d={slot} />
          <path className="fill-accent" d="M12.5 5.5L19 10L12.5 14.5Z" />
          <path className="stroke-accent" strokeWidth="3" d="M0 10H7M23 10H30" />
        </svg>
      );
    case 'typed':
      return (
        <svg width="30" height="20" viewBox="0 0 30 20" aria-hidden="true">
          <path className="stroke-accent" strokeWidth="3" d={slot} />
          <path className="stroke-accent" strokeWidth="3" d="M15 5V15M12.5 5H17.5M12.5 15H17.5" />
        </svg>
      );
  }
}

export function NoticeSign() {
  return (
    <svg width="30" height="30" viewBox="0 0 30 30" aria-hidden="true">
      <path className="stroke-notice" strokeWidth="3" d="M15 3L27 15L15 27L3 15Z" />
      <path className="stroke-notice" strokeWidth="3" d="M15 9v7M15 18.5v3" />
    </svg>
  );
}

export function AlarmSign() {
  return (
    <svg width="32" height="32" viewBox="0 0 32 32" aria-hidden="true">
      <path className="fill-alarm" d="M10 2H22L30 10V22L22 30H10L2 22V10Z" />
      <path d="M16 8v10M16 21v4" stroke="var(--alarm-soft)" strokeWidth="4" />
    </svg>
  );
}

export function NoteSign() {
  return (
    <svg width="26" height="26" viewBox="0 0 26 26" aria-hidden="true">
      <path className="stroke-second" strokeWidth="3" d="M3 8V23H23V8M3 3H23" />
    </svg>
  );
}

export function GoSign() {
  return (
    <svg width="16" height="22" viewBox="0 0 16 22" aria-hidden="true">
      <path className="stroke-second" strokeWidth="3" d="M3 3L12 11L3 19" />
    </svg>
  );
}
