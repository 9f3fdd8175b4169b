import { safetyScreen as words } from '../../../../shared/words/visit/screens/safety.ts';
import '../visit.css';
import './safety.css';

const size = { width: 792, left: 20, right: 772, line: 62 } as const;

/** Time as a bar between zero and the rated time, which is the right bracket; beyond it the bar is hatched. */
export function TimeScale({ seconds, rated }: { seconds: number; rated: number | undefined }) {
  const end = niceEnd(Math.max(rated === undefined ? 20 : rated * 1.34, seconds * 1.05));
  const x = (at: number): number => size.left + (Math.min(at, end) / end) * (size.right - size.left);
  const step = end / 4;
  const inside = rated === undefined ? seconds : Math.min(seconds, rated);
  const isOver = rated !== undefined && seconds > rated;
  const ratedX = rated === undefined ? undefined : x(rated);
  const labelLeft = ratedX !== undefined && ratedX > size.right - 130;
  return (
    <svg className="time-scale drawn" viewBox={`0 8 ${size.width} 90`} width="100%" aria-hidden="true">
      <defs>
        <pattern id="over-hatch" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path className="stroke-alarm" strokeWidth="3.5" d="M0 0V8" />
        </pattern>
      </defs>
      {Array.from({ length: 21 }, (_, at) => (
        <path key={at} className="axis" d={`M${x((end * at) / 20)} ${size.line}v${at % 5 === 0 ? 10 : 5}`} />
      ))}
      {[0, 1, 2, 3, 4].map((at) => (
        <text key={at} x={x(step * at)} y="92" textAnchor="middle">
          {`${Number((step * at).toFixed(1))} s`}
        </text>
      ))}
      <path className="axis" d={`M${size.left} ${size.line}H${size.right}`} />
      <path className="stroke-ink" strokeWidth="5" d={`M32 18H20V62h12`} />
      {ratedX !== undefined && <path className="stroke-ink" strokeWidth="5" d={`M${ratedX - 12} 18H${ratedX}V62h-12`} />}
      <rect className="fill-accent" x="25" y="28" width={Math.max(0, x(inside) - 25)} height="24" />
      {isOver && ratedX !== undefined && (
        <rect
          fill="url(#over-hatch)"
          stroke="var(--alarm)"
          strokeWidth="2"
          x={ratedX + 4}
          y="28"
          width={Math.max(0, x(seconds) - ratedX - 4)}
          height="24"
        />
      )}
      {seconds > 0 && <path className="stroke-ink" strokeWidth="4" d={`M${x(seconds)} 20V60`} />}
      {ratedX !== undefined && !isOver && (
        <>
          <text
            className="fill-ink strong"
            x={labelLeft ? ratedX - 18 : ratedX + 12}
            y="34"
            fontSize="17"
            textAnchor={labelLeft ? 'end' : 'start'}
          >
            {words.rated(String(rated))}
          </text>
          <text x={labelLeft ? ratedX - 18 : ratedX + 12} y="54" textAnchor={labelLeft ? 'end' : 'start'}>
            {words.onControl}
          </text>
        </>
      )}
      {isOver && ratedX !== undefined && (
        <text className="fill-alarm strong" x={Math.min(x(seconds) + 12, size.right - 40)} y="20" fontSize="17">
          {words.over}
        </text>
      )}
    </svg>
  );
}

const niceEnd = (least: number): number =>
  [20, 40, 60, 80, 100, 120, 200, 300, 400, 600].find((end) => end >= least) ?? Math.ceil(least / 400) * 400;
