/** The little that the drawings share. Pure text: no document, no measuring of letters. */
export const escapeText = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;').replaceAll("'", '&#39;');

/** A coordinate: two decimals, so that files stay small and equal input gives equal text. */
export const n = (value: number): string => String(Number(value.toFixed(2)));

/** The font has no subscript digits: O2 and CO2 are set with a lowered, smaller 2. */
const formulas = /\b(C?O)2\b/g;
export const withSubscripts = (text: string): string => escapeText(text).replace(formulas, '$1<sub>2</sub>');
export const svgSubscripts = (text: string): string =>
  escapeText(text).replace(formulas, '$1<tspan dy="2.5" font-size="75%">2</tspan><tspan dy="-2.5">\u200b</tspan>');

/** `label` is what is read out instead of the picture; without one it only repeats the words beside it. */
export const svg = (width: number, height: number, label: string, content: string, className = ''): string =>
  `<svg ${label === '' ? 'aria-hidden="true"' : `role="img" aria-label="${escapeText(label)}"`}${className === '' ? '' : ` class="${className}"`} width="${n(width)}" height="${n(height)}" viewBox="0 0 ${n(width)} ${n(height)}">${content}</svg>`;

export type Scale = (value: number) => number;
export const linear =
  (fromLow: number, fromHigh: number, toLow: number, toHigh: number): Scale =>
  (value) =>
    fromHigh === fromLow ? (toLow + toHigh) / 2 : toLow + ((value - fromLow) / (fromHigh - fromLow)) * (toHigh - toLow);

export const bracketLeft = (x: number, top: number, bottom: number, arm: number): string =>
  `M${n(x + arm)} ${n(top)}H${n(x)}V${n(bottom)}H${n(x + arm)}`;
export const bracketRight = (x: number, top: number, bottom: number, arm: number): string =>
  `M${n(x - arm)} ${n(top)}H${n(x)}V${n(bottom)}H${n(x - arm)}`;
