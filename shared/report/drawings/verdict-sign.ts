import type { VerdictShape } from '../report-model.ts';
import { svg } from './svg.ts';

const shapes: Readonly<Record<VerdictShape, string>> = {
  pass: '<path class="k-acc" stroke-width="3" d="M8 4H3V22H8M18 4H23V22H18"/><rect class="f-acc" x="8.5" y="6" width="9" height="14"/>',
  fail: '<path class="k-al" stroke-width="4" d="M5 5L21 21M21 5L5 21"/>',
  'too-close':
    '<path class="k-not" stroke-width="3" d="M8 4H3V22H8"/><rect class="k-not" stroke-width="3" x="12" y="5" width="10" height="16"/><path class="f-not" d="M12 13h10v8H12z"/>',
  'not-known': '<path class="k-edge" stroke-width="3" d="M8 4H3V22H8M18 4H23V22H18"/>',
  alarm: '<path class="f-al" d="M8 2H18L24 8V18L18 24H8L2 18V8Z"/><path class="k-paper" stroke-width="3" d="M13 7V14M13 17V20"/>',
};

/** The small shape of a verdict: bar in brackets, cross, half-filled bar, empty brackets; the eight-cornered plate is an alarm. */
export const verdictSign = (shape: VerdictShape, word: string, size = 26): string =>
  svg(26, 26, word, shapes[shape]).replace('width="26" height="26"', `width="${size}" height="${size}"`);
