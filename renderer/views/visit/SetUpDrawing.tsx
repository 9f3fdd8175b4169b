import type { LengthUnit } from '../../../shared/units/length.ts';
import { formatLength } from '../../../shared/units/length.ts';
import type { SetUpSheet } from '../../../shared/tuning/set-up-sheet.ts';
import { setUpScreen as words } from '../../../shared/words/visit.ts';
import { setUpWords } from '../../../shared/words/tune.ts';
import { lengthsOf, scaleFor } from './drawing-geometry.ts';

const WIDTH = 360;
const HEIGHT = 216;
/** the middle of the nozzle's face */
const FACE = { x: 96, y: 150 };
const FRONT = { x: 306, y: 150 };

/** A generic nozzle, two electrodes and a head, to scale: what was measured moves, what was not is left out. */
export function SetUpDrawing({ sheet, lengthUnit }: { sheet: SetUpSheet; lengthUnit: LengthUnit }) {
  const lengths = lengthsOf(sheet);
  const { gap, height, ahead, toHead, angleDeg } = lengths;
  const known = [gap, height, ahead, toHead].some((one) => one !== undefined);
  const k = scaleFor(lengths);
  const length = (mm: number): string => formatLength(mm, lengthUnit);
  const tip = { x: FACE.x + (ahead ?? 3) * k, y: FACE.y - (height ?? 10) * k };
  const headX = toHead === undefined ? undefined : Math.min(FACE.x + toHead * k, FACE.x + 170);
  const spoken = [
    gap === undefined ? '' : `${setUpWords.electrodeGapMm} ${length(gap)}`,
    height === undefined ? '' : `${setUpWords.heightAboveCentrelineMm} ${length(height)}`,
    ahead === undefined ? '' : `${setUpWords.aheadOfNozzleMm} ${length(ahead)}`,
    toHead === undefined ? '' : `${setUpWords.nozzleToHeadMm} ${length(toHead)}`,
  ].filter((part) => part !== '');
  const coneReach = 74;
  const half = ((angleDeg ?? 0) / 2) * (Math.PI / 180);
  const frontTip = (gap ?? 4) * k * 0.5;
  const frontY = FRONT.y - (height ?? 10) * k;
  return (
    <figure className="drawing">
      <figcaption className="small second">{words.drawing}</figcaption>
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        width="100%"
        role="img"
        aria-label={known ? `${words.drawing}: ${spoken.join(', ')}` : words.drawingEmpty}
      >
        {/* side view: nozzle, centreline, spray, electrode, head */}
        {angleDeg !== undefined && (
          <path
            className="spray"
            d={`M${FACE.x} ${FACE.y}L${FACE.x + coneReach} ${FACE.y - Math.min(90, coneReach * Math.tan(half))}M${FACE.x} ${FACE.y}L${FACE.x + coneReach} ${FACE.y + Math.min(56, coneReach * Math.tan(half))}`}
          />
        )}
        <path className="centreline" d={`M14 ${FACE.y}H${FRONT.x - 62}`} />
        <path className="solid-part" d={`M${FACE.x - 62} ${FACE.y - 17}h34v-5h16l12 10v24l-12 10h-16v-5h-34z`} />
        <path
          className={`electrode${height === undefined ? ' unknown' : ''}`}
          d={`M${tip.x - 78} ${tip.y - 26}L${tip.x - 18} ${tip.y - 12}L${tip.x} ${tip.y}`}
        />
        <path className="porcelain" d={`M${tip.x - 92} ${tip.y - 29}L${tip.x - 46} ${tip.y - 18.5}`} />
        {headX !== undefined && (
          <>
            <path
              className="solid-line"
              d={`M${headX} 24V${FACE.y - 40}M${headX} ${FACE.y + 40}V200M${headX} ${FACE.y - 40}l9 -10M${headX} ${FACE.y + 40}l9 10`}
            />
            <Across x0={FACE.x} x1={headX} y={200} text={length(toHead ?? 0)} />
          </>
        )}
        {height !== undefined && <Upright x={tip.x + 20} y0={FACE.y} y1={tip.y} text={length(height)} />}
        {ahead !== undefined && (
          <>
            <path className="helper" d={`M${tip.x} ${tip.y}V36M${FACE.x} ${FACE.y - 24}V36`} />
            <Across x0={FACE.x} x1={tip.x} y={40} text={length(ahead)} />
          </>
        )}
        {/* front view: the two tips over the nozzle */}
        <circle className="solid-part" cx={FRONT.x} cy={FRONT.y} r="17" />
        <circle className="orifice" cx={FRONT.x} cy={FRONT.y} r="3" />
        <path className="centreline" d={`M${FRONT.x} 62V196`} />
        <path
          className={`electrode${gap === undefined ? ' unknown' : ''}`}
          d={`M${FRONT.x - frontTip} ${frontY}l-22 -16v-18M${FRONT.x + frontTip} ${frontY}l22 -16v-18`}
        />
        {gap !== undefined && <Across x0={FRONT.x - frontTip} x1={FRONT.x + frontTip} y={frontY + 14} text={length(gap)} below />}
        <text x="14" y="16">
          {words.drawingSide}
        </text>
        <text x={FRONT.x} y="16" textAnchor="middle">
          {words.drawingFront}
        </text>
      </svg>
      {!known && <p className="small second">{words.drawingEmpty}</p>}
    </figure>
  );
}

/** A dimension line; short ones get their arrows from outside. */
function Across({ x0, x1, y, text, below = false }: { x0: number; x1: number; y: number; text: string; below?: boolean }) {
  const [left, right] = [Math.min(x0, x1), Math.max(x0, x1)];
  const wide = right - left > 70;
  return (
    <g className="dimension">
      <path d={`M${left} ${y - 5}v10M${right} ${y - 5}v10M${left} ${y}H${right}`} />
      {wide ? (
        <>
          <rect className="fill-ground" x={(left + right) / 2 - 30} y={y - 10} width="60" height="20" />
          <text x={(left + right) / 2} y={y + 5} textAnchor="middle">
            {text}
          </text>
        </>
      ) : below ? (
        <text x={(left + right) / 2} y={y + 20} textAnchor="middle">
          {text}
        </text>
      ) : (
        <text x={right + 7} y={y + 5}>
          {text}
        </text>
      )}
    </g>
  );
}

function Upright({ x, y0, y1, text }: { x: number; y0: number; y1: number; text: string }) {
  return (
    <g className="dimension">
      <path d={`M${x - 5} ${y0}h10M${x - 5} ${y1}h10M${x} ${y0}V${y1}`} />
      <text x={x + 8} y={(y0 + y1) / 2 + 5}>
        {text}
      </text>
    </g>
  );
}
