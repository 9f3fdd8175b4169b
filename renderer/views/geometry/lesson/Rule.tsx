/** A rule that is laid on the drawing: it has marks and figures, and shows no reading. Its zero is on its edge. */
import { useRef } from 'react';
import type { LengthUnit } from '../../../../shared/units/length.ts';
import '../geometry.css';

export type RulePlace = { readonly x: number; readonly y: number; readonly turned: boolean };

const INCH_MM = 25.4;
const WIDTH = 56;
const ways: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** One press is a small step, with Shift a large one. @returns undefined for another key */
export function ruleMoved(place: RulePlace, key: string, isLarge: boolean): RulePlace | undefined {
  const way = ways[key];
  const step = isLarge ? 12 : 1;
  return way && { ...place, x: place.x + step * way[0], y: place.y + step * way[1] };
}

export function Rule({
  place,
  move,
  size,
  unit,
}: {
  place: RulePlace;
  move: (place: RulePlace) => void;
  /** drawing units per mm */
  size: number;
  unit: LengthUnit;
}) {
  const drag = useRef<{ x: number; y: number; from: RulePlace; scale: number } | undefined>(undefined);
  const tick = unit === 'inch' ? (INCH_MM / 32) * size : size;
  const count = unit === 'inch' ? 64 : 50;
  const [half, whole] = unit === 'inch' ? [16, 32] : [5, 10];
  const length = count * tick;
  const marks = Array.from({ length: count + 1 }, (_, index) => index);
  const long = (index: number): number =>
    index % whole === 0 ? 24 : index % half === 0 ? 19 : index % (half / (unit === 'inch' ? 4 : 5)) === 0 ? 12 : 8;
  const label = (index: number): string => {
    if (unit === 'mm') return index % 10 === 0 ? String(index) : '';
    return index % 32 === 0 ? String(index / 32) : index % 32 === 16 ? '1/2' : '';
  };
  return (
    <g
      className="rule"
      transform={`translate(${place.x} ${place.y})${place.turned ? ' rotate(90)' : ''}`}
      onPointerDown={(event) => {
        const svg = event.currentTarget.ownerSVGElement;
        if (svg === null) return;
        drag.current = { x: event.clientX, y: event.clientY, from: place, scale: svg.viewBox.baseVal.width / svg.clientWidth };
        event.currentTarget.setPointerCapture(event.pointerId);
      }}
      onPointerMove={({ clientX, clientY }) => {
        const began = drag.current;
        if (began !== undefined)
          move({ ...began.from, x: began.from.x + (clientX - began.x) * began.scale, y: began.from.y + (clientY - began.y) * began.scale });
      }}
      onPointerUp={() => (drag.current = undefined)}
    >
      <rect x={0} y={-length - 8} width={WIDTH} height={length + 22} />
      {marks.map((index) => (
        <path key={index} d={`M0 ${-index * tick}h${long(index)}`} />
      ))}
      {marks
        .filter((index) => index % half === 0 && label(index) !== '')
        .map((index) => (
          <text
            key={index}
            transform={`translate(${WIDTH - 6} ${-index * tick})${place.turned ? ' rotate(-90)' : ''}`}
            dy={5}
            textAnchor={place.turned ? 'middle' : 'end'}
          >
            {label(index)}
          </text>
        ))}
    </g>
  );
}
