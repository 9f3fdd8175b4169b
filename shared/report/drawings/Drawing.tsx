/** The little that the drawings share. Their colours are classes, which window and paper each set in their own tokens. */
import type { ReactNode } from 'react';
import { n } from './coordinates.ts';

/** The font has no subscript digits: O2 and CO2 are set with a lowered, smaller 2. */
const formulas = /\b(C?O)2\b/;

/** Text with its formulas, in the page. */
export function Words({ text }: { text: string }) {
  return (
    <>
      {text.split(formulas).map((part, index) =>
        index % 2 === 0 ? (
          part
        ) : (
          <span key={index} className="formula">
            {part}
            <sub>2</sub>
          </span>
        ),
      )}
    </>
  );
}

/** The same inside a drawing. */
export function DrawnWords({ text }: { text: string }) {
  return (
    <>
      {text.split(formulas).map((part, index) =>
        index % 2 === 0 ? (
          part
        ) : (
          <tspan key={index}>
            {part}
            <tspan dy="2.5" fontSize="75%">
              2
            </tspan>
            <tspan dy="-2.5">{'\u200b'}</tspan>
          </tspan>
        ),
      )}
    </>
  );
}

type DrawingProps = {
  width: number;
  height: number;
  /** shown at another size than it was drawn in */
  shownWidth?: number | undefined;
  /** read out instead of the picture; an empty one only repeats the words beside it */
  label: string;
  className?: string | undefined;
  children?: ReactNode;
};

export function Drawing({ width, height, shownWidth = width, label, className, children }: DrawingProps) {
  const reading = label === '' ? ({ 'aria-hidden': true } as const) : ({ role: 'img', 'aria-label': label } as const);
  return (
    <svg
      {...reading}
      className={className}
      width={n(shownWidth)}
      height={n((height * shownWidth) / width)}
      viewBox={`0 0 ${n(width)} ${n(height)}`}
    >
      {children}
    </svg>
  );
}
