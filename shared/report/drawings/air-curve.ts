import { ticks } from 'd3-array';
import { antitonicFit } from '../../tuning/isotonic.ts';
import { bracketLeft, bracketRight, linear, n, svg, svgSubscripts } from './svg.ts';

export type PicturePoint = {
  readonly number: number;
  readonly o2: number;
  readonly o2Half: number;
  readonly smoke: number | undefined;
  readonly smokeHalf: number | undefined;
  readonly coPpm: number | undefined;
  readonly settled: boolean;
  readonly asLeft: boolean;
};
export type AirCurvePicture = {
  readonly points: readonly PicturePoint[];
  readonly onset: { readonly o2: number; readonly low: number; readonly high: number } | undefined;
  readonly window: { readonly fromO2: number; readonly toO2: number } | undefined;
  readonly words: { readonly smoke: string; readonly co: string; readonly o2: string; readonly simulated: string | undefined };
  readonly label: string;
};

const LEFT = 62;
const SMOKE = { top: 12, bottom: 76 };
const CO = { top: 100, bottom: 148 };
const FLOOR = 152;
const HEIGHT = 194;

/** Smoke above CO on one O2 axis; onset as a line in its hatched uncertainty, the window as a slot. Open square: trial, solid: as left. */
export function airCurveDrawing({ points, onset, window, words, label }: AirCurvePicture, width = 430): string {
  const right = width - 12;
  const o2s = [...points.map(({ o2 }) => o2), ...(onset ? [onset.low, onset.high] : []), ...(window ? [window.fromO2, window.toO2] : [])];
  const [from, to] = [Math.floor(Math.min(...o2s) - 0.4), Math.ceil(Math.max(...o2s) + 0.4)];
  const x = linear(Math.max(0, from), Math.max(to, from + 2), LEFT, right);
  const smokeTop = Math.max(2, Math.ceil(Math.max(0, ...points.map(({ smoke }) => smoke ?? 0)) * 1.25 + 0.4));
  const coTop = Math.max(50, Math.max(0, ...points.map(({ coPpm }) => coPpm ?? 0)) * 1.1);
  const smokeY = linear(0, smokeTop, SMOKE.bottom, SMOKE.top);
  const coY = linear(0, coTop, CO.bottom, CO.top);
  const smokeTicks = ticks(0, smokeTop, 3).filter((tick) => Number.isInteger(tick));
  const coTicks = ticks(0, coTop, 2);
  const grid = (y: number, text: string): string =>
    `<path class="gl" d="M${LEFT} ${n(y)}H${n(right)}"/><text x="${LEFT - 10}" y="${n(y + 5)}" text-anchor="end">${text}</text>`;
  const parts: string[] = [
    '<defs><pattern id="onset" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="k-3" stroke-width="1.4" d="M0 0V7"/></pattern></defs>',
    window
      ? `<rect class="f-soft" opacity=".6" x="${n(x(window.fromO2))}" y="6" width="${n(Math.max(0, x(window.toO2) - x(window.fromO2)))}" height="${FLOOR - 6}"/>`
      : '',
    onset
      ? `<rect fill="url(#onset)" x="${n(x(onset.low))}" y="6" width="${n(x(onset.high) - x(onset.low))}" height="${SMOKE.bottom}"/>`
      : '',
    ...smokeTicks.map((tick) => grid(smokeY(tick), String(tick))),
    ...coTicks.map((tick) => grid(coY(tick), String(tick))),
    `<path class="ax" d="M${LEFT} ${FLOOR}H${n(right)}"/>`,
    ...ticks(Math.max(0, from), Math.max(to, from + 2), 7).map(
      (tick) =>
        `<path class="ax" d="M${n(x(tick))} ${FLOOR}v6"/><text x="${n(x(tick))}" y="${FLOOR + 21}" text-anchor="middle">${tick}</text>`,
    ),
    `<text x="${n(right)}" y="${HEIGHT - 5}" text-anchor="end">${svgSubscripts(words.o2)}</text>`,
    `<text transform="translate(10 ${n((SMOKE.top + SMOKE.bottom) / 2)}) rotate(-90)" text-anchor="middle" class="f-ink">${words.smoke}</text>`,
    `<text transform="translate(10 ${n((CO.top + CO.bottom) / 2)}) rotate(-90)" text-anchor="middle" class="f-co">${words.co}</text>`,
    smokeLine(points, x, smokeY),
    coLine(points, x, coY),
    onset ? `<path class="k-ink" stroke-width="2" d="M${n(x(onset.o2))} 6V${FLOOR}"/>` : '',
    window
      ? `<path class="k-acc" stroke-width="4" d="${bracketLeft(x(window.fromO2), 8, FLOOR, 9)}${bracketRight(x(window.toO2), 8, FLOOR, 9)}"/>`
      : '',
    ...points.map((point) => pointDrawing(point, x, smokeY, coY)),
    words.simulated === undefined ? '' : `<text x="${LEFT}" y="${HEIGHT - 5}" class="f-3">${words.simulated}</text>`,
  ];
  return svg(width, HEIGHT, label, parts.join(''));
}

