import { frontView, sideView, type DrawnFigures } from '../../../shared/geometry/drawing/drawing.ts';
import { readFigure } from '../../../shared/geometry/figures-card.ts';
import { isLength, itemNames } from '../../../shared/geometry/items.ts';
import { pictureOf } from '../../../shared/geometry/drawing/picture.ts';
import { drawnFigures, type GeometryNow } from '../../../shared/tuning/set-up/geometry-now.ts';
import { lengthWords } from '../../../shared/words/geometry/geometry.ts';
import { leadWords as words } from '../../../shared/words/geometry/lead.ts';
import { setUpScreen } from '../../../shared/words/visit/screens/set-up.ts';
import { GeometryPicture } from '../../../shared/report/drawings/GeometryPicture.tsx';
import './geometry.css';

/** As it was found, where it was measured. */
export function foundFigures(now: GeometryNow): DrawnFigures {
  const found = itemNames.flatMap((item) => {
    const { asFound } = now.items[item];
    const read = asFound === undefined || !isLength(item) ? undefined : readFigure(item, asFound, now.unit);
    return read?.ok === true ? [[item, { mm: read.value, source: 'measured' as const }] as const] : [];
  });
  return { ...drawnFigures(now), ...Object.fromEntries(found) };
}

/** As left over as found, side above front. */
export function TableDrawing({ now, angleDeg }: { now: GeometryNow; angleDeg: number | undefined }) {
  const left = drawnFigures(now, angleDeg);
  const found = foundFigures(now);
  const changed = itemNames.some((item) => now.items[item].asLeft !== undefined && left[item]?.mm !== found[item]?.mm);
  const figure = ({ axis, from, to }: { axis: 'x' | 'y'; from: readonly [number, number]; to: readonly [number, number] }): string =>
    lengthWords(Math.abs(axis === 'x' ? to[0] - from[0] : to[1] - from[1]), now.unit).replace(/\u2009?(mm|in)$/, '');
  const side = sideView(left, { cut: true });
  const front = frontView(left, { cut: true });
  const size = Math.min(3.9, 330 / (side.box.right - side.box.left));
  const options = { size, figure, cardWord: words.card };
  const ghosts = changed ? { side: sideView(found, { cut: true }), front: frontView(found, { cut: true }) } : undefined;
  return (
    <div className="table-drawing">
      <figure>
        <figcaption className="small second">{words.side}</figcaption>
        <GeometryPicture picture={pictureOf(side, { ...options, ghost: ghosts?.side })} label={setUpScreen.drawing} />
      </figure>
      <figure>
        <figcaption className="small second">{words.front}</figcaption>
        <GeometryPicture picture={pictureOf(front, { ...options, ghost: ghosts?.front })} />
      </figure>
      {changed && <p className="small second">{words.foundBehind}</p>}
    </div>
  );
}
