import type { FigureText } from '../card-format.ts';
import { Words } from '../drawings/Drawing.tsx';

/** A figure and its ±, which never part. */
export function FigureWords({ figure: { value, half } }: { figure: FigureText }) {
  return (
    <span className="figure">
      <Words text={value} />
      {half !== undefined && half !== '' && <i> {half}</i>}
    </span>
  );
}
