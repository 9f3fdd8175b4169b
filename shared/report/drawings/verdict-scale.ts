import type { CardVerdict } from '../../tuning/target-card.ts';
import { bracketLeft, bracketRight, linear, n, svg } from './svg.ts';

/** Numbers in any one unit. `floor`: a quantity that can not be below it (CO, smoke) starts its scale there. */
export type ScalePicture = {
  readonly value: number;
  readonly expanded: number | undefined;
  readonly low: number | undefined;
  readonly high: number | undefined;
  readonly floor: number | undefined;
  readonly verdict: CardVerdict;
  readonly label: string;
};

const WIDTH = 144;
const HEIGHT = 30;
const LEFT = 8;
const RIGHT = 136;
const MIDDLE = HEIGHT / 2;

/** The stretch that is shown: the limits and half their width on each side; one limit alone sits at about two thirds. */
export function scaleSpan({ value, expanded = 0, low, high, floor }: ScalePicture): [low: number, high: number] {
  if (low !== undefined && high !== undefined) {
    const half = (high - low) / 2 || Math.max(Math.abs(high) * 0.1, 2 * expanded, 1e-6);
    return [low - half, high + half];
  }
  const limit = high ?? low ?? 0;
  if (high !== undefined && floor !== undefined && limit > floor) return [floor, floor + (limit - floor) * 1.4];
  const reach = Math.max(4 * expanded, Math.min(1.2 * Math.abs(value - limit), 0.3 * Math.abs(limit)), 0.02 * Math.abs(limit), 1e-6);
  return [limit - reach, limit + reach];
}

/**
 * A value with its uncertainty against its limits: the slot and the pin. The shape tells the verdict without colour: a solid bar passes, a
 * half-filled one is too close to call, a cross fails.
 */
export function verdictScale(picture: ScalePicture): string {
  const [from, to] = scaleSpan(picture);
  const scale = linear(from, to, LEFT, RIGHT);
  const inside = (x: number): number => Math.min(RIGHT, Math.max(LEFT, x));
  const { value, expanded, low, high, verdict, label } = picture;
  const x = inside(scale(value));
  const slot: [number, number] = [low === undefined ? LEFT : scale(low), high === undefined ? RIGHT : scale(high)];
  const ink = { pass: 'acc', fail: 'al', 'too-close': 'not', 'not-known': 'edge' }[verdict];
  const parts = [
    `<path class="k-edge" d="M${LEFT} ${MIDDLE}H${RIGHT}"/>`,
    verdict === 'pass' ? `<rect class="f-soft" x="${n(slot[0])}" y="3" width="${n(slot[1] - slot[0])}" height="${HEIGHT - 6}"/>` : '',
    verdict === 'pass' ? `<path class="k-edge" d="M${n(slot[0])} ${MIDDLE}H${n(slot[1])}"/>` : '',
    low === undefined ? '' : `<path class="k-ink" stroke-width="3" d="${bracketLeft(scale(low), 2, HEIGHT - 2, 7)}"/>`,
    high === undefined ? '' : `<path class="k-ink" stroke-width="3" d="${bracketRight(scale(high), 2, HEIGHT - 2, 7)}"/>`,
  ];
  if (expanded !== undefined && expanded > 0) {
    const [a, b] = [inside(scale(value - expanded)), inside(scale(value + expanded))];
    parts.push(
      `<path class="k-${ink}" stroke-width="2.5" d="M${n(a)} ${MIDDLE}H${n(b)}M${n(a)} ${MIDDLE - 6}v12M${n(b)} ${MIDDLE - 6}v12"/>`,
    );
  }
  if (verdict === 'fail') {
    parts.push(`<path class="k-al" stroke-width="4" d="M${n(x - 7)} ${MIDDLE - 7}l14 14M${n(x + 7)} ${MIDDLE - 7}l-14 14"/>`);
  } else if (verdict === 'too-close') {
    parts.push(
      `<rect class="f-paper k-not" stroke-width="3" x="${n(x - 5)}" y="5" width="10" height="${HEIGHT - 10}"/><path class="f-not" d="M${n(x - 5)} ${MIDDLE}h10v10h-10z"/>`,
    );
  } else if (verdict === 'pass') parts.push(`<rect class="f-acc" x="${n(x - 5)}" y="4" width="10" height="${HEIGHT - 8}"/>`);
  else parts.push(`<rect class="f-paper k-edge" stroke-width="2.5" x="${n(x - 5)}" y="5" width="10" height="${HEIGHT - 10}"/>`);
  return svg(WIDTH, HEIGHT, label, parts.join(''));
}
