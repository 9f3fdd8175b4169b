import { frontView, sideView, type Dimension, type DrawnFigures } from '../../../../shared/geometry/drawing/drawing.ts';
import { limitsOf } from '../../../../shared/geometry/figures-card.ts';
import { figuresFor } from '../../../../shared/geometry/figures-for.ts';
import { lengthItems, type GeometryItem } from '../../../../shared/geometry/items.ts';
import { kindItem, typedOn, type ErrorKind, type TaughtBurner } from '../../../../shared/geometry/look-and-tell.ts';
import { numberPlate, withPlates } from '../../../../shared/geometry/drawing/number-plate.ts';
import { pictureOf } from '../../../../shared/geometry/drawing/picture.ts';
import { GeometryPicture } from '../../../../shared/report/drawings/GeometryPicture.tsx';
import { leadWords } from '../../../../shared/words/geometry/lead.ts';
import { lookAndTell as words } from '../../../../shared/words/geometry/look-and-tell.ts';
import { Rule, type RulePlace } from './Rule.tsx';
import './LookAndTell.css';
import '../geometry.css';

/** Drawing units per mm: the whole drawing has one factor. */
const SIZE = 4;
const GAP = 36;
/** the crack stays in sight */
const PLATE_ABOVE_MM = 9;

/** Which figures the answers are about, with their numbers in the list. */
const itemNumbers = (list: readonly ErrorKind[]): [GeometryItem, number][] =>
  list.flatMap((kind, index) => (kind === 'porcelain' || kind === 'nozzle' ? [] : [[kindItem[kind], index + 1]]));

/** Is any bracket drawn for these answers? A gap and a distance to metal have none. */
export function hasBrackets(burner: TaughtBurner, list: readonly ErrorKind[]): boolean {
  const figures = drawnOf(burner, { withSlots: true, setRight: false });
  const items = itemNumbers(list).map(([item]) => item);
  return [sideView(figures, { metal: true }), frontView(figures)].some(({ slots }) => slots.some(({ item }) => items.includes(item)));
}

function drawnOf(burner: TaughtBurner, { withSlots, setRight }: { withSlots: boolean; setRight: boolean }): DrawnFigures {
  const found = figuresFor(burner.card, burner.burner);
  const figures = lengthItems.flatMap((item) => {
    const one = found[item];
    const limits = one.state === 'given' ? limitsOf(item, one.figure, burner.card.lengthUnit) : undefined;
    const value = burner.figures[item];
    if (value === undefined || limits === undefined) return [];
    const isIn = value >= limits.low - 1e-6 && value <= limits.high + 1e-6;
    const nearest = Number.isFinite(limits.low) ? limits.low : 0;
    const mm = setRight && !isIn ? (limits.nominal ?? (value > limits.high ? 0 : nearest)) : value;
    return [[item, { mm, source: 'measured' as const, ...(withSlots ? { slot: limits } : {}) }] as const];
  });
  return { ...Object.fromEntries(figures), porcelainCracked: burner.porcelainCracked && !setRight };
}

export function Drawing({
  burner,
  list,
  told,
  setRight,
  rule,
}: {
  burner: TaughtBurner;
  list: readonly ErrorKind[];
  told: boolean;
  setRight: boolean;
  rule: { place: RulePlace; move: (place: RulePlace) => void } | undefined;
}) {
  const figures = drawnOf(burner, { withSlots: told, setRight });
  const side = sideView(figures, { metal: true });
  const front = frontView(figures);
  const numbers = new Map<GeometryItem, number>();
  for (const [item, number] of itemNumbers(list)) numbers.set(item, number);
  const marked = [...numbers.keys()];
  const figure = ({ item }: Dimension): string => {
    const value = figures[item]?.mm;
    return value === undefined ? '' : typedOn(item, value, burner.card.lengthUnit);
  };
  const options = {
    size: SIZE,
    figure,
    cardWord: leadWords.card,
    marked,
    dimensions: told ? ('strong' as const) : ('none' as const),
    slots: told && marked.length > 0 ? ('strong' as const) : ('none' as const),
    text: { plain: 15, strong: 20 },
  };
  // what has no length is numbered at its part
  const partPlates = (['porcelain', 'nozzle'] as const).flatMap((part) => {
    const at = list.indexOf(part);
    const shape = at < 0 ? undefined : side.shapes.find((one) => one.part === part);
    if (shape?.kind !== 'line') return [];
    const middle = (which: 0 | 1): number => shape.points.reduce((sum, point) => sum + point[which], 0) / shape.points.length;
    const above = part === 'porcelain' ? PLATE_ABOVE_MM : 0;
    return numberPlate(at + 1, (middle(0) - side.box.left) * SIZE, (side.box.top - middle(1) - above) * SIZE);
  });
  const plain = pictureOf(side, options);
  const left = withPlates({ ...plain, marks: [...plain.marks, ...partPlates] }, numbers);
  const right = withPlates(pictureOf(front, options), numbers);
  const height = Math.max(left.height, right.height);
  const width = left.width + GAP + right.width;
  return (
    <svg className="look-drawing" viewBox={`0 -24 ${width} ${height + 24}`} role="img" aria-label={words.drawing}>
      <text x={2} y={-8} className="g-caption">
        {words.side}
      </text>
      <text x={left.width + GAP} y={-8} className="g-caption">
        {words.front}
      </text>
      <GeometryPicture picture={left} />
      <g transform={`translate(${left.width + GAP} ${(front.box.top - side.box.top) * -SIZE + 0})`}>
        <GeometryPicture picture={right} />
      </g>
      {rule !== undefined && <Rule place={rule.place} move={rule.move} size={SIZE} unit={burner.card.lengthUnit} />}
    </svg>
  );
}