/** Along the non-increasing fit, straight from trial to trial: nothing is known in between but that smoke falls. */
function smokeLine(points: readonly PicturePoint[], x: (o2: number) => number, y: (smoke: number) => number): string {
  const usable = points.filter((point) => point.smoke !== undefined && point.settled).sort((a, b) => a.o2 - b.o2);
  if (usable.length < 2) return '';
  const fit = antitonicFit(usable.map(({ smoke }) => smoke ?? 0));
  return `<path class="k-ink" stroke-width="2.5" d="M${usable.map(({ o2 }, index) => `${n(x(o2))} ${n(y(fit[index] ?? 0))}`).join('L')}"/>`;
}

function coLine(points: readonly PicturePoint[], x: (o2: number) => number, y: (ppm: number) => number): string {
  const usable = points.filter((point) => point.coPpm !== undefined && point.settled).sort((a, b) => a.o2 - b.o2);
  if (usable.length < 2) return '';
  return `<path class="k-co" stroke-width="2.5" stroke-dasharray="9 5" d="M${usable.map(({ o2, coPpm }) => `${n(x(o2))} ${n(y(Math.max(0, coPpm ?? 0)))}`).join('L')}"/>`;
}

function pointDrawing(
  point: PicturePoint,
  x: (o2: number) => number,
  smokeY: (smoke: number) => number,
  coY: (ppm: number) => number,
): string {
  const at = x(point.o2);
  const box = (y: number): string =>
    `<path class="k-ink" stroke-width="1.5" d="M${n(x(point.o2 - point.o2Half))} ${n(y)}H${n(x(point.o2 + point.o2Half))}"/>` +
    `<rect class="${point.asLeft ? 'f-ink' : 'f-paper'} k-ink" stroke-width="2.5"${point.settled ? '' : ' stroke-dasharray="3 2"'} x="${n(at - 6)}" y="${n(y - 6)}" width="12" height="12"/>`;
  const parts: string[] = [];
  if (point.smoke !== undefined) {
    const half = point.smokeHalf ?? 0;
    const y = smokeY(point.smoke);
    parts.push(
      `<path class="k-ink" stroke-width="1.5" d="M${n(at)} ${n(smokeY(point.smoke + half))}V${n(smokeY(Math.max(0, point.smoke - half)))}"/>`,
      box(y),
    );
    parts.push(`<text class="f-ink b" x="${n(at)}" y="${n(Math.max(12, y - 13))}" text-anchor="middle">${point.number}</text>`);
  }
  if (point.coPpm !== undefined) {
    const y = coY(Math.max(0, point.coPpm));
    parts.push(box(y));
    if (point.smoke === undefined)
      parts.push(`<text class="f-ink b" x="${n(at)}" y="${n(y - 13)}" text-anchor="middle">${point.number}</text>`);
  }
  return parts.join('');
}
