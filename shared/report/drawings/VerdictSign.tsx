/** The small shape of a verdict: shape tells them apart; colour only repeats it. */
import type { CardVerdict } from '../../tuning/card/target-card.ts';
import { Drawing } from './Drawing.tsx';

/** `alarm`: the eight-cornered plate */
export type SignName = CardVerdict | 'alarm' | 'not-applicable' | 'open' | 'now' | 'notice';

const SIZE = 26;
const slot = 'M8 4H3V22H8M18 4H23V22H18';

/** @param word read out instead of the shape, where no word stands beside it */
export function VerdictSign({ verdict, size = SIZE, word = '' }: { verdict: SignName; size?: number; word?: string }) {
  return (
    <Drawing width={SIZE} height={SIZE} shownWidth={size} label={word}>
      <SignShape verdict={verdict} />
    </Drawing>
  );
}

function SignShape({ verdict }: { verdict: SignName }) {
  switch (verdict) {
    case 'pass':
      return (
        <>
          <path className="stroke-accent" strokeWidth="3" d={slot} />
          <rect className="fill-accent" x="8.5" y="6" width="9" height="14" />
        </>
      );
    case 'now':
      return (
        <>
          <path className="stroke-accent" strokeWidth="3" d="M9 3H4V23H9M17 3H22V23H17" />
          <rect className="fill-accent" x="9.5" y="8" width="7" height="10" />
        </>
      );
    case 'fail':
      return <path className="stroke-alarm" strokeWidth="4.5" d="M4 5L22 21M22 5L4 21" />;
    case 'too-close':
      return (
        <>
          <path className="stroke-notice" strokeWidth="3" d="M8 4H3V22H8" />
          <rect className="stroke-notice" strokeWidth="3" x="12" y="5" width="10" height="16" />
          <path className="fill-notice" d="M12 13h10v8h-10z" />
        </>
      );
    case 'notice':
      return <path className="stroke-notice" strokeWidth="3" d="M13 4L22 13L13 22L4 13Z" />;
    case 'alarm':
      return (
        <>
          <path className="fill-alarm" d="M8 2H18L24 8V18L18 24H8L2 18V8Z" />
          <path className="stroke-ground" strokeWidth="3" d="M13 7V14M13 17V20" />
        </>
      );
    case 'not-applicable':
      return <path className="stroke-third" strokeWidth="3" d="M5 13H21" />;
    case 'not-known':
    case 'open':
      return <path className="stroke-third" strokeWidth="3" d={slot} />;
  }
}
