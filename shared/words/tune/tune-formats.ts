/**
 * How the sentences of Tune write their figures. The window hands in its own, by the chosen units; the plain ones write inner units,
 * for reports without a window and for tests.
 */
export type Formats = {
  readonly o2: (percent: number) => string;
  readonly ppm: (ppm: number) => string;
  readonly temperature: (celsius: number) => string;
  readonly difference: (kelvin: number) => string;
  readonly draft: (pa: number) => string;
  readonly pressure: (pa: number) => string;
  readonly length: (mm: number) => string;
  readonly percent: (value: number) => string;
  readonly points: (value: number) => string;
  /** positions on the user's own scale, counts, minutes: as few digits as they need */
  readonly figure: (value: number) => string;
  readonly smoke: (number: number) => string;
  readonly duration: (seconds: number) => string;
};

const THIN = '\u2009';
const minus = (text: string): string => text.replace('-', '−');
const fixed = (value: number, decimals: number): string => {
  const text = value.toFixed(decimals);
  return minus(Number(text) === 0 ? text.replace('-', '') : text);
};
const withUnit = (value: number, decimals: number, unit: string): string => `${fixed(value, decimals)}${THIN}${unit}`;

/** Vulgar fractions only for smoke: ½, 2½; means of several spots with one decimal. */
function smokeText(number: number): string {
  const whole = Math.floor(number);
  if (number === whole) return String(whole);
  return number - whole === 0.5 ? `${whole === 0 ? '' : whole}½` : number.toFixed(1);
}

export const plainFormats: Formats = {
  o2: (value) => withUnit(value, 1, '%'),
  ppm: (value) => withUnit(value, 0, 'ppm'),
  temperature: (value) => withUnit(value, 0, '°C'),
  difference: (value) => withUnit(value, 0, 'K'),
  draft: (value) => withUnit(value, 1, 'Pa'),
  pressure: (value) => withUnit(value / 100_000, 1, 'bar'),
  length: (value) => withUnit(value, 1, 'mm'),
  percent: (value) => withUnit(value, 0, '%'),
  points: (value) => fixed(value, 1),
  figure: (value) => minus(String(Number(value.toFixed(2)))),
  smoke: smokeText,
  duration: (seconds) => {
    if (seconds < 90) return withUnit(seconds, 0, 's');
    const minutes = Math.round(seconds / 60);
    return minutes < 60 ? `${minutes}${THIN}min` : `${Math.floor(minutes / 60)}${THIN}h ${String(minutes % 60).padStart(2, '0')}${THIN}min`;
  },
};
