/** The tokens as the canvas needs them: read from the page, again after the theme was turned. */
const names = {
  ground: '--ground',
  ink: '--ink',
  second: '--ink-2',
  third: '--ink-3',
  hairline: '--hairline',
  edge: '--edge',
  accent: '--accent',
  accentSoft: '--accent-soft',
  alarm: '--alarm',
  o2: '--ch-o2',
  co: '--ch-co',
  stackTemperature: '--ch-stack',
  airTemperature: '--ch-air',
  fifth: '--ch-5',
  sixth: '--ch-6',
  font: '--font',
} as const;

export type ChartColors = Record<keyof typeof names, string>;

export function readColors(element: HTMLElement): ChartColors {
  const style = getComputedStyle(element);
  return Object.fromEntries(Object.entries(names).map(([key, name]) => [key, style.getPropertyValue(name).trim()])) as ChartColors;
}
