import type { Dimension } from '../../../shared/geometry/drawing/drawing.ts';
import { frontView, sideView } from '../../../shared/geometry/drawing/drawing.ts';
import { limitsOf, readFigure } from '../../../shared/geometry/figures-card.ts';
import { isLength } from '../../../shared/geometry/items.ts';
import { partNames } from '../../../shared/geometry/part-names.ts';
import { pictureOf } from '../../../shared/geometry/drawing/picture.ts';
import type { Picture } from '../../../shared/geometry/drawing/picture-mark.ts';
import { closeUpPicture } from '../../../shared/geometry/drawing/close-up.ts';
import { inchFraction } from '../../../shared/units/length.ts';
import { lengthWords, orderVerbs } from '../../../shared/words/geometry/geometry.ts';
import { stepWords } from '../../../shared/words/geometry/geometry-steps.ts';
import { leadWords as words } from '../../../shared/words/geometry/lead.ts';
import { GeometryPicture } from '../../../shared/report/drawings/GeometryPicture.tsx';
import type { Lead } from './use-lead.ts';
import './StepDrawing.css';

/** px */
const PART_NAME = 16;
const NBSP = /\u2009?(mm|in)$/;

/** Side, front and close up of one step, from the same figures as the field. */
export function StepDrawing({ lead, far = false }: { lead: Lead; far?: boolean }) {
  const { step, now, figures, item, verdict } = lead;
  const strong = item !== undefined && isLength(item.item) ? item.item : undefined;
  const bare = (text: string): string => text.replace(NBSP, '');
  const typedOf = ({ item: one, source }: Dimension): string | undefined => (source === 'measured' ? now.items[one].nowTyped : undefined);
  const figure = (dimension: Dimension): string => {
    const typed = typedOf(dimension);
    if (typed !== undefined) return typed.replace(/\s*(mm|in)$/, '');
    return bare(
      lengthWords(Math.abs(dimension.axis === 'x' ? dimension.to[0] - dimension.from[0] : dimension.to[1] - dimension.from[1]), now.unit),
    );
  };
  // while the as-left field is empty the drawing shows what was found
  const side = sideView(figures, { cut: true, metal: strong === 'tipToMetal' });
  const front = frontView(figures, { cut: true });
  const size = far ? Math.min(7.4, 590 / (side.box.right - side.box.left)) : Math.min(4.4, 370 / (side.box.right - side.box.left));
  const options = {
    size,
    strong,
    figure,
    cardWord: words.card,
    text: { plain: 16, strong: 24 },
    dashedTube: step.group !== 'back-in' && step.group !== 'head-setting' && step.group !== 'tighten',
    slots: strong === undefined ? ('none' as const) : ('strong' as const),
    // the metal stands where the other dimensions are written
    ...(strong === 'tipToMetal' ? { dimensions: 'strong' as const } : {}),
  };
  const isFront = strong === 'electrodeGap' || strong === 'tipDifference' || strong === 'offCentre';
  const label = words.drawingOf(stepWords(step.id, now.card?.adjuster).title);
  if (far) {
    const view = isFront ? front : side;
    const farSize = isFront ? 9 : size;
    // the zero is not known yet at the first look at the adjuster: nothing is ordered there
    const isOrdered = step.id !== 'adjuster-as-found' && verdict?.verdict === 'fail';
    const order = isOrdered
      ? { direction: verdict.direction, verb: orderVerbs[verdict.direction], view: isFront ? ('front' as const) : ('side' as const) }
      : undefined;
    return (
      <GeometryPicture
        picture={pictureOf(view, { ...options, size: farSize, dimensions: 'strong', text: { plain: 28, strong: 44 }, order })}
        label={label}
      />
    );
  }
  const sidePicture = pictureOf(side, options);
  const named = { ...sidePicture, marks: [...partNames(side, words.parts, size, PART_NAME), ...sidePicture.marks] };
  const close = closeUpOf(lead, Math.round((side.box.top - side.box.bottom) * size));
  return (
    <div className="step-drawing">
      <figure className={isFront ? 'other-view' : ''}>
        <figcaption>{words.side}</figcaption>
        <GeometryPicture picture={named} label={label} />
      </figure>
      <figure className={`${isFront ? '' : 'other-view'}${strong === 'tipDifference' ? ' figure-beside' : ''}`}>
        <figcaption>{words.front}</figcaption>
        <GeometryPicture picture={pictureOf(front, options)} />
      </figure>
      {close !== undefined && (
        <figure>
          <figcaption>{words.closeUp}</figcaption>
          <GeometryPicture picture={close} />
        </figure>
      )}
    </div>
  );
}

export function closeUpOf({ item, side, verdict, now }: Lead, height: number): Picture | undefined {
  if (item === undefined) return undefined;
  const { found } = item;
  const cardUnit = item.isOfCard ? (now.card?.lengthUnit ?? now.unit) : now.unit;
  const limits = found.state === 'given' ? limitsOf(item.item, found.figure, cardUnit) : undefined;
  const typed = item[side] ?? (side === 'asLeft' ? item.asFound : undefined);
  const read = typed === undefined ? undefined : readFigure(item.item, typed, now.unit);
  const shown = item[side] === undefined ? item.verdicts.asFound : verdict;
  const isFigure = isLength(item.item);
  const inch = isFigure && now.unit === 'inch';
  const tick = inch ? 25.4 / 32 : isFigure ? 0.5 : 0.25;
  return closeUpPicture({
    width: 100,
    height,
    value: read?.ok === true ? read.value : undefined,
    limits,
    verdict: shown?.verdict === 'pass' ? 'pass' : shown?.verdict === 'fail' ? 'fail' : 'none',
    target: limits === undefined ? undefined : (limits.nominal ?? (Number.isFinite(limits.low) ? limits.low : limits.high)),
    tick,
    labelEvery: 2,
    label: (value) => (inch ? inchFraction(value, 32).text : String(Number(value.toFixed(2)))),
    half: inch ? 25.4 / 64 : isFigure ? 0.25 : 0,
  });
}
